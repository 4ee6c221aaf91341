"""Next cook: what to cook, why, what it should do; taken, changed under the hand, or refused with a reason."""

from __future__ import annotations

import streamlit as st

from tuner import services
from tuner.domain import NoLegalProgram
from tuner.screens import state
from tuner.screens.choosing import chosen_development, development_head
from tuner.screens.door import show_problems
from tuner.screens.loading import workspace
from tuner.screens.marks.progress import progress
from tuner.screens.marks.strip import large_strip, strip
from tuner.screens.marks.verdict import caution_lines
from tuner.screens.marks.words import PURPOSE, counted, sentences
from tuner.screens.pages import link
from tuner.screens.parts.deciding import decide_buttons
from tuner.screens.parts.forecast import show_forecast
from tuner.screens.parts.rows import progress_columns, searched
from tuner.screens.parts.what_if import show_what_if
from tuner.screens.who import actor
from tuner.services import DevelopmentView, ProposalRecord

FIRST_DAY = 6
"""Cooks of a first day's plan."""


def _waiting(view: DevelopmentView) -> None:
    """What was taken and is not cooked yet."""
    if not view.pending_proposals:
        return
    st.subheader(f"Taken, waiting to be cooked: {counted(len(view.pending_proposals), 'program')}")
    for record in view.pending_proposals:
        with st.container(horizontal=True, vertical_alignment="center", key=f"waiting-{record.id}"):
            st.html(strip(record.program))
            link("log", "Log this cook", development=view.id, proposal=record.id)


def _first_day(view: DevelopmentView) -> None:
    if searched(view) or view.proposals:
        return
    st.text(f"No cook yet. Begin with the first guess below, or plan a first day of {FIRST_DAY} spread cooks.")
    if st.button(f"Plan a first day of {FIRST_DAY} cooks", key="first-day"):
        with st.spinner("Spreading the first cooks …"):
            services.first_day_plan(workspace(), actor(), development_id=view.id, count=FIRST_DAY)
        st.rerun()


def _last_program(view: DevelopmentView) -> None:
    cooks = [record for record in searched(view) if record.cook.done_program]
    if cooks and cooks[-1].cook.done_program:
        st.html(
            f'<div class="tk tk-small">cook {cooks[-1].number}, for comparison</div>'
            + strip(cooks[-1].cook.done_program, height_px=28)
        )


def _one(view: DevelopmentView, record: ProposalRecord) -> None:
    number = len({cook.number for cook in view.cooks}) + len(view.pending_proposals) + 1
    kind = PURPOSE[record.proposal.purpose]
    st.subheader(f"First day, cook sheet {record.number}" if record.kind == "first_day" else f"Cook {number}: {kind}")
    if state.is_changing(record.id):
        show_what_if(view, record)
        return
    longest = view.brief.targets.duration_s
    st.html(large_strip(record.proposal.program, at_most_s=longest.high if longest else None))
    _last_program(view)
    left, right = st.columns([1.7, 1], gap="large")
    with left:
        st.subheader("What it should do")
        show_forecast(view, record.proposal.forecast)
    with right:
        st.subheader("Why")
        st.html(sentences(record.proposal.reasons))
        decide_buttons(record)


def _proposals(view: DevelopmentView) -> tuple[ProposalRecord, ...]:
    if view.open_proposals:
        return view.open_proposals
    with st.spinner("Working out the next cook …"):
        return services.next_proposals(workspace(), actor(), development_id=view.id)


def show() -> None:
    """Draw the page."""
    view = chosen_development("Next cook")
    if view is None:
        return
    development_head(view, "next_cook")
    if view.state != "open":
        st.text(f"This development is {view.state}: nothing is proposed. Reopen it on its own page.")
        return
    _waiting(view)
    _first_day(view)
    try:
        proposals = _proposals(view)
    except NoLegalProgram as error:
        show_problems((str(error),), head="No program can be proposed")
        link("brief", "Change the brief", development=view.id)
        return
    for record in proposals:
        _one(view, record)
    if searched(view):
        st.subheader("So far")
        st.html(progress(progress_columns(view)))
        st.caption("One column a cook, from the edge of the windows to its worst attribute, in window half-widths.")
    with_the_verdict = {caution.code for caution in services.cautions("verdict")}
    st.html(caution_lines([one for one in services.cautions("cook sheet") if one.code not in with_the_verdict]))


if __name__ == "__main__":
    show()
