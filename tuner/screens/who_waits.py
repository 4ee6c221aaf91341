"""Who waits: all developments, my turn first, then the longest idle."""

from __future__ import annotations

from collections.abc import Sequence

import streamlit as st

from tuner import services
from tuner.screens import state
from tuner.screens.loading import workspace
from tuner.screens.marks.card import card
from tuner.screens.marks.notice import demo_banner, is_invented
from tuner.screens.marks.words import as_label
from tuner.screens.pages import go, page
from tuner.screens.who import actor
from tuner.services import DevelopmentSummary

MINE, OTHERS, ALL = "Your turn", "Waits for others", "All"
_SEARCH_FROM = 8
"""From this many developments on there is a field to search them."""


def in_order(summaries: Sequence[DevelopmentSummary]) -> list[DevelopmentSummary]:
    """My turn first, then the longest idle; closed ones last."""
    return sorted(summaries, key=lambda one: (one.status in ("closed", "archived"), not one.my_turn, -one.idle_days, one.dish))


def _first_steps() -> None:
    st.text("Nothing waits: there is no development yet.")
    st.text("A development begins with an oven and a brief. Or look around in an invented demo first.")
    with st.container(horizontal=True):
        if st.button("Write a brief", type="primary", key="first_brief"):
            go("brief", new="yes")
        if st.button("Load the demo", key="load_demo"):
            with st.spinner("Loading invented dishes and cooks …"):
                services.load_demo(workspace(), actor())
            st.rerun()


def _filtered(summaries: Sequence[DevelopmentSummary]) -> list[DevelopmentSummary]:
    with st.container(horizontal=True, vertical_alignment="bottom", key="filters"):
        turn = st.segmented_control("Whose turn", [MINE, OTHERS, ALL], default=ALL, key="turn", label_visibility="collapsed")
        customers = sorted({one.customer for one in summaries if one.customer})
        whose = None
        if customers:
            whose = st.selectbox("Customer", customers, index=None, placeholder="all customers", key="whose", width=220)
        words = (
            st.text_input("Dish", placeholder="part of a dish's name", key="dish", width=220)
            if len(summaries) >= _SEARCH_FROM
            else ""
        )
    kept = [one for one in summaries if turn in (None, ALL) or one.my_turn == (turn == MINE)]
    kept = [one for one in kept if whose is None or one.customer == whose]
    return [one for one in kept if (words or "").strip().lower() in one.dish.lower()]


def _card(one: DevelopmentSummary) -> None:
    with st.container(key=f"card-{one.id}", gap=None):
        st.page_link(page("development"), label=as_label(one.dish), query_params={"development": one.id})
        st.html(card(one))


def show() -> None:
    """Draw the page."""
    st.title("Who waits")
    past = bool(state.entered("past"))
    with st.spinner("Looking where every development stands …"):  # the first look after a start works each of them out
        summaries = services.list_developments(workspace(), actor(), include_archived=past)
    if not summaries and not past:
        _first_steps()
        return
    if any(is_invented(one.customer) for one in summaries):
        st.html(demo_banner())
    if st.button("New brief", key="new-brief", type="primary"):
        go("brief", new="yes")
    kept = _filtered(summaries)
    for one in in_order(kept):
        _card(one)
    if not kept:
        st.text("No development fits these filters.")
    st.toggle("Show archived", key="past")


if __name__ == "__main__":
    show()
