"""Invented dishes of every food class, an oven, and programs, for the tests of the physics."""

from __future__ import annotations

from typing import Any

import numpy as np

from tuner.domain import Brief, Oven, Program, Stage

OVEN: dict[str, Any] = {
    "name": "Bench oven",
    "air_temperature_c": {"low": 200, "high": 270, "step": 5},
    "air_speed_pct": {"low": 10, "high": 100, "step": 5},
    "microwave_pct": {"low": 0, "high": 100, "step": 5},
    "duration_s": {"low": 20, "high": 1200, "step": 5},
    "share_step_pct": 5,
    "max_stages": 5,
    "microwave_rated_w": 1500,
    "air_speed_max_m_s": 22,
}

# name, class, g, shape, mm, (water, fat, protein, carbohydrate, ash), state, start, oven, seconds, core window, largest loss
_DISHES: tuple[tuple[Any, ...], ...] = (
    ("Turkey escalope", "poultry", 180, "slab", 28, (0.70, 0.08, 0.19, 0.02, 0.01), "chilled", 4, 190, 1500, (74, 84), 18),
    ("Lamb kofta", "ground_meat", 90, "cylinder", 28, (0.62, 0.17, 0.16, 0.03, 0.02), "chilled", 4, 220, 900, (76, 86), 22),
    ("Pork loin slice", "whole_muscle", 160, "slab", 22, (0.69, 0.09, 0.20, 0.01, 0.01), "chilled", 3, 200, 1200, (65, 75), 18),
    ("Pollock with crumb", "fish", 150, "slab", 20, (0.76, 0.04, 0.18, 0.01, 0.01), "chilled", 3, 190, 900, (65, 75), 16),
    ("Egg squares", "egg", 110, "slab", 40, (0.76, 0.10, 0.12, 0.01, 0.01), "chilled", 4, 170, 1800, (74, 82), 12),
    ("Stuffed pepper", "stuffed", 260, "cylinder", 60, (0.78, 0.06, 0.08, 0.07, 0.01), "chilled", 4, 180, 3000, (76, 86), 15),
    ("Aubergine bake", "reheated", 320, "slab", 40, (0.70, 0.08, 0.07, 0.13, 0.02), "chilled", 4, 180, 2700, (76, 88), 12),
    ("Root vegetables", "plant", 200, "loose", 18, (0.89, 0.02, 0.02, 0.06, 0.01), "chilled", 4, 210, 1500, (70, 90), 30),
    ("Cinnamon bun", "bakery", 80, "sphere", 55, (0.35, 0.08, 0.08, 0.47, 0.02), "ambient", 20, 200, 900, (90, 97), 12),
    ("Breaded cutlet", "ground_meat", 140, "slab", 18, (0.58, 0.12, 0.16, 0.12, 0.02), "frozen", -18, 200, 1500, (76, 86), 20),
)

NAMES = tuple(dish[0] for dish in _DISHES)
CHILLED = tuple(dish[0] for dish in _DISHES if dish[6] != "frozen")


def document(name: str = "Turkey escalope") -> dict[str, Any]:
    """The brief of a dish as a document, to change before it is read."""
    _, food_class, mass, shape, thick, parts, state, start, oven_c, seconds, core, loss = next(
        d for d in _DISHES if d[0] == name
    )
    make_up = dict(zip(("water", "fat", "protein", "carbohydrate", "ash"), parts, strict=True))
    return {
        "dish": name,
        "food_class": food_class,
        "portion": {
            "mass_g": mass, "shape": shape, "thickness_mm": thick, **make_up, "start_state": state, "start_temperature_c": start,
        },
        "conventional": {"method": "oven", "oven_temperature_c": oven_c, "duration_s": seconds},
        "targets": {
            "core_temperature_c": {"low": core[0], "high": core[1]},
            "browning": {"low": 2.5, "high": 3.5},
            "texture": {"low": 2.5, "high": 3.5},
            "moisture": {"low": 2.5, "high": 3.5},
            "cook_loss_pct": {"low": 0, "high": loss},
        },
        "rest_s": 60,
    }  # fmt: skip


def brief(name: str = "Turkey escalope", portion: dict[str, Any] | None = None, **changes: Any) -> Brief:
    """The brief of a dish, with changes to its portion and to the rest."""
    base = document(name)
    base["portion"] |= portion or {}
    return Brief.model_validate({**base, **changes})


def oven(**changes: Any) -> Oven:
    """The bench oven, with changes."""
    return Oven.model_validate({**OVEN, **changes})


def program(air_c: float, duration_s: float, *stages: tuple[float, float, float]) -> Program:
    """A program of stages (share, air speed, microwave) [%]."""
    parts = [Stage(share_pct=float(s), air_speed_pct=float(a), microwave_pct=float(m)) for s, a, m in stages]
    return Program(air_temperature_c=float(air_c), duration_s=float(duration_s), stages=tuple(parts))


USUAL = program(250, 240, (40, 30, 62), (35, 60, 20), (25, 85, 10))
"""Microwave early, air late: about right for the turkey escalope."""


def random_programs(rng: np.random.Generator, count: int) -> list[Program]:
    """Programs of one to three stages as such ovens allow."""
    found = []
    for _ in range(count):
        stages = int(rng.integers(1, 4))
        cuts = np.sort(rng.choice(np.arange(1, 20), stages - 1, replace=False)) * 5.0
        shares = np.diff(np.concatenate([[0.0], cuts, [100.0]]))
        parts = [(share, float(rng.integers(2, 21) * 5), float(rng.integers(0, 21) * 5)) for share in shares]
        found.append(program(float(rng.integers(40, 55) * 5), float(rng.integers(12, 120) * 5), *parts))
    return found
