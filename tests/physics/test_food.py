"""Food of any portion: properties from make-up, and freezing."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tuner.domain import Portion
from tuner.physics import choi_okos, freezing
from tuner.physics.food import GENERIC_MAKE_UP, filled_make_up, food_of


def _portion(**parts: float) -> Portion:
    make_up = {"water": 0.0, "fat": 0.0, "protein": 0.0, "carbohydrate": 0.0, "ash": 0.0} | parts
    return Portion(mass_g=100, shape="slab", thickness_mm=20, start_state="chilled", start_temperature_c=4, **make_up)


fractions = st.lists(st.floats(0, 1), min_size=6, max_size=6).map(lambda raw: [x / max(sum(raw), 1.0) for x in raw])


@given(fractions)
@settings(deadline=None)
def test_any_make_up_has_sound_properties(parts: list[float]) -> None:
    names = ("water", "fat", "protein", "carbohydrate", "ash", "fibre")
    food = food_of(_portion(**dict(zip(names, parts, strict=True))))
    assert sum(food.make_up.values()) == pytest.approx(1.0)
    assert 850 < food.density < 2500
    assert 1000 < food.specific_heat < 4300
    assert 0.1 < food.conductivity < 0.8
    assert -8.0 <= food.freezing_point_c <= -0.4
    assert 1.0 <= food.frozen_conductivity_ratio < 5.0
    assert 0.0 <= food.freezable <= 1.0


def test_a_portion_that_tells_nothing_is_the_generic_dish() -> None:
    assert filled_make_up(_portion()) == pytest.approx(GENERIC_MAKE_UP | {"fibre": 0.0})


def test_a_make_up_slightly_above_one_is_scaled_down() -> None:
    made = filled_make_up(_portion(water=0.72, fat=0.08, protein=0.20, ash=0.01))
    assert sum(made.values()) == pytest.approx(1.0)
    assert made["water"] / made["protein"] == pytest.approx(3.6)


def test_lean_meat_conducts_as_measured() -> None:
    """0.20 + 0.40 water is the usual line for unfrozen foods; frozen meat conducts about three times as well."""
    food = food_of(_portion(water=0.72, fat=0.05, protein=0.21, ash=0.01))
    assert food.conductivity == pytest.approx(0.20 + 0.40 * 0.72, rel=0.1)
    assert 2.4 < food.frozen_conductivity_ratio < 3.6


@given(st.floats(-40, -0.7), st.floats(0.3, 0.95), st.floats(0, 0.3))
@settings(deadline=None)
def test_temperature_of_frozen_food_is_the_inverse_of_its_enthalpy(t: float, water: float, protein: float) -> None:
    freezable, solids, point = freezing.freezable_water(water, protein), 1 - water, -0.6
    enthalpy = freezing.frozen_enthalpy(freezable, solids, point, t)
    assert freezing.temperature_of_frozen(freezable, solids, point, np.array(enthalpy)) == pytest.approx(t, abs=1e-7)


@given(st.floats(-40, -1.5))
@settings(deadline=None)
def test_apparent_heat_is_the_slope_of_the_enthalpy(t: float) -> None:
    step = 1e-4
    rise = freezing.frozen_enthalpy(0.6, 0.3, -1.2, t + step) - freezing.frozen_enthalpy(0.6, 0.3, -1.2, t - step)
    assert freezing.apparent_specific_heat(0.6, 0.3, -1.2, t) == pytest.approx(rise / (2 * step), rel=1e-4)


def test_enthalpy_does_not_jump_at_the_freezing_point() -> None:
    food = food_of(_portion(water=0.72, fat=0.05, protein=0.21, ash=0.01))
    just_below, just_above = (food.enthalpy(food.freezing_point_c + d) for d in (-1e-9, 1e-9))
    assert just_below == pytest.approx(just_above, abs=1.0)


@pytest.mark.parametrize("component, t", [("water", -1.0), ("ice", 1.0), ("protein", 151.0), ("fat", -41.0)])
def test_properties_outside_their_range_are_refused(component: str, t: float) -> None:
    for function in (choi_okos.component_conductivity, choi_okos.component_density, choi_okos.component_specific_heat):
        with pytest.raises(ValueError, match="Use a temperature in that range"):
            function(component, t)
