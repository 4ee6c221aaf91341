"""What was measured of one cook: portion, end and rest, readings by place, masses, times."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta
from typing import Any

import streamlit as st

from tuner.domain import TestCook
from tuner.screens import state
from tuner.screens.fields import Form
from tuner.screens.marks.words import number
from tuner.screens.zone import desk_zone
from tuner.services import DevelopmentView

_ENDED = {"yes": "Ran to its end", "no": "Stopped early"}
_RESTED = {"covered": "Covered", "open": "Open"}


def _portion(form: Form, view: DevelopmentView, cook: TestCook | None) -> dict[str, Any]:
    ordered = view.brief.portion
    left, middle, right = st.columns(3)
    with left:
        mass = form.quantity(
            "mass_g", "Mass in", "mass", value=cook.mass_g if cook else None, placeholder=f"ordered {number(ordered.mass_g)}"
        )
    with middle:
        start = form.quantity(
            "start_temperature_c",
            "Start temperature",
            "temperature",
            value=cook.start_temperature_c if cook else None,
            placeholder=f"ordered {number(ordered.start_temperature_c)}",
        )
    with right:
        lot = form.text("lot", "Lot", value=cook.lot if cook else None, placeholder="from the label")
    return {"mass_g": mass, "start_temperature_c": start, "lot": lot}


def _end_and_rest(form: Form, view: DevelopmentView, cook: TestCook | None) -> dict[str, Any]:
    ended_before = None if cook is None or cook.completed is None else "yes" if cook.completed else "no"
    rested_before = None if cook is None or cook.rest_covered is None else "covered" if cook.rest_covered else "open"
    needed = max(view.brief.rest_s, view.limit.rest_s)
    left, middle, right = st.columns(3)
    with left:
        ended = form.choice("completed", "How did the program end?", _ENDED, value=ended_before)
    with middle:
        rest = form.quantity(
            "rest_s", "Rest", "duration", value=cook.rest_s if cook else None, placeholder=f"at least {number(needed)}"
        )
    with right:
        rested = form.choice("rest_covered", "How did it rest?", _RESTED, value=rested_before)
    why = None
    if ended == "no":
        why = form.text("interrupted_by", "What stopped it?", value=cook.interrupted_by if cook else None, longest=500)
    held = None
    if view.limit.hold_s:
        held = form.quantity(
            "held_s",
            f"Held at {number(view.limit.core_temperature_c or 0)} °C or above",
            "duration",
            value=cook.held_s if cook else None,
            placeholder=f"needed {number(view.limit.hold_s)}",
        )
    return {
        "completed": None if ended is None else ended == "yes",
        "interrupted_by": why,
        "rest_s": rest,
        "rest_covered": None if rested is None else rested == "covered",
        "held_s": held,
    }


def _readings(form: Form, view: DevelopmentView, cook: TestCook | None) -> dict[str, Any]:
    before = cook.readings_c if cook else ()
    places = max(view.brief.places, len(before))
    line = view.limit.pass_line_c
    say = f"Core temperature at the end of the rest, one field a place. It must read {number(line)} °C." if line else None
    st.text(say or "Core temperature at the end of the rest, one field a place.")
    values = []
    for first in range(0, places, 4):
        columns = st.columns(4)
        for offset, column in enumerate(columns[: min(4, places - first)]):
            index = first + offset
            with column:
                value = before[index] if index < len(before) else None
                values.append(form.quantity(f"core.{index}", f"Place {index + 1}", "temperature", value=value))
    read = tuple(value for value in values if value is not None)
    return {"core_temperature_c": read or None}


def _instant(day: date | None, at: time | None, before: datetime | None) -> datetime | None:
    """The instant that day and time say; the one before, to the second, where they still say the same."""
    if day is None or at is None:
        return None
    said = datetime.combine(day, at, tzinfo=desk_zone())
    return before if before and before.replace(second=0, microsecond=0) == said else said


def _checked_at(cooked_at: datetime | None, checked: time | None, before: datetime | None) -> datetime | None:
    """When the thermometer was checked: on the day of cooking, or the day before where it is later on the clock.

    An older check of a cook that is corrected stays as it was, unless its time is typed anew.
    """
    if cooked_at is None or checked is None:
        return None
    if before and before.time().replace(second=0, microsecond=0) == checked:
        return before
    said = datetime.combine(cooked_at.date(), checked, tzinfo=desk_zone())
    return said if said <= cooked_at else said - timedelta(days=1)


def _times(form: Form, cook: TestCook | None) -> dict[str, Any]:
    zone = desk_zone()
    cooked = cook.cooked_at.astimezone(zone) if cook and cook.cooked_at else None
    checked = cook.thermometer_checked_at.astimezone(zone) if cook and cook.thermometer_checked_at else None
    begin = cooked if cook else datetime.now(zone)  # a cook kept without its time does not get one by being corrected
    state.begin(form.key("day"), begin.date() if begin else None)
    state.begin(form.key("time"), begin.time().replace(second=0, microsecond=0) if begin else None)
    state.begin(form.key("checked"), checked.time().replace(second=0, microsecond=0) if checked else None)
    left, middle, right = st.columns(3)
    with left:
        day = st.date_input("Day of cooking", value=None, key=form.key("day"))
    with middle:
        at = st.time_input("Time of cooking", value=None, step=60, key=form.key("time"))
    with right:
        typed = st.time_input(
            "Thermometer checked at",
            value=None,
            step=60,
            key=form.key("checked"),
            help="In ice water, within 1 °C. Empty means not checked: every verdict is then unknown.",
        )
    cooked_at = _instant(day if isinstance(day, date) else None, at, cooked)
    return {"cooked_at": cooked_at, "thermometer_checked_at": _checked_at(cooked_at, typed, checked)}


def measuring(form: Form, view: DevelopmentView, cook: TestCook | None) -> dict[str, Any]:
    """All fields of the measurements; what is empty is left out.

    Parameters
    ----------
    form
        Collects what could not be read.
    view
        Says what was ordered and what the limit asks.
    cook
        A cook that is being corrected, whose values the fields begin with.
    """
    st.subheader("When, and with what thermometer")
    found = _times(form, cook)
    st.subheader("What went in")
    found |= _portion(form, view, cook)
    st.subheader("The end and the rest")
    found |= _end_and_rest(form, view, cook)
    st.subheader("What was measured")
    found |= _readings(form, view, cook)
    left, right = st.columns([1, 2])
    with left:
        found["mass_out_g"] = form.quantity("mass_out_g", "Mass out", "mass", value=cook.mass_out_g if cook else None)
    with right:
        found["note"] = form.text("note", "What I saw", value=cook.note if cook else None, longest=4000)
    return {name: value for name, value in found.items() if value is not None}
