"""One brief, oven, program and test cook as kitchens write them; the tests of several rooms start from these."""

from __future__ import annotations

from copy import deepcopy
from typing import Any

from tuner.domain import Brief, Oven, Program, TestCook

OVEN: dict[str, Any] = {
    "name": "Test kitchen left",
    "air_temperature_c": {"low": 200, "high": 270, "step": 5},
    "air_speed_pct": {"low": 10, "high": 100, "step": 5},
    "microwave_pct": {"low": 0, "high": 100, "step": 5},
    "duration_s": {"low": 20, "high": 1200, "step": 5},
    "share_step_pct": 5,
    "max_stages": 5,
    "microwave_rated_w": 1500,
    "air_speed_max_m_s": 22,
}

BRIEF: dict[str, Any] = {
    "dish": "Duck and plum parcel",
    "customer": None,
    "food_class": "poultry",
    "allergens": ["milk"],
    "portion": {
        "mass_g": 180,
        "shape": "slab",
        "thickness_mm": 28,
        "water": 0.70,
        "fat": 0.08,
        "protein": 0.19,
        "carbohydrate": 0.02,
        "ash": 0.01,
        "start_state": "chilled",
        "start_temperature_c": 4,
    },
    "conventional": {"method": "oven", "oven_temperature_c": 190, "duration_s": 1500},
    "targets": {
        "core_temperature_c": {"low": 74, "high": 84},
        "browning": {"low": 2.5, "high": 3.5},
        "texture": {"low": 2.5, "high": 3.5},
        "moisture": {"low": 2.5, "high": 3.5},
        "cook_loss_pct": {"low": 0, "high": 18},
        "duration_s": {"low": 0, "high": 300},
    },
    "critical_limit": {
        "core_temperature_c": 74,
        "hold_s": 0,
        "rest_s": 120,
        "covered": True,
        "guard_c": 2,
        "rule": "which rule",
        "market": "US",
        "edition": "2022",
        "approved_by": "role or initials",
    },
    "rest_s": 120,
    "confirmation_cooks": 3,
}

PROGRAM: dict[str, Any] = {
    "air_temperature_c": 250,
    "duration_s": 210,
    "stages": [
        {"share_pct": 40, "air_speed_pct": 30, "microwave_pct": 80},
        {"share_pct": 60, "air_speed_pct": 90, "microwave_pct": 20},
    ],
}

COOK: dict[str, Any] = {
    "program": PROGRAM,
    "mass_g": 183.0,
    "start_temperature_c": 4.6,
    "core_temperature_c": [76.4, 77.0, 79.1],
    "rest_s": 120,
    "rest_covered": True,
    "completed": True,
    "mass_out_g": 160.2,
    "scores": [
        {"taster": "A", "browning": 2.5, "texture": 3, "moisture": 3},
        {"taster": "B", "browning": 3, "texture": 3, "moisture": 3.5},
    ],
    "purpose": "search",
    "cooked_at": "2026-03-02T10:15:00Z",
    "thermometer_checked_at": "2026-03-02T07:40:00Z",
    "cook": "R. Osei",
    "note": "",
}

DROP = object()
"""Value that takes a field out."""


def changed(document: dict[str, Any], **changes: Any) -> dict[str, Any]:
    """Copy of a document with fields replaced or, with `DROP`, taken out; `a__b` reaches into a nested one."""
    copy = deepcopy(document)
    for path, value in changes.items():
        *outer, field = path.split("__")
        here = copy
        for name in outer:
            here = here[name]
        if value is DROP:
            del here[field]
        else:
            here[field] = value
    return copy


def brief(**changes: Any) -> Brief:
    return Brief.model_validate(changed(BRIEF, **changes))


def oven(**changes: Any) -> Oven:
    return Oven.model_validate(changed(OVEN, **changes))


def program(**changes: Any) -> Program:
    return Program.model_validate(changed(PROGRAM, **changes))


def cook(**changes: Any) -> TestCook:
    return TestCook.model_validate(changed(COOK, **changes))
