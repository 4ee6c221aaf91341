"""How much microwave power a portion takes and where it goes."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tuner.physics.cells import cells_for
from tuner.physics.microwave import absorption, coupling, steamed_off, temperature_factor

shapes = st.sampled_from(["slab", "cylinder", "sphere", "loose"])


def _spread(shape: str, half: float, depth: float, focusing: float = 0.5, frozen: float = 0.0, refine: int = 1):
    cells = cells_for(shape, half, refine)
    spread, absorbed = absorption(cells, half, np.array([depth]), np.array([focusing]), np.array([frozen]))
    return cells, spread[:, 0], float(absorbed[0])


@given(shapes, st.floats(0.0005, 0.125), st.floats(1e-5, 1.0), st.floats(0, 1), st.floats(0, 1))
@settings(deadline=None)
def test_all_absorbed_power_is_somewhere(shape: str, half: float, depth: float, focusing: float, frozen: float) -> None:
    cells, spread, absorbed = _spread(shape, half, depth, focusing, frozen)
    assert np.isfinite(spread).all()
    assert (spread >= 0).all()
    assert cells.volume @ spread == pytest.approx(1.0)
    assert 0.0 < absorbed <= 1.0 + 1e-12


@pytest.mark.parametrize("thickness_mm, share", [(30, 0.30), (40, 0.16), (50, 0.09)])
def test_the_middle_of_a_thawed_slab_gets_the_share_of_the_surface_that_lambert_gives(
    thickness_mm: float, share: float
) -> None:
    """Penetration depth 8 mm, heated from both sides: 30, 16 and 9 % of the power at the surface."""
    _, spread, _ = _spread("slab", 0.5e-3 * thickness_mm, 8e-3, refine=20)
    assert spread[0] / spread[-1] == pytest.approx(share, abs=0.015)


def test_a_cylinder_and_a_sphere_focus_as_far_as_the_wavelength_lets_them() -> None:
    plain = _spread("cylinder", 0.014, 11e-3, 0.0)[1]
    cylinder, sphere = (_spread(shape, 0.014, 11e-3, 1.0)[1] for shape in ("cylinder", "sphere"))
    assert plain[0] < cylinder[0] < sphere[0]
    assert sphere[0] < (0.014 / 4.3e-3) ** 2
    assert _spread("slab", 0.014, 11e-3, 1.0)[1] == pytest.approx(_spread("slab", 0.014, 11e-3, 0.0)[1])


def test_ice_lets_power_through_and_takes_less_of_it() -> None:
    thawed, frozen = _spread("slab", 0.014, 11e-3), _spread("slab", 0.014, 44e-3, frozen=1.0)
    assert frozen[1][0] / frozen[1][-1] > thawed[1][0] / thawed[1][-1]
    assert frozen[2] < thawed[2]
    mass = np.array([180.0])
    assert 0.6 < float((coupling(mass, frozen[2]) / coupling(mass, thawed[2]))[0]) < 0.9


def test_hot_edges_take_more_the_thicker_the_portion_and_nothing_without_ice() -> None:
    depth, frozen = np.full(3, 11e-3), np.array([1.0, 0.5, 0.0])
    thin, thick = steamed_off(0.005, depth, frozen), steamed_off(0.02, depth, frozen)
    assert (thin[:2] < thick[:2]).all()
    assert thick[0] > thick[1] > thick[2] == 0.0
    assert thick[0] < 0.5


def test_two_portions_need_the_microwave_seconds_of_the_trade() -> None:
    """1.6 to 1.9 times those of one (common practice): twice the mass over the power the load takes."""
    ratio = 2.0 * float(coupling(np.array(200.0)) / coupling(np.array(400.0)))
    assert 1.6 <= ratio <= 1.9
    assert float(coupling(np.array(200.0))) == pytest.approx(1.0)


@given(st.floats(1, 20000), st.floats(1.001, 3))
@settings(deadline=None)
def test_a_larger_load_takes_more_power_but_less_per_mass(mass: float, times: float) -> None:
    small, large = coupling(np.array([mass, mass * times]))
    assert small < large < small * times


def test_coupling_falls_with_temperature_and_ends_with_the_water() -> None:
    mean = np.array([-18.0, 20.0, 60.0, 100.0])
    falling = temperature_factor(mean, np.full(4, 0.2), 100.0, np.ones(4))
    assert falling[1] == pytest.approx(1.0)
    assert falling[3] == pytest.approx(0.8)
    assert (np.diff(falling) < 0).all()
    assert (temperature_factor(mean, np.full(4, 0.2), 100.0, np.zeros(4)) < 0.12).all()
    assert temperature_factor(np.array([300.0]), np.array([-1.0]), 100.0, np.ones(1))[0] == 0.0
