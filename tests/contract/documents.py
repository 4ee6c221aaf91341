"""Random legal documents, far beyond what kitchens usually have: the calls must answer for every one of them."""

from __future__ import annotations

from typing import Any

import numpy as np

SHAPES = ("slab", "cylinder", "sphere", "loose")
CLASSES = ("poultry", "ground_meat", "whole_muscle", "fish", "egg", "stuffed", "reheated", "plant", "bakery")
STARTS = {"frozen": (-40, -0.5), "tempered": (-10, -0.5), "chilled": (-2, 10), "ambient": (8, 60)}


def _setting(rng: np.random.Generator, low: float, high: float, steps: tuple[float, ...]) -> dict[str, float]:
    if rng.random() < 0.15:
        fixed = float(np.round(rng.uniform(low, high), 1))
        return {"low": fixed, "high": fixed}
    a, b = sorted(np.round(rng.uniform(low, high, 2), 0))
    return {"low": float(a), "high": float(b), "step": float(rng.choice(steps))}


def oven(rng: np.random.Generator) -> dict[str, Any]:
    """A random legal oven: odd ranges, odd steps, fixed settings, few or many stages."""
    document: dict[str, Any] = {
        "name": f"Oven {rng.integers(1000)}",
        "air_temperature_c": _setting(rng, 60, 350, (1, 2.5, 5, 7, 10, 25)),
        "air_speed_pct": _setting(rng, 0, 100, (1, 3, 5, 10, 30)),
        "microwave_pct": _setting(rng, 0, 100, (1, 5, 10, 12.5, 20)),
        "duration_s": {
            "low": float(rng.integers(1, 60)),
            "high": float(rng.integers(60, 2400)),
            "step": float(rng.choice((1, 5, 7, 10, 30))),
        },
        "share_step_pct": float(rng.choice((1, 2, 2.5, 5, 10, 20, 25, 50, 100))),
        "max_stages": int(rng.integers(1, 9)),
    }
    if rng.random() < 0.7:
        document["microwave_rated_w"] = float(rng.integers(100, 6000))
    if rng.random() < 0.7:
        document["air_speed_max_m_s"] = float(np.round(rng.uniform(0.5, 60), 1))
    if rng.random() < 0.2:
        document["min_stage_s"] = float(rng.integers(0, 40))
    if rng.random() < 0.2:
        document["on_off_period_s"] = float(rng.integers(1, 30))
    if rng.random() < 0.2:
        document["altitude_m"] = float(rng.integers(-400, 5000))
    if rng.random() < 0.3:
        document["checks"] = [
            {
                "watts_w": float(rng.integers(100, 3000)),
                "standard_error_w": float(rng.integers(1, 60)),
                "hot": bool(rng.integers(2)),
            }
        ]
    return document


def portion(rng: np.random.Generator) -> dict[str, Any]:
    """A random legal portion, extreme ones included."""
    state = str(rng.choice(list(STARTS)))
    low, high = STARTS[state]
    make_up = rng.dirichlet((6, 1, 2, 2, 0.3)) * rng.uniform(0.9, 1.0)
    if rng.random() < 0.1:
        make_up = rng.dirichlet((0.3, 0.3, 0.3, 0.3, 0.3)) * rng.uniform(0.0, 1.0)
    names = ("water", "fat", "protein", "carbohydrate", "ash")
    return {
        "mass_g": float(np.round(np.exp(rng.uniform(np.log(1), np.log(20000))), 1))
        if rng.random() < 0.3
        else float(rng.integers(30, 900)),
        "shape": str(rng.choice(SHAPES)),
        "thickness_mm": float(np.round(np.exp(rng.uniform(np.log(1), np.log(250))), 1))
        if rng.random() < 0.3
        else float(rng.integers(8, 60)),
        **{name: float(np.round(share, 4)) for name, share in zip(names, make_up, strict=True)},
        "start_state": state,
        "start_temperature_c": float(np.clip(np.round(rng.uniform(low, high), 1), low, high)),
    }


def _window(rng: np.random.Generator, low: float, high: float) -> dict[str, float]:
    a, b = sorted(np.round(rng.uniform(low, high, 2), 2))
    window = {"low": float(a), "high": float(b + 0.5)}
    if rng.random() < 0.25:
        window.pop(str(rng.choice(("low", "high"))))
    return window


def brief(rng: np.random.Generator) -> dict[str, Any]:
    """A random legal brief: any windows or none, any limit or none, any portion."""
    document: dict[str, Any] = {
        "dish": f"Dish {rng.integers(1000)}",
        "food_class": str(rng.choice(CLASSES)),
        "portion": portion(rng),
        "targets": {},
        "rest_s": float(rng.integers(0, 300)),
        "confirmation_cooks": int(rng.integers(1, 6)),
    }
    if rng.random() < 0.8:
        document["conventional"] = {
            "method": "oven",
            "oven_temperature_c": float(rng.integers(40, 400)) if rng.random() < 0.2 else float(rng.integers(150, 250)),
            "duration_s": float(rng.integers(30, 86400)) if rng.random() < 0.1 else float(rng.integers(300, 5400)),
        }
    targets = document["targets"]
    if rng.random() < 0.8:
        targets["core_temperature_c"] = _window(rng, 50, 95)
    for name in ("browning", "texture", "moisture"):
        if rng.random() < 0.8:
            targets[name] = {"low": 2.5, "high": 3.5} if rng.random() < 0.7 else _window(rng, 1, 4.4)
    if rng.random() < 0.7:
        targets["cook_loss_pct"] = {"low": 0, "high": float(rng.integers(5, 35))}
    if rng.random() < 0.7:
        targets["duration_s"] = {"low": float(rng.integers(0, 60)), "high": float(rng.integers(60, 900))}
    kind = rng.random()
    if kind < 0.5:
        document["critical_limit"] = {
            "core_temperature_c": float(rng.integers(55, 85)),
            "rest_s": float(rng.choice((0, 60, 120))),
            "covered": bool(rng.integers(2)),
            "guard_c": float(rng.integers(0, 6)),
            "rule": "house rule",
            "approved_by": "food-safety lead",
        }
    elif kind < 0.6:
        document["critical_limit"] = {"none": True, "rule": "nothing to kill", "approved_by": "food-safety lead"}
    elif kind < 0.7:
        document["critical_limit"] = {"core_temperature_c": 50.0}
    for name, value in (
        ("places", int(rng.integers(1, 6))),
        ("tasters", int(rng.integers(1, 9))),
        ("budget_cooks", int(rng.integers(3, 40))),
    ):
        if rng.random() < 0.3:
            document[name] = value
    if rng.random() < 0.2:
        document["texture_with_heat"] = str(rng.choice(("firmer", "softer")))
    if rng.random() < 0.1:
        document["eaters"] = "vulnerable"
    if rng.random() < 0.1:
        document["market"] = str(rng.choice(("US", "UK", "Scotland", "EU", "Nowhere")))
    return document


def program(rng: np.random.Generator) -> dict[str, Any]:
    """A random legal program that knows no oven: usually off its steps."""
    count = int(rng.integers(1, 5))
    cuts = np.sort(rng.choice(np.arange(1, 20), count - 1, replace=False)) * 5
    shares = np.diff(np.concatenate(([0], cuts, [100])))
    return {
        "air_temperature_c": float(rng.integers(150, 280)),
        "duration_s": float(rng.integers(20, 900)),
        "stages": [
            {"share_pct": float(s), "air_speed_pct": float(rng.integers(0, 101)), "microwave_pct": float(rng.integers(0, 101))}
            for s in shares
        ],
    }


def cook(rng: np.random.Generator, made: dict[str, Any] | None = None) -> dict[str, Any]:
    """A random legal cook with anything missing; `made` is its program."""
    document: dict[str, Any] = {
        "program": made or program(rng),
        "purpose": str(rng.choice(("first_guess", "search", "confirm"))),
    }
    if rng.random() < 0.05:
        document = {"program": None, "purpose": "benchmark"}
    if rng.random() < 0.8:
        document["mass_g"] = float(rng.integers(50, 800))
        if rng.random() < 0.8:
            document["mass_out_g"] = float(np.round(document["mass_g"] * rng.uniform(0.6, 1.02), 1))
    if rng.random() < 0.8:
        document["start_temperature_c"] = float(np.round(rng.uniform(-20, 20), 1))
    if rng.random() < 0.85:
        base = rng.uniform(40, 95)
        document["core_temperature_c"] = [float(np.round(base + rng.normal(0, 2), 1)) for _ in range(int(rng.integers(1, 5)))]
    if rng.random() < 0.7:
        document["scores"] = [
            {
                "taster": name,
                **{a: float(rng.integers(2, 11)) / 2 for a in ("browning", "texture", "moisture") if rng.random() < 0.9},
            }
            for name in "ABCD"[: int(rng.integers(1, 5))]
        ]
    if rng.random() < 0.7:
        document["rest_s"] = float(rng.integers(0, 300))
        document["rest_covered"] = bool(rng.integers(2))
    if rng.random() < 0.6:
        document["completed"] = bool(rng.random() < 0.9)
    if rng.random() < 0.5:
        document["cooked_at"] = "2026-03-02T10:15:00Z"
        document["thermometer_checked_at"] = "2026-03-02T07:40:00Z"
    if rng.random() < 0.05:
        document["program_set"] = program(rng)
    if rng.random() < 0.1:
        document["oven_serial"] = "another"
    return document
