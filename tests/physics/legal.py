"""Random briefs, ovens and programs over everything that is legal, extremes included."""

from __future__ import annotations

from typing import Any

import numpy as np

from tests.physics.dishes import program
from tuner.domain import Brief, Oven, Program
from tuner.domain.portion import START_RANGES_C

CLASSES = ("poultry", "ground_meat", "whole_muscle", "fish", "egg", "stuffed", "reheated", "plant", "bakery")
SHAPES = ("slab", "cylinder", "sphere", "loose")


def between(rng: np.random.Generator, low: float, high: float, *, log: bool = False) -> float:
    """A value in a range, in three of ten cases one of its ends."""
    chance = rng.random()
    if chance < 0.3:
        return low if chance < 0.15 else high
    return float(np.exp(rng.uniform(np.log(low), np.log(high)))) if log else float(rng.uniform(low, high))


def _make_up(rng: np.random.Generator) -> dict[str, float]:
    kind = rng.random()
    if kind < 0.1:
        parts = np.zeros(5)
    elif kind < 0.2:
        parts = np.eye(5)[rng.integers(5)]
    elif kind < 0.3:
        parts = rng.dirichlet(np.ones(5)) * rng.random()
    else:
        parts = rng.dirichlet([6, 1, 2, 1, 0.2])
    return dict(zip(("water", "fat", "protein", "carbohydrate", "ash"), parts.tolist(), strict=True))


def brief(rng: np.random.Generator) -> Brief:
    """Any legal brief, as far as the physics reads it."""
    state = str(rng.choice(list(START_RANGES_C)))
    portion: dict[str, Any] = {
        "mass_g": between(rng, 1, 20000, log=True), "shape": str(rng.choice(SHAPES)),
        "thickness_mm": between(rng, 1, 250, log=True), **_make_up(rng), "start_state": state,
        "start_temperature_c": between(rng, *START_RANGES_C[state]), "covered": bool(rng.random() < 0.2),
    }  # fmt: skip
    if rng.random() < 0.2:
        portion["salt"] = float(rng.uniform(0, 0.3))
    document: dict[str, Any] = {
        "dish": "any", "food_class": str(rng.choice(CLASSES)), "portion": portion, "rest_s": between(rng, 0, 3600), "targets": {},
    }  # fmt: skip
    if rng.random() < 0.7:
        document["conventional"] = {
            "method": "any", "oven_temperature_c": between(rng, 40, 400), "duration_s": between(rng, 30, 86400, log=True),
        }  # fmt: skip
    if rng.random() < 0.6:
        low, high = sorted(rng.uniform(-40, 120, 2).tolist())
        document["targets"]["core_temperature_c"] = [{"low": low}, {"high": high}, {"low": low, "high": high}][rng.integers(3)]
    if rng.random() < 0.6:
        document["targets"]["cook_loss_pct"] = {"high": float(rng.uniform(-10, 80))}
    if rng.random() < 0.4:
        document["critical_limit"] = {"core_temperature_c": float(rng.uniform(0, 120)), "rest_s": between(rng, 0, 3600)}
    return Brief.model_validate(document)


def oven(rng: np.random.Generator) -> Oven:
    """Any legal oven, as far as the physics reads it."""
    document: dict[str, Any] = {
        "name": "any", "air_temperature_c": {"low": between(rng, 20, 200), "high": between(rng, 210, 400), "step": 5},
        "air_speed_pct": {"low": 0, "high": 100, "step": 1}, "microwave_pct": {"low": 0, "high": 100, "step": 1},
        "duration_s": {"low": 1, "high": 7200, "step": 1}, "share_step_pct": 1, "max_stages": 20,
    }  # fmt: skip
    for name, low, high in (("microwave_rated_w", 100, 6000), ("air_speed_max_m_s", 0.5, 60), ("altitude_m", -400, 5000)):
        if rng.random() < 0.6:
            document[name] = between(rng, low, high)
    if rng.random() < 0.4:
        document["checks"] = [
            {"watts_w": between(rng, 1, 6000, log=True), "standard_error_w": between(rng, 0, 3000)},
            {"h_w_m2k": between(rng, 1, 1000, log=True), "air_temperature_c": between(rng, 0, 450)},
        ]
    return Oven.model_validate(document)


def programs(rng: np.random.Generator, count: int) -> list[Program]:
    """Any legal programs."""
    found = []
    for _ in range(count):
        share = np.maximum(np.round(100 * rng.dirichlet(np.ones(rng.integers(1, 7)))), 1)
        share[np.argmax(share)] += 100 - share.sum()
        stages = [(part, between(rng, 0, 100), between(rng, 0, 100)) for part in share]
        found.append(program(between(rng, 20, 400), between(rng, 1, 7200, log=True), *stages))
    return found
