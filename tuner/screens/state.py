"""Everything the screens remember of a session, in one place.

Only what may be lost without harm: who sits at the desk, which development was looked at last, ids of drafts. What is worth
keeping goes to the store on entry. A draft's id is made once, so that a button pressed twice saves once.
"""

from __future__ import annotations

import uuid
from typing import Any

import streamlit as st

NAME = "desk_name"
"""Widget key of the name of the person at the desk."""

_LAST = "last_development"
_DRAFTS = "drafts"
_SAID = "said"
_CHANGING = "changing"


def begin(key: str, value: object) -> None:
    """What a field begins with, once: a beginning that moves with the clock must not empty the field again."""
    st.session_state.setdefault(key, value)


def entered(key: str) -> Any:
    """What a field holds that is drawn further down the page, or was drawn before; None where nothing."""
    return st.session_state.get(key)


def last_development() -> str | None:
    """Id of the development looked at last in this session."""
    found: str | None = st.session_state.get(_LAST)
    return found


def remember_development(development_id: str) -> None:
    """Keep which development is looked at, for pages opened from the menu."""
    st.session_state[_LAST] = development_id


def draft_id(draft: str) -> str:
    """Id of the entry being made under the name `draft`; the same until the draft is done."""
    drafts = st.session_state.setdefault(_DRAFTS, {})
    return str(drafts.setdefault(draft, str(uuid.uuid4())))


def draft_done(draft: str) -> None:
    """The entry was saved: the next one under this name is another."""
    st.session_state.setdefault(_DRAFTS, {}).pop(draft, None)


def say_next(words: str) -> None:
    """Words to show once on the page that is drawn next."""
    st.session_state[_SAID] = words


def said() -> str | None:
    """Words left by the page before, once."""
    words: str | None = st.session_state.pop(_SAID, None)
    return words


def start_changing(proposal_id: str) -> None:
    """Take the strip of a proposal in hand."""
    st.session_state.setdefault(_CHANGING, set()).add(proposal_id)


def stop_changing(proposal_id: str) -> None:
    """Let the strip go."""
    st.session_state.setdefault(_CHANGING, set()).discard(proposal_id)


def is_changing(proposal_id: str) -> bool:
    """Whether this proposal's strip is in hand."""
    return proposal_id in st.session_state.get(_CHANGING, set())
