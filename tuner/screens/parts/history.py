"""The story beside the cooks: the brief in short and its versions, the decisions with their reasons."""

from __future__ import annotations

import streamlit as st

from tuner import services
from tuner.domain.quantities import minutes_seconds
from tuner.screens.marks.decisions import decisions_list
from tuner.screens.marks.facts import facts_table
from tuner.screens.marks.words import NAME, UNIT, moment, number, sentences
from tuner.screens.parts.limit import limit_words
from tuner.screens.parts.rows import window_of
from tuner.screens.zone import desk_zone
from tuner.services import DevelopmentView


def _window(view: DevelopmentView, name: str) -> str:
    low, high = window_of(view, name)
    if low is None and high is None:
        return "no window"
    unit = f" {UNIT[name]}" if UNIT[name] else ""
    if low is None or high is None:
        return f"at most {number(high)}{unit}" if low is None and high is not None else f"at least {number(low or 0)}{unit}"
    return f"{number(low)} to {number(high)}{unit}"


def brief_facts(view: DevelopmentView) -> list[tuple[str, str]]:
    """The brief in short."""
    brief, portion = view.brief, view.brief.portion
    allergens = "unknown" if brief.allergens is None else ", ".join(brief.allergens) or "none"
    rows = [
        ("Food class", brief.food_class.replace("_", " ")),
        ("Portion", f"{number(portion.mass_g)} g, {portion.shape}, {number(portion.thickness_mm)} mm"),
        ("Start", f"{portion.start_state}, {number(portion.start_temperature_c)} °C"),
    ]
    if brief.conventional:
        usual = brief.conventional
        rows.append(
            ("Conventional", f"{usual.method}, {number(usual.oven_temperature_c)} °C, {minutes_seconds(usual.duration_s)} min")
        )
    rows += [(NAME[name], _window(view, name)) for name in NAME]
    return [*rows, ("Critical limit", limit_words(view)), ("Rest", f"{number(brief.rest_s)} s"), ("Allergens", allergens)]


def show_brief(view: DevelopmentView) -> None:
    """The brief in short, and what changed from version to version."""
    st.html(facts_table(brief_facts(view)))
    for older, newer in zip(view.brief_versions, view.brief_versions[1:]):
        changes = services.brief_differences(older.brief, newer.brief)
        st.text(f"Version {newer.version}, {moment(newer.written_at, desk_zone())}, {newer.written_by}")
        st.html(sentences(changes or ("nothing that counts changed",)))


def show_decisions(view: DevelopmentView) -> None:
    """Every proposal that was decided on, newest first."""
    decided = [record for record in view.proposals if record.decision]
    if not decided:
        st.text("No proposal has been decided on yet.")
        return
    st.html(decisions_list(decided, desk_zone()))
