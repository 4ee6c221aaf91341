"""The parts of the kitchens' model: heat is kept, steps don't matter to the company, known directions hold."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tuner.domain import Program
from tuner.rehearsal import kitchen, names
from tuner.rehearsal.network import HEART, MANTLE, heat_of, network_of, step
from tuner.rehearsal.portions import nominal
from tuner.rehearsal.schedule import schedule_of
from tuner.rehearsal.simulation import cooked
from tuner.rehearsal.table import joined, table_of


def program(air_c, duration_s, *stages):
    return Program.model_validate(
        {
            "air_temperature_c": air_c,
            "duration_s": duration_s,
            "stages": [{"share_pct": a, "air_speed_pct": b, "microwave_pct": c} for a, b, c in stages],
        }
    )


def steady(here):
    """The kitchen with a microwave that does not switch: its results are smooth in the program."""
    return here.bench.in_cavity(replace(here.bench.setup.cavity, period_s=0.0))


def nominal_of(bench, *programs):
    return bench.cook_nominal(table_of(programs))


@settings(max_examples=60, deadline=None)
@given(st.floats(-40, 110), st.floats(0.2, 0.9), st.booleans())
def test_enthalpy_and_temperature_are_each_others_inverse(temperature_c, water, icy):
    portion = kitchen("hand-pie").brief.portion
    heat = replace(heat_of(portion, np.array([water]), np.array([-18.0])), icy=icy)
    there = heat.enthalpy(np.array([temperature_c]))
    assert heat.temperature(there)[0] == pytest.approx(temperature_c, abs=1e-9)


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 10**6), st.floats(0.5, 120))
def test_a_step_books_exactly_the_heat_that_comes_in(seed, step_s):
    setup = kitchen("hand-pie").bench.setup
    rng = np.random.default_rng(seed)
    network = network_of(setup.portion, setup.nature.body, nominal(setup.portion, 3))
    temperature = rng.uniform(-25, 100, (6, 3))
    enthalpy = network.heat.enthalpy(temperature)
    source, outer, outer_c = rng.uniform(0, 80, (6, 3)), rng.uniform(0, 2, (5, 3)), rng.uniform(20, 260, (5, 3))
    sealed = step(network, enthalpy, temperature, source, 0 * outer, outer_c, np.full(3, step_s))
    gained = ((sealed - enthalpy) * network.mass_kg).sum(axis=0)
    np.testing.assert_allclose(gained, source.sum(axis=0) * step_s, rtol=1e-9)
    # with the outside at the portion's own temperature and no source, nothing happens
    level = np.full((6, 3), 30.0)
    still = network.heat.enthalpy(level)
    same = step(network, still, level, 0 * source, outer, level[:5], np.full(3, step_s))
    np.testing.assert_allclose(same, still, rtol=1e-9)


def test_a_sealed_portion_evens_out_to_one_temperature():
    setup = kitchen("pork-cutlet").bench.setup
    network = network_of(setup.portion, setup.nature.body, nominal(setup.portion, 1))
    enthalpy = network.heat.enthalpy(np.array([[80.0], [90.0], [95.0], [70.0], [20.0], [50.0]]))
    zero = np.zeros((6, 1))
    mean = (enthalpy * network.mass_kg).sum() / network.mass_kg.sum()
    for _ in range(400):
        now = network.heat.temperature(enthalpy)
        enthalpy = step(network, enthalpy, now, zero, zero[:5], zero[:5], np.array([20.0]))
    np.testing.assert_allclose(enthalpy, mean, rtol=1e-6)


def test_compartments_hold_the_whole_mass():
    for name in names():
        setup = kitchen(name).bench.setup
        network = network_of(setup.portion, setup.nature.body, nominal(setup.portion, 2))
        assert (network.mass_kg > 0).all()
        np.testing.assert_allclose(network.mass_kg.sum(axis=0), setup.portion.mass_g / 1000)


def test_a_program_cooks_the_same_in_any_company():
    here = kitchen("pollock-crumb")
    tables = [table_of([program(250, seconds, (40, 20, 60), (60, 90, 10))]) for seconds in (120, 500, 1300)]
    together = here.bench.cook_nominal(joined(tables))
    for row, table in enumerate(tables):
        alone = here.bench.cook_nominal(table)
        np.testing.assert_allclose(alone.latent[:, 0], together.latent[:, row], rtol=1e-12)
        np.testing.assert_allclose(alone.places_c[:, 0], together.places_c[:, row], rtol=1e-12)


def test_a_stage_cut_in_two_equal_ones_changes_nothing():
    here = kitchen("pork-cutlet")
    whole = program(240, 200, (40, 30, 60), (60, 90, 10))
    cut = program(240, 200, (15, 30, 60), (25, 30, 60), (35, 90, 10), (25, 90, 10))
    result = nominal_of(here.bench, whole, cut)
    np.testing.assert_allclose(result.latent[:, 0], result.latent[:, 1], rtol=1e-9)
    np.testing.assert_allclose(result.places_c[:, 0], result.places_c[:, 1], rtol=1e-9)


@settings(max_examples=40, deadline=None)
@given(st.integers(5, 95), st.integers(0, 100), st.integers(0, 100), st.integers(20, 700))
def test_a_switching_microwave_gives_no_more_than_its_level(share, first, second, seconds):
    cavity = replace(kitchen("cinnamon-bun").bench.setup.cavity, fade=0.0, period_s=24.0, lag_s=1.0)
    table = table_of([program(250, seconds, (share, 50, first), (100 - share, 50, second))])
    duty = schedule_of(table, cavity, 36).duty
    assert (duty >= 0).all()
    assert (duty <= 1 + 1e-9).all()
    given_s = duty.sum() * seconds / 36
    asked_s = seconds * (share * first + (100 - share) * second) / 10000
    assert given_s <= asked_s + 2 * 24.0  # a stage may begin and end inside a pulse
    no_lag = schedule_of(table, replace(cavity, lag_s=0.0), 36).duty.sum() * seconds / 36
    assert given_s <= no_lag + 1e-9
    assert abs(no_lag - asked_s) <= 2 * 24.0


def test_full_power_never_switches():
    cavity = replace(kitchen("cinnamon-bun").bench.setup.cavity, fade=0.0)
    np.testing.assert_allclose(schedule_of(table_of([program(250, 100, (100, 50, 100))]), cavity, 36).duty, 1.0)


@pytest.mark.parametrize("name", names())
def test_more_microwave_longer_and_hotter_are_never_colder(name):
    bench = steady(kitchen(name))
    base, more, longer, hotter = (
        program(220, 180, (50, 40, 30), (50, 80, 10)),
        program(220, 180, (50, 40, 45), (50, 80, 20)),
        program(220, 220, (50, 40, 30), (50, 80, 10)),
        program(250, 180, (50, 40, 30), (50, 80, 10)),
    )
    core = nominal_of(bench, base, more, longer, hotter).lowest_c
    assert (core[1:] >= core[0] - 0.05).all()
    assert core[1] > core[0] + 1


@pytest.mark.parametrize("name", names())
def test_heavier_and_colder_portions_are_not_hotter(name):
    here = kitchen(name)
    bench, portion = steady(here), here.brief.portion
    table = table_of([here.good_program] * 3)
    base = nominal(portion, 3)
    mass = base.mass_g * np.array([1.0, 1.15, 1.0])
    start = base.start_c - np.array([0.0, 0.0, 3.0])
    core = bench.cook(table, replace(base, mass_g=mass, start_c=start)).lowest_c
    assert core[1] < core[0]
    assert core[2] < core[0]


@pytest.mark.parametrize("name", [name for name in names() if kitchen(name).order_decides])
def test_microwave_at_the_end_soaks_the_crust_that_air_at_the_end_dries(name):
    here = kitchen(name)
    table = table_of([here.good_program])
    setup = here.bench.setup
    forward = cooked(setup, table, nominal(setup.portion, 1))
    backward = cooked(setup, table.reversed_stages(), nominal(setup.portion, 1))
    assert backward.dry_mm[0] < forward.dry_mm[0]


def test_frozen_food_warms_with_a_cold_heart_first():
    setup = kitchen("hand-pie").bench.setup
    result = cooked(setup, table_of([program(220, 150, (100, 50, 60))]), nominal(setup.portion, 1))
    assert result.temperature_c[HEART, 0] < result.temperature_c[MANTLE, 0] - 5


def test_loss_never_exceeds_the_water_there_is():
    for name in ("cinnamon-bun", "aubergine-bake"):
        here = kitchen(name)
        burnt = nominal_of(here.bench, program(400, 7200, (100, 100, 100)))
        assert 20 < burnt.loss_pct[0] <= 100 * here.brief.portion.water
