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
from tuner.screens.marks.words import PURPOSE, counted, sentences
from tuner.screens.pages import link
from tuner.screens.parts.cautions import show_sheet_cautions
from tuner.screens.parts.deciding import decide_buttons
from tuner.screens.parts.first_day import offer_first_day, show_first_day
from tuner.screens.parts.forecast import show_forecast
from tuner.screens.parts.rows import progress_columns, searched
from tuner.screens.parts.sheet_link import send_sheet, sheets_by_proposal
from tuner.screens.parts.what_if import show_what_if
from tuner.screens.who import actor
from tuner.services import DevelopmentView, ProposalRecord


def _waiting(view: DevelopmentView) -> None:
    """What was taken and is not cooked yet."""
    if not view.pending_proposals:
        return
    st.header(f"Taken, waiting to be cooked: {counted(len(view.pending_proposals), 'program')}")
    sheets = sheets_by_proposal(view)
    for record in view.pending_proposals:
        with st.container(horizontal=True, vertical_alignment="center", key=f"waiting-{record.id}"):
            st.html(strip(record.program))
            link("log", "Log this cook", development=view.id, proposal=record.id)
        send_sheet(record, sheets.get(record.id, []))


def _last_program(view: DevelopmentView) -> None:
    cooks = [record for record in searched(view) if record.cook.done_program]
    if cooks and cooks[-1].cook.done_program:
        st.html(
            f'<div class="tk tk-small">cook {cooks[-1].number}, for comparison</div>'
            + strip(cooks[-1].cook.done_program, height_px=28)
        )


def _one(view: DevelopmentView, record: ProposalRecord) -> None:
    number = len({cook.number for cook in view.cooks}) + len(view.pending_proposals) + 1
    st.header(f"Cook {number}: {PURPOSE[record.proposal.purpose]}")
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


def _next(view: DevelopmentView) -> None:
    if (
        view.pending_proposals
        and not view.open_proposals
        and not st.button("Propose one more, to cook beside it", key="one-more")
    ):
        return
    try:
        proposals = _proposals(view)
    except NoLegalProgram as error:
        show_problems((str(error),), head="No program can be proposed")
        link("brief", "Change the brief", development=view.id)
        return
    for record in proposals:
        _one(view, record)


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
    offer_first_day(view)
    planned = [record for record in view.open_proposals if record.kind == "first_day"]
    if planned:
        show_first_day(view, planned)
    else:
        _next(view)
    if searched(view):
        st.header("So far")
        st.html(progress(progress_columns(view)))
        st.caption("One column a cook, from the edge of the windows to its worst attribute, in window half-widths.")
    show_sheet_cautions(view)


if __name__ == "__main__":
    show()
