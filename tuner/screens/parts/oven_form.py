"""The form of one oven: limits, steps, and what was measured on it."""

from __future__ import annotations

from datetime import date, datetime, time
from typing import Any

import streamlit as st

from tuner.domain import Oven
from tuner.domain.quantities import Kind
from tuner.screens.fields import Form
from tuner.screens.zone import desk_zone

_SETTINGS: tuple[tuple[str, str, Kind, tuple[float, float, float]], ...] = (
    ("air_temperature_c", "Air temperature", "temperature", (180, 270, 5)),
    ("air_speed_pct", "Air speed", "share", (10, 100, 5)),
    ("microwave_pct", "Microwave", "share", (0, 100, 5)),
    ("duration_s", "Duration", "duration", (20, 900, 5)),
)
"""Each setting with what a new oven's form begins with: lowest, highest, step."""
_MORE: tuple[tuple[str, str, Kind], ...] = (
    ("microwave_rated_w", "Rated microwave", "power"),
    ("air_speed_max_m_s", "Full air speed", "speed"),
    ("on_off_period_s", "Microwave on/off period", "duration"),
    ("min_stage_s", "Shortest stage", "duration"),
)


def _setting(
    form: Form, name: str, label: str, kind: Kind, begin: tuple[float, float, float], oven: Oven | None
) -> dict[str, Any]:
    setting = getattr(oven, name) if oven else None
    low, high, step = (setting.low, setting.high, setting.step) if setting else begin
    columns = st.columns(3)
    unit: Kind = "plain" if kind == "temperature" else kind
    with columns[0]:
        lowest = form.quantity(f"{name}.low", f"{label}, lowest", kind, value=low, required=True, of_oven=True)
    with columns[1]:
        highest = form.quantity(f"{name}.high", f"{label}, highest", kind, value=high, required=True, of_oven=True)
    with columns[2]:
        by = form.quantity(f"{name}.step", f"{label}, step{' in K' if kind == 'temperature' else ''}", unit, value=step)
    return {"low": lowest, "high": highest} | ({"step": by} if by is not None else {})


def _check(form: Form) -> dict[str, Any] | None:
    """A new check of this oven; None where no watts were measured."""
    columns = st.columns(4)
    with columns[0]:
        watts = form.quantity("check.watts", "Watts into water", "power")
    with columns[1]:
        error = form.quantity("check.error", "Standard error", "power")
    with columns[2]:
        day = st.date_input("Day of the check", value="today", key=form.key("check.day"))
    with columns[3]:
        state = form.choice("check.hot", "Oven was", {"cold": "cold", "hot": "hot"})
    if watts is None:
        return None
    noon = datetime.combine(day if isinstance(day, date) else date.today(), time(12), tzinfo=desk_zone())
    found = {"watts_w": watts, "standard_error_w": error, "checked_at": min(noon, datetime.now(desk_zone()))}
    if state:
        found["hot"] = state == "hot"
    return {name: value for name, value in found.items() if value is not None}


def oven_form(form: Form, oven: Oven | None) -> dict[str, Any]:
    """The oven as a document; what the form does not show of an edited one stays as it was."""
    kept = oven.model_dump(exclude_unset=True) if oven else {}
    left, right = st.columns(2)
    with left:
        kept["name"] = form.text("name", "Name", value=oven.name if oven else None, required=True)
    with right:
        serial = form.text("serial", "Serial number", value=oven.serial if oven else None)
    for name, label, kind, begin in _SETTINGS:
        kept[name] = _setting(form, name, label, kind, begin, oven)
    left, right = st.columns(2)
    with left:
        kept["share_step_pct"] = form.quantity(
            "share_step_pct", "Step of the shares", "share", value=oven.share_step_pct if oven else 5, required=True
        )
    with right:
        kept["max_stages"] = form.whole("max_stages", "Most stages", value=oven.max_stages if oven else 5)
    more: dict[str, Any] = {"serial": serial}
    for (name, label, kind), column in zip(_MORE, st.columns(4)):
        with column:
            more[name] = form.quantity(name, label, kind, value=getattr(oven, name) if oven else None)
    st.text("A new check, measured with 1000 g of water; leave empty if there is none")
    check = _check(form)
    if check:
        more["checks"] = [*kept.get("checks", ()), check]
    for name, value in more.items():
        if value is None:
            kept.pop(name, None)
        else:
            kept[name] = value
    return kept
