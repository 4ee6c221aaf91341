"""The first day's plan: spread cooks before anything is known, taken one by one or all together."""

from __future__ import annotations

import streamlit as st

from tuner import services
from tuner.screens import state
from tuner.screens.door import error_door
from tuner.screens.loading import workspace
from tuner.screens.marks.strip import large_strip
from tuner.screens.marks.windows import chances
from tuner.screens.marks.words import counted, sentences
from tuner.screens.parts.deciding import decide_buttons
from tuner.screens.parts.rows import searched
from tuner.screens.parts.what_if import show_what_if
from tuner.screens.who import actor
from tuner.services import DevelopmentView, ProposalRecord

COOKS = 6
"""Cooks of a first day's plan."""


def offer_first_day(view: DevelopmentView) -> None:
    """Before the first cook: a button that plans the day."""
    planned = any(record.kind == "first_day" for record in view.proposals)
    if searched(view) or planned or view.pending_proposals:
        return
    st.text(f"No cook yet. Begin with the first guess below, or plan a first day of {COOKS} spread cooks.")
    if st.button(f"Plan a first day of {COOKS} cooks", key="first-day"):
        with st.spinner("Spreading the first cooks …"), error_door():
            services.first_day_plan(workspace(), actor(), development_id=view.id, count=COOKS)
            st.rerun()


def _take_all(records: list[ProposalRecord]) -> None:
    with error_door():
        for record in records:
            services.decide_proposal(
                workspace(),
                actor(),
                proposal_id=record.id,
                decision="accept",
                reason="taken with the first day's plan",
                client_id=state.draft_id(f"decide-{record.id}-accept"),
            )
        state.say_next(f"{counted(len(records), 'cook')} taken. Log each here once it is cooked.")
        st.rerun()


def show_first_day(view: DevelopmentView, records: list[ProposalRecord]) -> None:
    """One block for each cook of the plan that waits for a decision."""
    st.header(f"First day: {counted(len(records), 'cook')} to take")
    if st.button("Take them all", type="primary", key="take-all"):
        _take_all(records)
    for record in records:
        st.subheader(f"Cook sheet {record.number}")
        if state.is_changing(record.id):
            show_what_if(view, record)
            continue
        st.html(large_strip(record.proposal.program))
        left, right = st.columns([1.7, 1], gap="large")
        with left:
            forecast = record.proposal.forecast
            st.html(chances(forecast.chance_all_inside, forecast.chance_safe))
            st.html(sentences(record.proposal.reasons))
        with right:
            decide_buttons(record, first=False)
