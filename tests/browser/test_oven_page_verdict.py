"""The verdict on the device is the verdict of `tuner.safety`, for anything that can be entered there."""

from __future__ import annotations

import random
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from playwright.sync_api import Browser

from tests.browser.driving import new_context
from tests.services.invented import LIMIT, PROGRAM, brief
from tuner import safety
from tuner.domain import TestCook
from tuner.services.sheet_rule import sheet_rule

COUNT = 4000
_DECIDE = "async pairs => { const {decide} = await import('/oven/verdict.js'); return pairs.map(([r, c]) => { const v = decide(r, c); return [v.status, v.reasons.length]; }); }"


def some_brief(rng: random.Random) -> Any:
    changes: dict[str, Any] = {
        "food_class": rng.choice(
            ["poultry", "ground_meat", "whole_muscle", "fish", "egg", "stuffed", "reheated", "plant", "bakery"]
        ),
        "rest_s": float(rng.choice([0, 60, 120])),
        "places": rng.choice([1, 3, 4]),
    }
    limit: dict[str, Any] | None = {
        **LIMIT,
        "core_temperature_c": float(rng.choice([63, 70, 74, 75])),
        "guard_c": float(rng.choice([0, 1.5, 2])),
    }
    kind = rng.random()
    if kind < 0.15:
        limit = None
    elif kind < 0.3:
        limit = {"none": True, "rule": "nothing to kill", **({"approved_by": "Quinn"} if rng.random() < 0.7 else {})}
    elif kind < 0.5:
        limit |= {"hold_s": float(rng.choice([15, 120])), "rest_s": float(rng.choice([0, 180])), "covered": rng.random() < 0.5}
    elif kind < 0.65:
        limit |= {"z_c": 7.5, "reference_c": 70.0, "required_min": float(rng.choice([2, 0.5]))}
    if limit is not None and rng.random() < 0.1:
        limit.pop("approved_by", None)
    return brief(**{**changes, "critical_limit": limit})


def some_cook(rng: random.Random) -> dict[str, Any]:
    at = datetime(2026, 3, 2, 10, 15, tzinfo=UTC)
    checked = at - timedelta(hours=rng.choice([-1, 0, 1, 24, 25]))
    readings = [round(rng.uniform(62, 90), 1) for _ in range(rng.choice([0, 1, 2, 3, 3, 3, 4, 4]))]
    if rng.random() < 0.4:
        readings = [round(reading + 20, 1) for reading in readings]
    if readings and rng.random() < 0.3:
        readings[-1] = rng.choice([65.0, 72.0, 75.9, 76.0, 76.1, 77.0, 71.5, 75.5])
    cook = {
        "core_temperature_c": readings or None,
        "rest_s": rng.choice([None, 0, 119, 120, 180, 600]),
        "rest_covered": rng.choice([None, True, True, False]),
        "held_s": rng.choice([None, None, 0, 14.9, 15, 30, 120]),
        "completed": rng.choice([None, True, True, True, False]),
        "cooked_at": rng.choice([None, at.isoformat(), at.isoformat(), at.isoformat()]),
        "thermometer_checked_at": rng.choice([None, checked.isoformat(), checked.isoformat()]),
    }
    if cook["completed"] is False and rng.random() < 0.5:
        cook["interrupted_by"] = "stopped early at the oven"
    return {name: value for name, value in cook.items() if value is not None}


def test_four_thousand_random_cooks_get_the_same_verdict_for_as_many_reasons(browser: Browser, address: str) -> None:
    rng = random.Random(20260302)
    cases = [(some_brief(rng), some_cook(rng)) for _ in range(COUNT)]
    expected = []
    for of, done in cases:
        found = safety.verdict(of, TestCook.model_validate({"program": PROGRAM, **done}))
        expected.append([found.status, len(found.reasons)])
    context = new_context(browser, "phone")
    page = context.new_page()
    page.goto(f"{address}/oven/")
    seen = page.evaluate(_DECIDE, [[sheet_rule(of), done] for of, done in cases])
    context.close()
    wrong = [
        (sheet_rule(of), done, want, got) for (of, done), want, got in zip(cases, expected, seen, strict=True) if want != got
    ]
    assert wrong[:3] == []
    # Every verdict is met often enough for the comparison to mean something.
    assert min(sum(status == name for status, _ in expected) for name in ("safe_to_taste", "not_safe", "unknown")) > 100


@pytest.mark.parametrize("reading, status", [(76.4, "safe_to_taste"), (75.9, "not_safe")])
def test_the_verdict_of_the_documented_cook(browser: Browser, address: str, reading: float, status: str) -> None:
    cook = {
        "core_temperature_c": [reading, 77.0, 79.1],
        "rest_s": 120,
        "rest_covered": True,
        "completed": True,
        "cooked_at": "2026-03-02T10:15:00Z",
        "thermometer_checked_at": "2026-03-02T07:40:00Z",
    }
    context = new_context(browser, "phone")
    page = context.new_page()
    page.goto(f"{address}/oven/")
    assert page.evaluate(_DECIDE, [[sheet_rule(brief()), cook]])[0][0] == status
    context.close()
