"""Cooks a fixed plan on paper: every slot at its condition, with margins the test gives."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from typing import Any

import numpy as np

from tests.example import brief, oven, program
from tuner.domain import Brief, FixedPlan, PlanSetting, PlanSlot, TestCook
from tuner.proof.evaluation import PlanState, evaluate
from tuner.proof.fixing import fix
from tuner.proof.plan_cooks import PlanEntry
from tuner.safety import effective_limit

NONE = {"none": True, "rule": "crumb only", "approved_by": "food-safety lead"}
LIGHT: dict[str, Any] = {"food_class": "bakery", "critical_limit": NONE, "targets__core_temperature_c": {"low": 70, "high": 84}}
STANDARD: dict[str, Any] = {"food_class": "reheated"}
FULL: dict[str, Any] = {}
OVENS = ("A", "B", "C", "D", "E", "F")
START = datetime(2026, 3, 2, 8, 0, tzinfo=UTC)


def fixed(changes: dict[str, Any] | None = None, setting: PlanSetting | None = None, **more: Any) -> FixedPlan:
    return fix(brief(**(changes or {})), program(), setting or PlanSetting(ovens=OVENS, greatest_load=2, seed=3), **more)


def cook_for(wanted: Brief, plan: FixedPlan, slot: PlanSlot, y: float, **changes: Any) -> TestCook:
    line = effective_limit(wanted).pass_line_c or 76.0
    at = START + timedelta(days=slot.day, minutes=8 * slot.number)
    marks = {"browning": 3, "texture": 3, "moisture": 3}
    document = {
        "program": plan.program.model_dump(),
        "purpose": "proof",
        "mass_g": slot.mass_g,
        "start_temperature_c": slot.start_temperature_c,
        "core_temperature_c": [round(line + y + 0.3 * place, 6) for place in range(slot.places)],
        "rest_s": 120,
        "rest_covered": True,
        "completed": True,
        "mass_out_g": slot.mass_g * (0.9 - 0.001 * (slot.number % 5)),
        "scores": [{"taster": name, **marks} for name in "ABCD"] if slot.scored else None,
        "cooked_at": at.isoformat(),
        "thermometer_checked_at": (at - timedelta(hours=1)).isoformat(),
        "cook": slot.person,
        "lot": slot.lot,
        "load": slot.load,
        "oven_serial": slot.oven,
        "seconds_since_last_cook": 60 if slot.hot else 1200,
        **changes,
    }
    return TestCook.model_validate({name: value for name, value in document.items() if value is not None})


def entries(
    wanted: Brief, plan: FixedPlan, y: Callable[[PlanSlot], float] | None = None, contingent: bool = False
) -> list[PlanEntry]:
    rng = np.random.default_rng(7)
    margin = y or (lambda slot: 4.0 + float(rng.normal(0, 0.4)))
    return [
        PlanEntry(slot.number, f"id {slot.number}", slot.number, cook_for(wanted, plan, slot, margin(slot)))
        for slot in plan.slots
        if contingent or not slot.contingent
    ]


def state(wanted: Brief, plan: FixedPlan, given: list[PlanEntry], met: bool = True, **more: Any) -> PlanState:
    return evaluate(wanted, oven(), plan, given, simple_rule_met=met, **more)
