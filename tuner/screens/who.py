"""Who is at the desk: a name, nothing more; kept in the session and, on this device, in a cookie of our own."""

from __future__ import annotations

import getpass
import os
from functools import cache
from typing import Any
from urllib.parse import unquote

import streamlit as st

from tuner.screens import state
from tuner.services import Actor

_COOKIE = "tuner_name"
_JS = """
export default function ({ data }) {
  document.cookie = `${data.cookie}=${encodeURIComponent(data.name)}; path=/; max-age=31536000; SameSite=Lax`;
}
"""


@cache
def _keeper() -> Any:
    """A component without looks that keeps the name on this device."""
    return st.components.v2.component("tuner_name_keeper", html="<span hidden></span>", js=_JS)


def _usual_name() -> str:
    """Name to begin with: this device's, else `$TUNER_ACTOR`, else the system's user."""
    kept = st.context.cookies.get(_COOKIE)
    if isinstance(kept, str) and unquote(kept).strip():
        return unquote(kept).strip()[:100]
    if named := os.environ.get("TUNER_ACTOR", "").strip():
        return named
    try:
        return getpass.getuser()
    except (KeyError, OSError):
        return "desk"


def actor() -> Actor:
    """The person all writes of this session are made by."""
    name = str(state.entered(state.NAME) or "").strip()
    return Actor(name or _usual_name())


def desk_field() -> None:
    """The field for the name, at the foot of the menu."""
    state.begin(state.NAME, _usual_name())
    name = st.text_input("Who is at the desk?", key=state.NAME, max_chars=100, persist_state="session")
    if name and name.strip():
        _keeper()(key="name_keeper", data={"cookie": _COOKIE, "name": name.strip()})
