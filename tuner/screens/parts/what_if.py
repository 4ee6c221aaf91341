"""What if: the proposed strip under the hand, with its forecast moving along; kept as a program of one's own, or left."""

from __future__ import annotations

import streamlit as st

from tuner import services
from tuner.domain import Program
from tuner.domain.plausibility import questions_about_program
from tuner.screens import state
from tuner.screens.door import error_door, show_problems
from tuner.screens.loading import workspace
from tuner.screens.marks.words import lines
from tuner.screens.parts.deciding import decide
from tuner.screens.parts.forecast import show_forecast
from tuner.screens.strip_edit import strip_edit
from tuner.screens.who import actor
from tuner.services import DevelopmentView, ProposalRecord


@st.fragment
def show_what_if(view: DevelopmentView, record: ProposalRecord) -> None:
    """The editor and the forecast below it; only this part of the page is drawn again while the hand moves."""
    with error_door():
        proposed = record.proposal
        program = strip_edit(proposed.program, view.oven, key=f"strip-{record.id}", token=record.id)
        left, right = st.columns([1.7, 1], gap="large")
        with left:
            st.subheader("What it should do")
            forecast = services.what_if(workspace(), actor(), development_id=view.id, program=program)
            show_forecast(view, forecast, before=proposed.forecast)
        with right:
            st.subheader("Your own program")
            _keep(record, program)


def _keep(record: ProposalRecord, program: Program) -> None:
    asked = [("unknown", question.text) for question in questions_about_program(program)]
    st.html(lines([("", "Dashed is the proposal."), ("", "It is kept as yours, with the forecast it has now."), *asked]))
    reason = st.text_input("Why this one?", key=f"own-reason-{record.id}", max_chars=300)
    with st.container(horizontal=True):
        if st.button("Cook this instead", type="primary", key=f"own-{record.id}"):
            if program == record.proposal.program:
                show_problems(("Nothing was changed. Pull a number or a ring first, or take it as proposed.",))
            elif not reason:
                show_problems(("The reason is missing. A program of one's own is kept with its reason. Write one.",))
            else:
                decide(record, "change", reason, program)
        if st.button("As proposed", key=f"back-{record.id}"):
            state.stop_changing(record.id)
            st.rerun()
