"""The verdict over many random cooks whose truth is known."""

from __future__ import annotations

import math
from datetime import UTC, datetime, timedelta
from typing import Any

import numpy as np

from tests.example import COOK, DROP, brief, changed
from tuner import safety
from tuner.domain import TestCook

LIMIT_C, GUARD_C = 74.0, 2.0
# 95 % half-widths behind the guard: thermometer 1.0, missed coldest place 1.5, timing 0.5 K.
HALF_WIDTHS_C = (1.0, 1.5, 0.5)
ERROR_SD_C = math.sqrt(sum(half**2 for half in HALF_WIDTHS_C)) / 1.96
COOKED = datetime(2026, 3, 2, 10, 15, tzinfo=UTC)

NEEDED: dict[str, list[Any]] = {
    "completed": [False],
    "rest_s": [DROP, 0, 60, 119.9],
    "rest_covered": [DROP, False],
    "thermometer_checked_at": [DROP, COOKED + timedelta(seconds=1), COOKED - timedelta(hours=24, seconds=1)],
    "cooked_at": [DROP],
    "interrupted_by": ["door opened"],
}


def _measured(rng: np.random.Generator, true_coldest_c: float, error_c: float) -> list[float]:
    """Readings of three places; the error is common to all of them, the coldest place may lie anywhere."""
    above = np.concatenate(([0.0], rng.exponential(2.0, 2)))
    return [float(value) for value in rng.permutation(true_coldest_c + above + error_c)]


def _cook(**changes: Any) -> TestCook:
    return TestCook.model_validate(changed(COOK, **changes))


def test_never_safe_below_the_limit_beyond_what_the_guard_allows_nor_with_anything_missing() -> None:
    rng = np.random.default_rng(20260302)
    wanted = brief(rest_s=60)
    seen = {"safe_to_taste": 0, "not_safe": 0, "unknown": 0}
    for _ in range(10_000):
        truth = rng.uniform(68, 84)
        error = rng.uniform(-GUARD_C, GUARD_C)
        readings = _measured(rng, truth, error)
        count = int(rng.choice((1, 2, 3, 3, 3, 3)))
        lowest = min(readings[:count])
        gone = [name for name in NEEDED if rng.random() < 0.08]
        changes = {name: NEEDED[name][rng.integers(len(NEEDED[name]))] for name in gone}
        if "interrupted_by" in changes:
            changes["completed"] = False
        status = safety.verdict(wanted, _cook(core_temperature_c=readings[:count], **changes)).status
        seen[status] += 1
        if lowest < LIMIT_C + GUARD_C:
            assert status == "not_safe", "a low reading beats everything missing"
        elif changes or count < 3:
            assert status == "unknown", f"safe although {changes} or {count} places"
        else:
            assert status == "safe_to_taste"
            assert truth >= LIMIT_C
    assert min(seen.values()) > 500  # every answer was tried often


def test_a_portion_right_below_the_limit_passes_no_more_often_than_the_stated_error_exceeds_the_guard() -> None:
    rng = np.random.default_rng(7)
    wanted = brief()
    portions = 4_000
    passed = sum(
        safety.verdict(wanted, _cook(core_temperature_c=_measured(rng, LIMIT_C - 1e-6, rng.normal(0, ERROR_SD_C)))).may_taste
        for _ in range(portions)
    )
    stated = 0.5 * math.erfc(GUARD_C / ERROR_SD_C / math.sqrt(2))
    assert stated < 0.025
    assert passed / portions <= stated + 3 * math.sqrt(stated * (1 - stated) / portions)


def test_a_hotter_portion_is_never_judged_worse() -> None:
    order = {"not_safe": 0, "unknown": 1, "safe_to_taste": 2}
    rng = np.random.default_rng(11)
    for _ in range(500):
        readings = rng.uniform(70, 82, 3)
        changes = {} if rng.random() < 0.5 else {"rest_covered": False}
        colder, hotter = (
            safety.verdict(brief(), _cook(core_temperature_c=[float(value) for value in values], **changes)).status
            for values in (readings, readings + rng.exponential(2, 3))
        )
        assert order[hotter] >= order[colder]


def test_a_rule_in_minutes_never_passes_a_trace_whose_truth_lacks_them() -> None:
    """Random come-ups, holds and ends; the measured trace is off by no more than the guard, the truth is integrated by itself."""
    rng = np.random.default_rng(20260303)
    limit = {
        "core_temperature_c": 70, "guard_c": GUARD_C, "z_c": 7.5, "reference_c": 70, "required_min": 2,
        "rule": "a table", "approved_by": "AB",
    }  # fmt: skip
    wanted = brief(critical_limit=limit, rest_s=0)
    seen = {"safe_to_taste": 0, "not_safe": 0, "unknown": 0}
    for _ in range(2_000):
        times = np.concatenate([[0.0], np.cumsum(rng.uniform(5, 60, 8))])
        truth = np.concatenate([[5.0], rng.uniform(60, 78) + rng.normal(0, 2, 8)])
        error = rng.uniform(-GUARD_C, GUARD_C)
        lowest = float(truth[-1] + error)
        status = safety.verdict(
            wanted,
            _cook(
                core_temperature_c=[lowest, lowest + 1, lowest + 2],
                probe_places=["middle", "edge", "base"],
                trace=[{"place": "middle", "time_s": times.tolist(), "temperature_c": (truth + error).tolist()}],
                rest_s=0,
            ),
        ).status
        seen[status] += 1
        if status == "safe_to_taste":
            assert safety.lethality_min(times, truth, reference_c=70, z_c=7.5) >= 2.0 - 1e-9
    assert seen["safe_to_taste"] > 200
    assert seen["not_safe"] > 500
