"""Taking, changing or refusing a proposal."""

from __future__ import annotations

from typing import Literal

import streamlit as st

from tuner import services
from tuner.domain import Program
from tuner.screens import state
from tuner.screens.door import error_door, show_problems
from tuner.screens.loading import workspace
from tuner.screens.pages import go
from tuner.screens.who import actor
from tuner.services import ProposalRecord

_SAID = {
    "accept": "Taken. Log it here once it is cooked.",
    "change": "Kept as your own program, with the forecast it had. Log it here once it is cooked.",
    "refuse": "Refused. This program will not be proposed again.",
}


def decide(
    record: ProposalRecord, decision: Literal["accept", "change", "refuse"], reason: str, program: Program | None = None
) -> None:
    """Keep a decision, then turn to the log (taken, changed) or draw the page anew (refused)."""
    draft = f"decide-{record.id}-{decision}"
    with error_door():
        services.decide_proposal(
            workspace(),
            actor(),
            proposal_id=record.id,
            decision=decision,
            program=program,
            reason=reason,
            client_id=state.draft_id(draft),
        )
        state.draft_done(draft)
        state.stop_changing(record.id)
        state.say_next(_SAID[decision])
        if decision == "refuse":
            st.rerun()
        go("log", development=state.last_development(), proposal=record.id)


def decide_buttons(record: ProposalRecord, *, first: bool = True) -> None:
    """*Cook this*, *Change it*, and a refusal that needs its reason; `first` where taking it is the page's main act."""
    with st.container(horizontal=True):
        if st.button("Cook this", type="primary" if first else "secondary", key=f"take-{record.id}"):
            decide(record, "accept", "taken as proposed")
        if st.button("Change it", key=f"change-{record.id}"):
            state.start_changing(record.id)
            st.rerun()
    with st.expander("Refuse it", key=f"refusal-{record.id}"):
        reason = st.text_input("Why not?", key=f"refuse-reason-{record.id}", max_chars=300)
        if st.button("Refuse", key=f"refuse-{record.id}"):
            if reason:
                decide(record, "refuse", reason)
            else:
                show_problems(("The reason is missing. A refusal is kept with its reason. Write one.",))
