"""Draws the hidden nature of a dish of a food class. Centres and spreads are invented for rehearsal (no source)."""

from __future__ import annotations

import numpy as np

from tuner.domain import FoodClass, Portion
from tuner.rehearsal.nature import Absorption, Body, Browning, Crust, Nature, Pressure, Senses, States, Variation

_STATES: dict[FoodClass, States] = {
    "poultry": States(60.0, 84.0, 6.0, (-1.4, 0.0, 1.3), (0.05, 0.09)),
    "ground_meat": States(58.0, 83.0, 6.0, (-1.2, 0.0, 1.1), (0.06, 0.08)),
    "whole_muscle": States(56.0, 80.0, 5.5, (-1.5, 0.0, 1.6), (0.05, 0.10)),
    "fish": States(48.0, 70.0, 6.0, (-1.3, 0.5, -0.6), (0.04, 0.10)),
    "egg": States(66.0, 86.0, 4.0, (-2.0, 0.0, 1.8), (0.01, 0.07)),
    "stuffed": States(62.0, 84.0, 7.0, (0.9, -0.4, 0.5), (0.03, 0.05)),
    "reheated": States(62.0, 86.0, 7.0, (-0.8, 0.4, -0.5), (0.02, 0.05)),
    "plant": States(74.0, 90.0, 7.0, (1.4, 0.0, -1.3), (0.03, 0.06)),
    "bakery": States(62.0, 88.0, 7.0, (-0.9, 0.0, 1.0), (0.01, 0.02)),
}
_DENSITY_KG_M3: dict[FoodClass, float] = {"bakery": 420.0, "plant": 850.0, "egg": 950.0}
_SHAPES = {"slab": (1.0, 0.8), "cylinder": (2.0, 1.1), "sphere": (2.6, 1.6), "loose": (1.5, 1.2)}
"""Top and rim areas as multiples of volume / thickness."""
_SKIN_MM = 1.5


def _around(rng: np.random.Generator, centre: float, spread: float) -> float:
    """A positive number near `centre`; `spread` is the standard deviation of its logarithm."""
    return centre * float(np.exp(spread * np.clip(rng.standard_normal(), -2, 2)))


def _body(food_class: FoodClass, portion: Portion, rng: np.random.Generator) -> Body:
    exposed, rim_area = _SHAPES[portion.shape]
    skin = min(exposed * _SKIN_MM / portion.thickness_mm, 0.14)
    return Body(
        skin=skin,
        base=min(0.8 * 2.0 / portion.thickness_mm, 0.14),
        pocket=_around(rng, 0.06, 0.25),
        rim=_around(rng, 0.15, 0.2),
        heart=_around(rng, 0.24, 0.12),
        exposed=exposed,
        rim_area=rim_area,
        density_kg_m3=_around(rng, _DENSITY_KG_M3.get(food_class, 1040.0), 0.03),
        conduction=_around(rng, 1.5, 0.15),
    )


def _absorption(portion: Portion, rng: np.random.Generator) -> Absorption:
    return Absorption(
        half_depth_mm=_around(rng, 30.0 if portion.water < 0.5 else 22.0, 0.2),
        rim_excess=_around(rng, 1.45, 0.12),
        pocket_excess=_around(rng, 1.7, 0.15),
        runaway=_around(rng, 0.6, 0.4),
        warming=-0.12 + 0.08 * float(rng.standard_normal()),
        frozen=_around(rng, 0.32, 0.2),
    )


def _crust(rng: np.random.Generator, order: float) -> Crust:
    return Crust(
        water_kg_m3=_around(rng, 360.0, 0.15),
        conductivity_w_mk=_around(rng, 0.085, 0.15),
        evaporation_at_c=_around(rng, 72.0, 0.04),
        evaporation_width_c=_around(rng, 9.0, 0.15),
        refill=min(_around(rng, 0.25 + 0.5 * order, 0.15), 0.9),
        push_kg_m2=_around(rng, 0.0006 + 0.007 * order, 0.25),
        film_kg_m2=_around(rng, 0.12, 0.2),
        softening_s=_around(rng, 320.0, 0.3),
        skin_below_c=_around(rng, 46.0, 0.08),
    )


def _browning(portion: Portion, rng: np.random.Generator) -> Browning:
    sugary = 1.5 if portion.carbohydrate > 0.25 else 1.0
    # what takes an hour conventionally must not be burnt by it: slow dishes brown at hotter crusts only
    slow = 0.72 if portion.start_state == "frozen" or portion.thickness_mm > 28 else 1.0
    return Browning(
        first_per_s=_around(rng, 0.016 * sugary, 0.25),
        second_per_s=_around(rng, 0.017, 0.25),
        first_doubling_c=_around(rng, 18.0 * slow, 0.1),
        second_doubling_c=_around(rng, 22.0 * slow, 0.1),
        half_dry_mm=_around(rng, 0.25, 0.25),
    )


def _states(food_class: FoodClass, rng: np.random.Generator) -> States:
    centre = _STATES[food_class]
    shift = 1.5 * float(np.clip(rng.standard_normal(), -2, 2))
    return States(
        set_at_c=centre.set_at_c + shift,
        over_at_c=centre.over_at_c + shift + 1.5 * float(np.clip(rng.standard_normal(), -2, 2)),
        doubling_c=_around(rng, centre.doubling_c, 0.1),
        firmness=centre.firmness,
        drip=(_around(rng, centre.drip[0], 0.2), _around(rng, centre.drip[1], 0.2)),
    )


def _senses(rng: np.random.Generator, order: float) -> Senses:
    return Senses(
        crisp=_around(rng, 0.6, 0.25),
        leather=_around(rng, 1.0 + 5.0 * order, 0.2),
        sog=_around(rng, 1.0 + 3.0 * order, 0.2),
        toughening=_around(rng, 0.3, 0.4),
        edges=_around(rng, 0.7, 0.3),
        contrast=_around(rng, 1.6, 0.25),
        loss=_around(rng, 1.0, 0.2),
        dry_crust=_around(rng, 0.5, 0.25),
        skin=_around(rng, 0.5 + 1.5 * order, 0.3),
        film=_around(rng, 1.0 + 2.0 * order, 0.2),
        parched=_around(rng, 1.5, 0.3),
        halo=_around(rng, 0.25, 0.3),
        fade=min(_around(rng, 0.2 + 0.62 * order, 0.08), 0.92),
    )


_START_SPREAD_C = {"frozen": 1.0, "tempered": 0.2, "chilled": 0.9, "ambient": 1.0}
"""Typical scatter of the start temperature; tempered food is kept closely, since there a degree is much ice."""


def _variation(portion: Portion, rng: np.random.Generator) -> Variation:
    # frozen portions come from a factory, weighed and pressed
    frozen = portion.start_state == "frozen"
    return Variation(
        mass_pct=_around(rng, 1.9 if frozen else 2.5, 0.15),
        thickness_pct=_around(rng, 1.2 if frozen else 2.0, 0.2),
        start_c=_around(rng, _START_SPREAD_C[portion.start_state], 0.2),
        water_pct=_around(rng, 0.8, 0.2),
        pickup_pct=_around(rng, 1.3, 0.2),
        pattern_pct=_around(rng, 5.0, 0.3),
        surface_pct=_around(rng, 9.0, 0.3),
    )


def drawn_nature(food_class: FoodClass, portion: Portion, rng: np.random.Generator, order: float) -> Nature:
    """Nature of one dish.

    Parameters
    ----------
    food_class, portion
        As in the brief.
    rng
        Fixes the dish.
    order
        How strongly the order of stages matters, 0 to about 1: a crust dried fast over a cold inside turns to leather, steam
        and water driven outward soak it again.
    """
    return Nature(
        body=_body(food_class, portion, rng),
        absorption=_absorption(portion, rng),
        crust=_crust(rng, order),
        browning=_browning(portion, rng),
        states=_states(food_class, rng),
        pressure=Pressure(_around(rng, 97.0 - 3.0 * order, 0.01), _around(rng, 5.0, 0.2)),
        senses=_senses(rng, order),
        variation=_variation(portion, rng),
    )
