"""Conduction cells: thawed and icy ones agree where both hold, and energy is kept step by step."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.physics.dishes import NAMES, brief, oven
from tuner.physics.conduction import FreezingCells, ThawedCells, face_conductance
from tuner.physics.cooking import body_of

seeds = st.integers(0, 100_000)


def _both(name: str, start: float):
    body = body_of(brief(name), oven())
    faces = face_conductance(body.cells, np.array([body.food.conductivity]), body.half_thickness_m, body.food.density)
    return body, [kind(body.cells, body.food, np.array([start]), faces, 100.0) for kind in (ThawedCells, FreezingCells)]


@given(st.sampled_from(NAMES), st.floats(1, 30), seeds)
@settings(deadline=None, max_examples=40)
def test_icy_cells_without_ice_are_thawed_cells(name: str, dt: float, seed: int) -> None:
    rng = np.random.default_rng(seed)
    body, (thawed, icy) = _both(name, 5.0)
    for cells in (thawed, icy):
        cells.begin(np.array([dt]))
    for _ in range(12):
        heating = rng.uniform(0, 4000, (body.cells.count, 1))
        surface, sink = rng.uniform(0.5, 5, 1), rng.uniform(60, 200, 1)
        boiled = [cells.step(heating.copy(), surface, sink, np.ones(1)) for cells in (thawed, icy)]
        assert boiled[0][0] == pytest.approx(boiled[1][0], abs=1e-9)
    assert thawed.temperature == pytest.approx(icy.temperature, abs=1e-6)
    assert thawed.enthalpy() == pytest.approx(icy.enthalpy(), rel=1e-9)
    assert thawed.frozen_share() is None
    assert icy.frozen_share() == pytest.approx(0.0)


@given(st.sampled_from(NAMES), st.floats(-40, 30), st.floats(0.5, 60), seeds)
@settings(deadline=None, max_examples=40)
def test_enthalpy_rises_by_what_goes_in(name: str, start: float, dt: float, seed: int) -> None:
    rng = np.random.default_rng(seed)
    body, kinds = _both(name, start)
    cells = kinds[1] if start < body.food.freezing_point_c else kinds[0]
    cells.begin(np.array([dt]))
    before, into = cells.enthalpy(), np.zeros(1)
    for _ in range(15):
        heating = rng.uniform(0, 1500, (body.cells.count, 1))
        surface, sink = rng.uniform(0.1, 2, 1), rng.uniform(20, 90, 1)
        into += dt * (body.cells.volume @ heating)
        boiled, inner = cells.step(heating.copy(), surface, sink, np.ones(1))
        into += dt * surface * (sink - cells.outer_solved) - 2.257e6 * boiled
        assert (inner <= boiled + 1e-15).all()
    assert cells.enthalpy() - before == pytest.approx(into, abs=2.0)


@given(st.floats(-40, -2), seeds)
@settings(deadline=None, max_examples=30)
def test_temperatures_stay_between_start_and_surroundings_without_heating(start: float, seed: int) -> None:
    rng = np.random.default_rng(seed)
    body, (_, icy) = _both("Breaded cutlet", start)
    icy.begin(np.array([rng.uniform(0.5, 20)]))
    for _ in range(60):
        icy.step(np.zeros((body.cells.count, 1)), np.array([2.0]), np.array([30.0]), np.ones(1))
        assert (icy.temperature >= start - 1e-6).all()
        assert (icy.temperature <= 30.5).all()
    assert (np.diff(icy.temperature[:, 0]) >= -0.5).all()


def test_boiling_holds_the_temperature_until_the_water_is_gone() -> None:
    body, (thawed, _) = _both("Turkey escalope", 99.0)
    thawed.begin(np.array([10.0]))
    heating = np.full((body.cells.count, 1), 20_000.0)
    boiled, inner = thawed.step(heating.copy(), np.zeros(1), np.array([99.0]), np.ones(1))
    assert thawed.temperature.max() == pytest.approx(100.0)
    assert boiled[0] * 2.257e6 == pytest.approx(10 * 20_000 - body.food.specific_heat, rel=1e-6)
    assert 0 < inner[0] < boiled[0]
    thawed.step(heating.copy(), np.zeros(1), np.array([99.0]), np.zeros(1))
    assert thawed.temperature.min() > 140.0
