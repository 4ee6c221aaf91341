"""Closing, archiving, reopening and copying a development, each with a reason."""

from __future__ import annotations

import streamlit as st

from tuner import services
from tuner.screens import state
from tuner.screens.door import error_door, show_problems
from tuner.screens.loading import workspace
from tuner.screens.pages import go
from tuner.screens.who import actor
from tuner.services import DevelopmentView

_WORDS = {"close": ("Close", "closed"), "archive": ("Archive", "archived"), "reopen": ("Reopen", "open again")}
_POSSIBLE = {"open": ("close", "archive"), "closed": ("reopen", "archive"), "archived": ("reopen",)}


def _change(view: DevelopmentView, change: str, reason: str) -> None:
    acts = {
        "close": services.close_development,
        "archive": services.archive_development,
        "reopen": services.reopen_development,
    }
    acts[change](workspace(), actor(), development_id=view.id, reason=reason)


def show_state_change(view: DevelopmentView) -> None:
    """A reason, and one button for each change that is possible now; a copy starts a new development."""
    reason = st.text_input("Reason for closing, archiving or reopening", key=f"state-reason-{view.id}", max_chars=300)
    with st.container(horizontal=True):
        for change in _POSSIBLE[view.state]:
            label, done = _WORDS[change]
            if st.button(label, key=f"{change}-{view.id}"):
                if not reason:
                    show_problems((f"A reason is missing. {label} is kept with its reason for ever. Write one.",))
                    continue
                with error_door():
                    _change(view, change, reason)
                    state.say_next(f"{view.dish} is {done}.")
                    st.rerun()
        if st.button("Copy as a new development", key=f"copy-{view.id}"):
            with error_door():
                made = services.copy_development(workspace(), actor(), development_id=view.id)
                state.say_next("Copied. Change the brief of the copy here.")
                go("brief", development=made.id)
