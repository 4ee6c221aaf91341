"""Draws a whole kitchen from a seed: food class, dish, portion, oven, limit and panel."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from tuner.domain import CriticalLimit, FoodClass, Oven, Portion
from tuner.rehearsal.limits import hot_plant, intact_to_order, microwave_rule, nothing_to_kill
from tuner.rehearsal.plan import KitchenPlan

_ORDERED_SHARE = 0.7
"""Share of seeds whose kitchens are made so that the order of stages decides."""


@dataclass(frozen=True, slots=True)
class _Kind:
    """Frame of the dishes of one food class: names, make-up, sizes, core window above the usable low edge."""

    food_class: FoodClass
    dishes: tuple[tuple[str, tuple[str, ...], tuple[str, ...]], ...]
    makeup: tuple[float, float, float, float, float]
    mass_g: tuple[float, float]
    thickness_mm: tuple[float, float]
    shapes: tuple[str, ...]
    starts: tuple[str, ...]
    limits: tuple[str, ...]


_KINDS = (
    _Kind(
        "poultry",
        (
            ("Turkey steak with sage", (), ("turkey breast", "sage", "rapeseed oil")),
            ("Chicken patty with oats", ("gluten",), ("chicken thigh", "oats", "onion")),
        ),
        (0.70, 0.07, 0.20, 0.02, 0.01),
        (110, 200),
        (15, 28),
        ("slab", "loose"),
        ("chilled", "chilled", "frozen"),
        ("microwave",),
    ),
    _Kind(
        "ground_meat",
        (
            ("Beef rissole with caraway", ("gluten", "egg"), ("minced beef", "bread crumb", "egg", "caraway")),
            ("Pork and apple patty", (), ("minced pork", "apple", "sage")),
        ),
        (0.63, 0.14, 0.18, 0.03, 0.02),
        (90, 180),
        (18, 30),
        ("slab", "cylinder"),
        ("chilled", "frozen"),
        ("microwave",),
    ),
    _Kind(
        "whole_muscle",
        (
            ("Pork neck steak with mustard", ("mustard",), ("pork neck", "mustard", "honey")),
            ("Veal escalope in seed crust", ("sesame", "egg"), ("veal", "sesame", "egg")),
        ),
        (0.66, 0.11, 0.20, 0.02, 0.01),
        (120, 210),
        (15, 26),
        ("slab",),
        ("chilled",),
        ("microwave", "intact"),
    ),
    _Kind(
        "fish",
        (
            ("Coalfish with lemon crumb", ("fish", "gluten"), ("coalfish", "bread crumb", "lemon")),
            ("Trout side with horseradish", ("fish",), ("trout", "horseradish", "rapeseed oil")),
        ),
        (0.73, 0.07, 0.18, 0.01, 0.01),
        (110, 190),
        (15, 26),
        ("slab",),
        ("chilled", "frozen"),
        ("intact", "microwave"),
    ),
    _Kind(
        "egg",
        (
            ("Egg and potato wedge", ("egg",), ("egg", "potato", "onion")),
            ("Curd and egg slice", ("egg", "milk"), ("egg", "curd", "chives")),
        ),
        (0.74, 0.10, 0.11, 0.04, 0.01),
        (90, 180),
        (18, 30),
        ("slab",),
        ("chilled",),
        ("microwave",),
    ),
    _Kind(
        "stuffed",
        (
            ("Cabbage roll with bulgur", ("gluten",), ("cabbage", "bulgur", "minced beef")),
            ("Courgette boat with lentils and lamb", (), ("courgette", "lentils", "minced lamb")),
        ),
        (0.76, 0.06, 0.08, 0.09, 0.01),
        (140, 240),
        (26, 42),
        ("cylinder", "slab"),
        ("chilled",),
        ("microwave",),
    ),
    _Kind(
        "reheated",
        (
            ("Lentil and carrot bake", (), ("lentils", "carrot", "tomato")),
            ("Potato and leek gratin slice", ("milk",), ("potato", "leek", "cream")),
        ),
        (0.72, 0.08, 0.06, 0.13, 0.01),
        (160, 280),
        (22, 34),
        ("slab",),
        ("chilled", "frozen"),
        ("microwave",),
    ),
    _Kind(
        "plant",
        (
            ("Beetroot and millet cake", (), ("beetroot", "millet", "onion")),
            ("Sweet potato wedges with thyme", (), ("sweet potato", "thyme", "olive oil")),
        ),
        (0.76, 0.05, 0.04, 0.14, 0.01),
        (110, 220),
        (16, 30),
        ("slab", "loose"),
        ("chilled", "ambient", "frozen"),
        ("plant",),
    ),
    _Kind(
        "bakery",
        (
            ("Part-baked rye roll", ("gluten",), ("rye flour", "wheat flour", "caraway")),
            ("Poppy seed braid", ("gluten", "milk", "egg"), ("wheat flour", "poppy seed", "milk", "egg")),
        ),
        (0.34, 0.10, 0.09, 0.46, 0.01),
        (70, 150),
        (25, 45),
        ("slab", "sphere", "cylinder"),
        ("ambient", "frozen"),
        ("none",),
    ),
)
_START_C = {"frozen": (-20.0, -16.0), "chilled": (2.0, 5.0), "ambient": (18.0, 23.0)}


def _limit(kind: str) -> CriticalLimit:
    return {"microwave": microwave_rule, "intact": intact_to_order, "plant": hot_plant, "none": nothing_to_kill}[kind]()


def _pick(rng: np.random.Generator, count: int) -> int:
    return int(rng.random() * count)


def _portion(kind: _Kind, rng: np.random.Generator) -> Portion:
    shape, state = kind.shapes[_pick(rng, len(kind.shapes))], kind.starts[_pick(rng, len(kind.starts))]
    water, fat, protein, carbohydrate, ash = kind.makeup
    shift = float(rng.uniform(-0.04, 0.04))
    low, high = _START_C[state]
    return Portion.model_validate(
        {
            "mass_g": float(round(rng.uniform(*kind.mass_g) * (0.7 if state == "frozen" else 1.0) / 5) * 5),
            "shape": shape,
            "thickness_mm": float(round(rng.uniform(*kind.thickness_mm))),
            "water": round(water + shift, 3),
            "fat": round(fat - 0.4 * shift, 3),
            "protein": protein,
            "carbohydrate": round(carbohydrate - min(0.6 * shift, 0.5 * carbohydrate), 3),
            "ash": ash,
            "start_state": state,
            "start_temperature_c": float(round(rng.uniform(low, high))),
        }
    )


def _oven(seed: int, rng: np.random.Generator) -> Oven:
    """An oven of the same seed; every fifth or so has a fixed air temperature."""
    air_step, percent_step, time_step = (choices[_pick(rng, len(choices))] for choices in ((5, 10), (5, 10), (5, 10)))
    air_low = 180 + 5 * _pick(rng, 5)
    air_high = 250 + 5 * _pick(rng, 7)
    fixed = rng.random() < 0.2
    air = {"low": 240, "high": 240} if fixed else {"low": air_low, "high": air_high, "step": air_step}
    document = {
        "name": f"Rehearsal oven {seed}",
        "air_temperature_c": air,
        "air_speed_pct": {"low": 10 * _pick(rng, 3), "high": 100, "step": percent_step},
        "microwave_pct": {"low": 0, "high": 100, "step": percent_step},
        "duration_s": {"low": 20, "high": 900, "step": time_step},
        "share_step_pct": (5, 10)[_pick(rng, 2)],
        "max_stages": 3 + _pick(rng, 4),
        "microwave_rated_w": float(round(rng.uniform(1000, 2000) / 50) * 50),
        "air_speed_max_m_s": float(round(rng.uniform(14, 26))),
    }
    if rng.random() < 0.4:
        document["on_off_period_s"] = float(12 + 4 * _pick(rng, 4))
    if rng.random() < 0.5:
        document["serial"] = f"S-{abs(seed) % 100000}"
    return Oven.model_validate(document)


def _longest_s(portion: Portion, oven: Oven, rng: np.random.Generator) -> float:
    """A duration that the trade would ask for: time to bring the heat by microwave, and time to dry and brown the crust."""
    heat_kj_kg = 480.0 if portion.start_state == "frozen" else 260.0
    watts = 0.75 * (oven.microwave_rated_w or 1500.0) * portion.mass_g / (portion.mass_g + 105.0)
    need = portion.mass_g * heat_kj_kg / watts
    return float(round(min(max(150.0 + need * rng.uniform(1.4, 2.2), 240.0), 420.0) / 30) * 30)


_ORDER: dict[FoodClass, float] = {
    "poultry": 1.1,
    "egg": 1.0,
    "whole_muscle": 0.9,
    "plant": 0.6,
    "stuffed": 0.4,
    "reheated": 0.6,
}


def _order(portion: Portion, food_class: FoodClass) -> float:
    """Where the order of stages begins to decide, found by trying: ice and thick dishes need less of it."""
    return _ORDER.get(food_class, 0.7) * (0.55 if portion.start_state == "frozen" else 1.0)


def invented_plan(seed: int, draw: int = 0) -> KitchenPlan:
    """Plan of the kitchen of a seed; `draw` counts plans that could not be won before it."""
    key = (2, abs(seed), int(seed < 0), draw)
    rng = np.random.default_rng([0x5EED, *key])
    kind = _KINDS[_pick(rng, len(_KINDS))]
    dish, allergens, ingredients = kind.dishes[_pick(rng, len(kind.dishes))]
    portion, oven = _portion(kind, rng), _oven(seed, rng)
    limit = _limit(kind.limits[_pick(rng, len(kind.limits))])
    usable = 72.0 if limit.core_temperature_c is None else limit.core_temperature_c + limit.guard_c
    width = 10.0 + round(rng.uniform(0, 2)) if portion.start_state == "frozen" else 8.0 + round(rng.uniform(0, 3))
    rest = max(limit.rest_s, float((30, 60, 90)[_pick(rng, 3)]))
    return KitchenPlan(
        name=f"seed-{seed}",
        dish=dish,
        food_class=kind.food_class,
        allergens=allergens,
        ingredients=ingredients,
        portion=portion,
        oven=oven,
        limit=limit,
        core_low_c=usable - (2.0 if rng.random() < 0.3 and limit.core_temperature_c is not None else 0.0),
        core_high_c=usable + width,
        longest_s=_longest_s(portion, oven, rng),
        rest_s=rest,
        covered=bool(limit.covered),
        tasters=3 + _pick(rng, 4),
        taster_sd=round(rng.uniform(0.3, 0.45), 2),
        places=3,
        confirmation_cooks=3,
        order=_order(portion, kind.food_class) if rng.random() < _ORDERED_SHARE else 0.0,
        seed=key,
    )
