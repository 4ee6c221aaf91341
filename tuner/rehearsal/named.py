"""The named kitchens: dishes of all food classes at unlike ovens."""

from __future__ import annotations

from tuner.domain import CriticalLimit, FoodClass, Portion
from tuner.rehearsal.limits import hot_plant, intact_to_order, microwave_rule, nothing_to_kill, served_at_once
from tuner.rehearsal.ovens import OVENS
from tuner.rehearsal.plan import KitchenPlan

_Frame = tuple[float, float, float, float, bool]
"""Core window low and high [°C], longest duration [s], rest [s], covered."""


def _portion(
    mass_g: float, shape: str, thickness_mm: float, makeup: tuple[float, float, float, float, float], state: str, start_c: float
) -> Portion:
    water, fat, protein, carbohydrate, ash = makeup
    return Portion.model_validate(
        {
            "mass_g": mass_g,
            "shape": shape,
            "thickness_mm": thickness_mm,
            "water": water,
            "fat": fat,
            "protein": protein,
            "carbohydrate": carbohydrate,
            "ash": ash,
            "start_state": state,
            "start_temperature_c": start_c,
        }
    )


def _plan(
    number: int,
    name: str,
    dish: str,
    food_class: FoodClass,
    allergens: tuple[str, ...],
    ingredients: tuple[str, ...],
    portion: Portion,
    oven: str,
    limit: CriticalLimit,
    frame: _Frame,
    panel: tuple[int, float],
    *,
    order: float,
) -> KitchenPlan:
    low, high, longest, rest, covered = frame
    return KitchenPlan(
        name=name,
        dish=dish,
        food_class=food_class,
        allergens=allergens,
        ingredients=ingredients,
        portion=portion,
        oven=OVENS[oven],
        limit=limit,
        core_low_c=low,
        core_high_c=high,
        longest_s=longest,
        rest_s=rest,
        covered=covered,
        tasters=panel[0],
        taster_sd=panel[1],
        places=3,
        confirmation_cooks=3,
        order=order,
        seed=(1, number),
    )


NAMED: dict[str, KitchenPlan] = {
    plan.name: plan
    for plan in (
        _plan(
            121,
            "pork-cutlet",
            "Breaded pork cutlet",
            "whole_muscle",
            ("gluten", "egg"),
            ("pork loin", "bread crumb", "egg", "wheat flour", "rapeseed oil"),
            _portion(165, "slab", 19, (0.64, 0.11, 0.20, 0.04, 0.01), "chilled", 4),
            "left",
            microwave_rule(),
            (74, 86, 300, 120, True),
            (4, 0.4),
            order=1.0,
        ),
        _plan(
            242,
            "lamb-kofta",
            "Lamb kofta with cumin",
            "ground_meat",
            (),
            ("minced lamb", "onion", "parsley", "cumin", "salt"),
            _portion(120, "cylinder", 30, (0.62, 0.16, 0.18, 0.02, 0.02), "chilled", 3),
            "counter",
            microwave_rule(),
            (76, 87, 240, 120, True),
            (3, 0.35),
            order=0.45,
        ),
        _plan(
            83,
            "cinnamon-bun",
            "Part-baked cinnamon bun",
            "bakery",
            ("gluten", "milk", "egg"),
            ("wheat flour", "milk", "butter", "egg", "sugar", "cinnamon"),
            _portion(95, "sphere", 48, (0.30, 0.12, 0.08, 0.49, 0.01), "ambient", 20),
            "fixed",
            nothing_to_kill(),
            (72, 82, 240, 60, False),
            (5, 0.4),
            order=0.55,
        ),
        _plan(
            104,
            "pollock-crumb",
            "Pollock fillet with herb crumb",
            "fish",
            ("fish", "gluten"),
            ("pollock", "bread crumb", "parsley", "dill", "rapeseed oil"),
            _portion(150, "slab", 22, (0.74, 0.04, 0.17, 0.04, 0.01), "chilled", 2),
            "checked",
            intact_to_order(),
            (64, 74, 240, 60, False),
            (4, 0.4),
            order=0.75,
        ),
        _plan(
            25,
            "stuffed-pepper",
            "Stuffed pepper with rice and beef",
            "stuffed",
            (),
            ("sweet pepper", "minced beef", "rice", "tomato", "onion"),
            _portion(210, "cylinder", 46, (0.76, 0.06, 0.08, 0.09, 0.01), "chilled", 4),
            "strong",
            microwave_rule(),
            (76, 88, 420, 120, True),
            (4, 0.45),
            order=0.0,
        ),
        _plan(
            166,
            "aubergine-bake",
            "Aubergine and chickpea bake",
            "reheated",
            ("sesame",),
            ("aubergine", "chickpeas", "tomato", "tahini", "olive oil"),
            _portion(220, "slab", 27, (0.74, 0.08, 0.05, 0.12, 0.01), "chilled", 4),
            "slow_air",
            microwave_rule(),
            (74, 86, 420, 120, True),
            (3, 0.4),
            order=0.85,
        ),
        _plan(
            7,
            "spinach-flatbread",
            "Spinach flatbread with white cheese",
            "bakery",
            ("gluten", "milk"),
            ("wheat flour", "spinach", "white cheese", "olive oil", "yeast"),
            _portion(140, "slab", 16, (0.42, 0.10, 0.10, 0.36, 0.02), "ambient", 19),
            "high",
            served_at_once(),
            (72, 82, 180, 30, False),
            (4, 0.35),
            order=0.0,
        ),
        _plan(
            68,
            "egg-squares",
            "Breakfast egg squares with chives",
            "egg",
            ("egg", "milk"),
            ("egg", "milk", "chives", "butter", "salt"),
            _portion(110, "slab", 25, (0.76, 0.10, 0.11, 0.02, 0.01), "chilled", 4),
            "fine",
            microwave_rule(),
            (76, 86, 240, 120, True),
            (6, 0.5),
            order=0.0,
        ),
        _plan(
            169,
            "hand-pie",
            "Beef and barley hand pie",
            "reheated",
            ("gluten", "egg", "milk"),
            ("wheat flour", "beef", "barley", "butter", "egg", "onion"),
            _portion(180, "slab", 30, (0.50, 0.15, 0.10, 0.23, 0.02), "frozen", -18),
            "strong",
            microwave_rule(),
            (76, 88, 420, 120, True),
            (4, 0.4),
            order=0.35,
        ),
        _plan(
            50,
            "paprika-strips",
            "Chicken thigh strips with paprika",
            "poultry",
            (),
            ("chicken thigh", "paprika", "garlic", "rapeseed oil", "salt"),
            _portion(150, "loose", 17, (0.70, 0.09, 0.18, 0.02, 0.01), "chilled", 3),
            "left",
            microwave_rule(),
            (74, 86, 270, 120, True),
            (4, 0.4),
            order=1.1,
        ),
        _plan(
            71,
            "cauliflower-crumb",
            "Cauliflower wedge with almond crumb",
            "plant",
            ("almond", "gluten"),
            ("cauliflower", "almonds", "bread crumb", "olive oil"),
            _portion(170, "slab", 35, (0.86, 0.04, 0.03, 0.06, 0.01), "chilled", 4),
            "counter",
            hot_plant(),
            (74, 86, 360, 60, False),
            (3, 0.4),
            order=0.0,
        ),
    )
}
