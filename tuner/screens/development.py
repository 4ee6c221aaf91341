"""Development: one story: where it stands, the cooks in order, the forecast of the best program, brief and decisions."""

from __future__ import annotations

import streamlit as st

from tuner import services
from tuner.screens.choosing import chosen_development, development_head
from tuner.screens.door import error_door
from tuner.screens.loading import trace_chart, workspace
from tuner.screens.marks.cooks import cooks_table
from tuner.screens.marks.panel import panel
from tuner.screens.marks.progress import progress
from tuner.screens.marks.strip import large_strip
from tuner.screens.marks.trace import trace_sentence
from tuner.screens.pages import go, link
from tuner.screens.parts.exports import export_buttons
from tuner.screens.parts.forecast import show_forecast
from tuner.screens.parts.history import show_brief, show_decisions
from tuner.screens.parts.rows import latest_scored, panel_rows, progress_columns, searched
from tuner.screens.parts.standing import standing_of
from tuner.screens.parts.state_change import show_state_change
from tuner.screens.who import actor
from tuner.screens.zone import desk_zone
from tuner.services import CookRecord, DevelopmentView

SHOWN = 40
"""Cooks shown in the table and in the progress before one asks for all of them."""


def _next_step(view: DevelopmentView) -> None:
    if view.state != "open":
        return
    waiting = view.pending_proposals
    with st.container(horizontal=True):
        if waiting:
            if st.button("Log a cook", type="primary", key="step-log"):
                go("log", development=view.id)
        elif st.button("Next cook", type="primary", key="step-next"):
            go("next_cook", development=view.id)


def _best(view: DevelopmentView) -> None:
    program = view.assessment.best_program
    if program is None:
        return
    stalled = view.assessment.status == "stalled"
    st.header("Nearest program so far" if stalled else "Best program so far")
    longest = view.brief.targets.duration_s
    st.html(large_strip(program, at_most_s=longest.high if longest else None))
    left, right = st.columns([1.5, 1], gap="large")
    with left:
        st.subheader("What it should do")
        show_forecast(view, services.what_if(workspace(), actor(), development_id=view.id, program=program))
    with right:
        _panel_and_trace(view)


def _panel_and_trace(view: DevelopmentView) -> None:
    cooks = searched(view)
    scored = latest_scored(cooks)
    if scored:
        st.subheader(f"Panel, cook {scored.number}")
        st.html(panel(panel_rows(view.brief, scored)))
    traced = next((record for record in reversed(cooks) if record.cook.trace), None)
    if traced:
        _trace(view, traced)


def _trace(view: DevelopmentView, record: CookRecord) -> None:
    st.subheader(f"Core trace, cook {record.number}")
    dark = st.context.theme.type == "dark"
    line, limit = view.limit.pass_line_c, view.limit.core_temperature_c
    spec = trace_chart(record.id, dark, line, limit, record.cook)
    if spec:
        st.vega_lite_chart(spec=spec, theme=None, alt=trace_sentence(record.cook, pass_line_c=line))


def _cooks(view: DevelopmentView) -> None:
    st.header("Cooks")
    records = list(view.cooks)
    every = len(records) <= SHOWN or st.toggle(f"Show all {len(records)} entries", key="all-cooks")
    st.html(cooks_table(records if every else records[-SHOWN:], desk_zone()))
    current = {record.id: f"Cook {record.number}" for record in reversed(view.current_cooks)}
    if current and view.state == "open":
        with st.container(horizontal=True, vertical_alignment="bottom"):
            which = st.selectbox(
                "Add scores to a cook, or correct it", list(current), format_func=current.__getitem__, width=280
            )
            link("log", "Open it", development=view.id, cook=which)


def show() -> None:
    """Draw the page."""
    view = chosen_development("Development")
    if view is None:
        return
    development_head(view, "development")
    st.html(standing_of(view))
    _next_step(view)
    if searched(view):
        st.header("So far")
        st.html(progress(progress_columns(view)[-SHOWN:]))
        st.caption("One column a cook, from the edge of the windows to its worst attribute, in window half-widths.")
    with error_door():
        _best(view)
    _cooks(view)
    left, right = st.columns(2, gap="large")
    with left:
        st.header("Brief")
        show_brief(view)
    with right:
        st.header("Decisions")
        show_decisions(view)
    st.header("Take away, close, copy")
    export_buttons(view.id)
    show_state_change(view)


if __name__ == "__main__":
    show()
