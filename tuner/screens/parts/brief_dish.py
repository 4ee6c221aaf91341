"""The brief's first half: dish, portion, conventional method."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, get_args

import streamlit as st

from tuner.domain import Brief, FoodClass, StartState
from tuner.screens.fields import Form

FOOD_CLASSES = {name: name.replace("_", " ") for name in get_args(FoodClass)}
SHAPES = {
    "slab": "slab",
    "cylinder": "cylinder",
    "sphere": "sphere",
    "loose": "loose pieces",
}
START_STATES = {name: name for name in get_args(StartState)}
EATERS = {"general": "general", "vulnerable": "vulnerable"}
_ALLERGENS = {"unknown": "Not known yet", "none": "None", "some": "Contains …"}
MAKE_UP = ("water", "fat", "protein", "carbohydrate", "ash")


def _allergens(form: Form, brief: Brief | None) -> list[str] | None:
    """Missing means unknown, and unknown is not none."""
    known = brief.allergens if brief else None
    before = "unknown" if known is None else "some" if known else "none"
    kind = form.choice("allergens", "Allergens", _ALLERGENS, value=before)
    if kind == "some":
        typed = form.text("allergen_names", "Which? Separated by commas", value=", ".join(known or ()), required=True)
        return [name.strip() for name in (typed or "").split(",") if name.strip()]
    return [] if kind == "none" else None


def dish_fields(form: Form, brief: Brief | None) -> dict[str, Any]:
    """Dish, customer, class, eaters, market, allergens, preparation."""
    left, right = st.columns(2)
    with left:
        dish = form.text("dish", "Dish", value=brief.dish if brief else None, required=True, longest=300)
    with right:
        customer = form.text("customer", "Customer (empty: the house)", value=brief.customer if brief else None)
    left, middle, right = st.columns(3)
    with left:
        food_class = form.choice(
            "food_class",
            "Food class, by its riskiest component",
            FOOD_CLASSES,
            value=brief.food_class if brief else None,
            in_list=True,
            help_text="Filling, raw egg, raw flour, injected or tenderised meat count as the riskier class.",
        )
    with middle:
        eaters = form.choice("eaters", "Eaters", EATERS, value=brief.eaters if brief else "general")
    with right:
        market = form.text("market", "Market whose rules count", value=brief.market if brief else None)
    if food_class is None:
        form.problems.append("Food class is missing.")
    found: dict[str, Any] = {"dish": dish, "customer": customer, "food_class": food_class, "eaters": eaters, "market": market}
    found["allergens"] = _allergens(form, brief)
    found["preparation"] = _preparation(form, brief)
    return found


def _preparation(form: Form, brief: Brief | None) -> str | tuple[str, ...] | None:
    """What is done before and after; steps that are kept one by one stay so until they are typed anew."""
    before = brief.preparation if brief else None
    shown = before if isinstance(before, str) else "; ".join(before or ())
    typed = form.text("preparation", "Preparation", value=shown or None, longest=2000)
    return before if typed == (shown or None) else typed


def _make_up(form: Form, brief: Brief | None) -> dict[str, float | None]:
    st.text("Make-up of the portion, from the label or a table")
    fractions: dict[str, float | None] = {}
    for name, column in zip((*MAKE_UP, "salt"), st.columns([1, 1, 1, 1.45, 1, 1])):
        with column:
            before = getattr(brief.portion, name) if brief else None
            percent = form.quantity(
                name,
                name.capitalize(),
                "share",
                value=None if before is None else 100 * before,
                required=name != "salt",
            )
        fractions[name] = None if percent is None else round(percent / 100, 9)
    return fractions


def portion_fields(form: Form, brief: Brief | None) -> dict[str, Any]:
    """Mass, shape, thickness, make-up, start."""
    portion = brief.portion if brief else None
    left, middle, right = st.columns(3)
    with left:
        mass = form.quantity("mass_g", "Mass", "mass", value=portion.mass_g if portion else None, required=True)
    with middle:
        shape = form.choice("shape", "Shape", SHAPES, value=portion.shape if portion else None, in_list=True)
    with right:
        thickness = form.quantity(
            "thickness_mm", "Thickness", "length", value=portion.thickness_mm if portion else None, required=True
        )
    found: dict[str, Any] = {"mass_g": mass, "shape": shape, "thickness_mm": thickness} | _make_up(form, brief)
    left, middle, right = st.columns(3)
    with left:
        found["start_state"] = form.choice(
            "start_state", "Start", START_STATES, value=portion.start_state if portion else None, in_list=True
        )
    with middle:
        found["start_temperature_c"] = form.quantity(
            "start_temperature_c",
            "Start temperature",
            "temperature",
            value=portion.start_temperature_c if portion else None,
            required=True,
        )
    with right:
        whole = {"yes": "Intact", "no": "Injected or tenderised"}
        before = None if portion is None or portion.intact is None else "yes" if portion.intact else "no"
        intact = form.choice("intact", "Whole muscle", whole, value=before, in_list=True)
        found["intact"] = None if intact is None else intact == "yes"
    form.problems += [
        f"{label} is missing." for name, label in (("shape", "Shape"), ("start_state", "Start")) if not found[name]
    ]
    return found


def conventional_fields(form: Form, brief: Brief | None) -> dict[str, Any] | None:
    """How the dish is cooked now; None where nothing is given."""
    usual = brief.conventional if brief else None
    left, middle, right = st.columns(3)
    with left:
        method = form.text("method", "Conventional method", value=usual.method if usual else None)
    with middle:
        temperature = form.quantity(
            "oven_temperature_c",
            "Oven temperature",
            "temperature",
            value=usual.oven_temperature_c if usual else None,
            of_oven=True,
        )
    with right:
        duration = form.quantity("conventional_s", "Duration", "duration", value=usual.duration_s if usual else None)
    found: Mapping[str, Any] = {"method": method, "oven_temperature_c": temperature, "duration_s": duration}
    if all(value is None for value in found.values()):
        return None
    names = {"method": "its name", "oven_temperature_c": "the oven temperature", "duration_s": "the duration"}
    form.problems += [f"Conventional method: {names[name]} is missing." for name, value in found.items() if value is None]
    return dict(found)
