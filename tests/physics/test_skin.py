"""The surface balance: wet stays cool, dry gets hot, nothing is lost."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tuner.physics.skin import CAVITY_VAPOUR_PA, LATENT_HEAT_STEAM, Skin, Surroundings, vapour_pressure


def _skin(dried: float = 0.0, start: float = 60.0, refill: float = 300.0) -> Skin:
    skin = Skin(np.array([start]), np.array([600.0]), np.array([0.25]), np.array([refill]), 730.0)
    skin.dried[:] = dried
    return skin


def _settle(skin: Skin, h: float, air: float, outer: float, factor: float = 0.22, steps: int = 30) -> float:
    """Skin temperature after many short steps in which the crust hardly changes."""
    around = Surroundings.of(np.array([air]), CAVITY_VAPOUR_PA, np.array([factor]))
    one, dt = np.ones(1), np.array([1e-3])
    for _ in range(steps):
        skin.before(dt, np.array([h]), np.array([outer]), around, one)
        skin.after(dt, np.array([outer]), np.array([outer]), np.zeros(1), one.copy())
    return float(skin.temperature[0])


@given(st.floats(20, 200), st.floats(150, 300), st.floats(5, 99))
@settings(deadline=None, max_examples=50)
def test_a_fresh_skin_stays_below_boiling_and_a_dry_one_gets_hotter(h: float, air: float, outer: float) -> None:
    wet, dry = _settle(_skin(0.0), h, air, outer, factor=1.0), _settle(_skin(2.0), h, air, outer, factor=1.0)
    assert wet < 101.0
    assert wet < dry < air


@given(st.floats(20, 200), st.floats(150, 300), st.floats(5, 99), st.floats(0, 1.5))
@settings(deadline=None, max_examples=50)
def test_the_balance_closes(h: float, air: float, outer: float, dried: float) -> None:
    """Air heat through the crust = heat into the food + evaporation of the mean wetness at the front."""
    skin = _skin(dried)
    _settle(skin, h, air, outer)
    around = Surroundings.of(np.array([air]), CAVITY_VAPOUR_PA, np.array([0.22]))
    one, dt = np.ones(1), np.array([1e-3])
    skin.before(dt, np.array([h]), np.array([outer]), around, one)
    evaporated = float(skin.after(dt, np.array([outer]), np.array([outer]), np.zeros(1), one.copy())[0])
    into_food = 600.0 * (float(skin.front[0]) - outer) * 1e-3
    assert float(skin.air_heat[0]) == pytest.approx(into_food + evaporated * LATENT_HEAT_STEAM, abs=1e-6)
    wetness = np.exp(-float(skin.dried[0]) / 0.25)
    drive = float(vapour_pressure(skin.front)[0]) - CAVITY_VAPOUR_PA
    expected = wetness * h * float(around.evaporation[0]) * drive * 1e-3
    assert evaporated == pytest.approx(expected, rel=2e-3, abs=1e-9)


@given(st.floats(20, 150), st.floats(1.01, 2.0), st.floats(0, 1.5))
@settings(deadline=None, max_examples=50)
def test_faster_air_never_cools_a_skin_over_a_cooler_inside(h: float, times: float, dried: float) -> None:
    slow, fast = (_settle(_skin(dried), speed, 250.0, 60.0) for speed in (h, h * times))
    assert fast >= slow - 1e-6


def test_the_crust_dries_at_the_pace_of_evaporation_and_refills_in_its_time() -> None:
    skin = _skin(0.5)
    around = Surroundings.of(np.array([20.0]), 2000.0, np.array([1e-9]))
    skin.before(np.array([300.0]), np.array([10.0]), np.array([20.0]), around, np.ones(1))
    skin.after(np.array([300.0]), np.array([20.0]), np.array([20.0]), np.zeros(1), np.ones(1))
    assert float(skin.dried[0]) == pytest.approx(0.25, rel=1e-3)  # backward step over one time constant
    skin.before(np.array([300.0]), np.array([10.0]), np.array([20.0]), around, np.ones(1))
    skin.after(np.array([300.0]), np.array([20.0]), np.array([20.0]), np.zeros(1), np.zeros(1))
    assert float(skin.dried[0]) == pytest.approx(0.25, rel=1e-3)  # nothing comes back without water inside


def test_steam_from_inside_wets_the_crust() -> None:
    skin = _skin(0.3)
    around = Surroundings.of(np.array([250.0]), CAVITY_VAPOUR_PA, np.array([0.22]))
    skin.before(np.array([1.0]), np.array([80.0]), np.array([99.0]), around, np.ones(1))
    skin.after(np.array([1.0]), np.array([99.0]), np.array([99.0]), np.array([0.2]), np.ones(1))
    assert float(skin.dried[0]) < 0.15


@pytest.mark.parametrize("seconds, within", [(5.0, 0.05), (30.0, 0.25), (600.0, 0.6), (5000.0, 1.0)])
@pytest.mark.parametrize("dried", [0.0, 0.4])
def test_one_long_step_dries_about_as_many_short_ones(seconds: float, within: float, dried: float) -> None:
    """The crust shields the front as it grows, which one step can't know; a plain step would dry 6 kg/m2 in 600 s."""
    around = Surroundings.of(np.array([250.0]), CAVITY_VAPOUR_PA, np.array([0.22]))
    results = []
    for steps in (1, 400):
        skin, dt = _skin(dried, start=90.0, refill=1e12), np.array([seconds / steps])
        for _ in range(steps):
            skin.before(dt, np.array([80.0]), np.array([90.0]), around, np.ones(1))
            skin.after(dt, np.array([90.0]), np.array([90.0]), np.zeros(1), np.ones(1))
        results.append(float(skin.dried[0]))
    assert results[0] == pytest.approx(results[1], rel=within)


def test_vapour_pressure_is_that_of_steam_tables() -> None:
    """2.339, 19.95 and 101.4 kPa at 20, 60 and 100 °C (IAPWS)."""
    assert vapour_pressure(np.array([20.0, 60.0, 100.0])) == pytest.approx([2339.0, 19950.0, 101400.0], rel=0.03)
