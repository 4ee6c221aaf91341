"""Approved critical limits that rehearsal briefs carry. The approver is a role; a real kitchen names its own."""

from __future__ import annotations

from tuner.domain import CriticalLimit

_APPROVER = "food-safety approver"


def microwave_rule() -> CriticalLimit:
    """74 °C in all parts and two minutes covered (Food Code 3-401.12)."""
    return CriticalLimit.model_validate(
        {
            "core_temperature_c": 74,
            "rest_s": 120,
            "covered": True,
            "guard_c": 2,
            "rule": "Food Code 3-401.12, 74 °C in all parts, two minutes covered; turned half-way",
            "market": "US",
            "edition": "2022",
            "approved_by": _APPROVER,
        }
    )


def intact_to_order() -> CriticalLimit:
    """63 °C for 15 s, where the authority has accepted that the microwave rule does not apply (Food Code 3-401.11)."""
    return CriticalLimit.model_validate(
        {
            "core_temperature_c": 63,
            "hold_s": 15,
            "guard_c": 2,
            "rule": "Food Code 3-401.11, intact, single order; written acceptance on file",
            "market": "US",
            "edition": "2022",
            "approved_by": _APPROVER,
        }
    )


def served_at_once() -> CriticalLimit:
    """70 °C for single orders of factory-cooked food, served at once."""
    return CriticalLimit.model_validate(
        {
            "core_temperature_c": 70,
            "guard_c": 2,
            "rule": "house rule: cooked product, single order, served at once; written acceptance on file",
            "edition": "1",
            "approved_by": _APPROVER,
        }
    )


def hot_plant() -> CriticalLimit:
    """70 °C for plant dishes that are held hot afterwards."""
    return CriticalLimit.model_validate(
        {
            "core_temperature_c": 70,
            "guard_c": 2,
            "rule": "house rule: cooked through, then held hot",
            "edition": "1",
            "approved_by": _APPROVER,
        }
    )


def nothing_to_kill() -> CriticalLimit:
    """Baked once already, nothing raw in it."""
    return CriticalLimit.model_validate(
        {"none": True, "rule": "house rule: part-baked, nothing raw in it", "approved_by": _APPROVER}
    )
