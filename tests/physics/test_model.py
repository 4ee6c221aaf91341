"""The vectorised model: finite for everything legal, the same answer alone and in a crowd."""

from __future__ import annotations

import dataclasses

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.physics import legal
from tests.physics.dishes import NAMES, USUAL, brief, oven, program, random_programs
from tuner.physics import COLUMNS, PARAMETERS, ProgramArrays, portion_model

seeds = st.integers(0, 1_000_000)


@given(seeds)
@settings(deadline=None, max_examples=30)
def test_everything_legal_has_a_finite_forecast(seed: int) -> None:
    rng = np.random.default_rng(seed)
    dish, machine = legal.brief(rng), legal.oven(rng)
    model = portion_model(dish, machine)
    assert np.isfinite(model.prior_mean).all()
    assert (model.prior_sd > 0).all()
    programs = legal.programs(rng, 12)
    theta = rng.normal(size=(12, len(PARAMETERS))) * rng.choice([1, 3, 10], size=(12, 1))
    mass, start = dish.portion.mass_g * rng.uniform(0.5, 1.5, 12), rng.uniform(-40, 60, 12)
    wild = model.predict(programs, mass_g=mass, start_temperature_c=start, theta=theta, rest_s=rng.uniform(0, 3600, 12))
    usual = model.predict(
        programs,
        mass_g=dish.portion.mass_g,
        start_temperature_c=dish.portion.start_temperature_c,
        theta=model.prior_mean,
    )
    for found in (wild, usual):
        assert found.shape == (12, len(COLUMNS))
        assert np.isfinite(found).all()
    assert (usual[:, 0] > -60).all()
    assert (usual[:, 0] < 115).all()
    assert (usual[:, 4] > -12).all()
    assert (usual[:, 4] <= 100.0001).all()


@pytest.mark.parametrize("name", ["Turkey escalope", "Breaded cutlet"])
def test_a_program_gets_the_same_answer_alone_and_among_others(name: str) -> None:
    dish = brief(name)
    model = portion_model(dish, oven())
    programs = random_programs(np.random.default_rng(1), 30)
    theta = np.random.default_rng(2).normal(size=(30, len(PARAMETERS)))
    start = np.where(np.arange(30) % 3 == 0, -18.0, 4.0)
    together = model.predict(programs, mass_g=170, start_temperature_c=start, theta=theta)
    for i in (0, 7, 29):
        alone = model.predict([programs[i]], mass_g=170, start_temperature_c=start[i], theta=theta[i])
        assert alone[0] == pytest.approx(together[i], abs=1e-7)


def test_large_batches_are_cut_without_a_seam() -> None:
    model = portion_model(brief(), oven())
    programs = ProgramArrays.of(random_programs(np.random.default_rng(1), 50) * 40)
    found = model.predict(programs, mass_g=180, start_temperature_c=4, theta=model.prior_mean)
    assert found.reshape(40, 50, 5) == pytest.approx(np.broadcast_to(found[:50], (40, 50, 5)), abs=1e-7)


def test_the_same_arguments_give_the_same_answer() -> None:
    first, again = portion_model(brief(), oven()), portion_model(brief(), oven())
    assert first is again
    one, two = (first.predict([USUAL], mass_g=180, start_temperature_c=4, theta=first.prior_mean) for _ in range(2))
    assert np.array_equal(one, two)


def test_one_theta_for_all_is_that_theta_for_each() -> None:
    model = portion_model(brief(), oven())
    programs = random_programs(np.random.default_rng(4), 6)
    at = {"mass_g": 180, "start_temperature_c": 4}
    shared = model.predict(programs, theta=model.prior_mean, **at)
    each = model.predict(programs, theta=np.tile(model.prior_mean, (6, 1)), **at)
    assert np.array_equal(shared, each)


def test_no_programs_give_no_rows() -> None:
    model = portion_model(brief(), oven())
    assert model.predict([], mass_g=180, start_temperature_c=4, theta=model.prior_mean).shape == (0, 5)


def test_how_a_program_is_cut_into_stages_does_not_matter() -> None:
    model = portion_model(brief(), oven())
    whole = program(250, 240, (40, 30, 60), (60, 90, 20))
    cut = program(250, 240, (15, 30, 60), (25, 30, 60), (30, 90, 20), (30, 90, 20))
    found = model.predict([whole, cut], mass_g=180, start_temperature_c=4, theta=model.prior_mean)
    assert found[0] == pytest.approx(found[1], abs=1e-9)


def test_the_rest_is_the_briefs_or_the_limits_whichever_is_longer() -> None:
    limit = {"core_temperature_c": 74.0, "rest_s": 120.0, "covered": True}
    assert portion_model(brief(rest_s=30.0), oven()).rest_s == 30.0
    assert portion_model(brief(rest_s=30.0, critical_limit=limit), oven()).rest_s == 120.0
    assert portion_model(brief(rest_s=300.0, critical_limit=limit), oven()).rest_s == 300.0


@pytest.mark.parametrize(
    "name, limit, covered",
    [
        ("Turkey escalope", None, True),
        ("Root vegetables", None, False),
        ("Turkey escalope", {"core_temperature_c": 74.0, "covered": False}, False),
        ("Cinnamon bun", {"none": True, "rule": "baked through", "approved_by": "AB"}, False),
    ],
)
def test_the_rest_is_covered_as_the_limit_or_the_class_asks(name: str, limit: dict | None, covered: bool) -> None:
    assert portion_model(brief(name, critical_limit=limit), oven()).rest_covered is covered


def test_a_lid_keeps_the_skin_pale_and_the_water_in() -> None:
    bare, covered = (portion_model(brief(portion={"covered": lid}), oven()) for lid in (False, True))
    open_, closed = (
        model.predict([USUAL], mass_g=180, start_temperature_c=4, theta=model.prior_mean)[0] for model in (bare, covered)
    )
    assert closed[1] < open_[1]
    assert closed[4] < open_[4]


@pytest.mark.parametrize("name", NAMES)
def test_a_sensible_program_scores_near_the_middle_before_any_cook(name: str) -> None:
    """The conventional dish is the anchor: some program of usual shape forecasts every score within 1.2 marks of 3."""
    dish = brief(name)
    model = portion_model(dish, oven())
    tries = [
        program(air, seconds, (40, 40, min(62 * k, 100)), (35, 60, min(25 * k, 100)), (25, 95, min(5 * k, 100)))
        for air in (220, 260) for seconds in (90, 150, 240, 360, 500) for k in np.linspace(0.05, 1.6, 16)
    ]  # fmt: skip
    found = model.predict(
        tries, mass_g=dish.portion.mass_g, start_temperature_c=dish.portion.start_temperature_c, theta=model.prior_mean
    )
    scores = 3.0 + 2.0 * np.tanh(found[:, 1:4] / 2.0)
    window = dish.targets.core_temperature_c
    inside = (found[:, 0] >= window.low) & (found[:, 0] <= window.high)
    assert inside.any()
    assert np.abs(scores[inside] - 3.0).max(axis=1).min() < 1.2


def test_the_model_can_not_be_changed() -> None:
    with pytest.raises(dataclasses.FrozenInstanceError):
        portion_model(brief(), oven()).rest_s = 1.0


@pytest.mark.parametrize("name", ["Turkey escalope", "Breaded cutlet"])
def test_the_forecast_is_smooth_in_the_parameters(name: str) -> None:
    """One-sided differences of 0.08, as a calibration takes them, against central ones of 0.02: no kink, within the curvature."""
    dish = brief(name)
    model = portion_model(dish, oven())
    programs = random_programs(np.random.default_rng(3), 10)

    def at(theta: np.ndarray) -> np.ndarray:
        start = dish.portion.start_temperature_c
        return model.predict(programs, mass_g=dish.portion.mass_g, start_temperature_c=start, theta=theta)

    base = at(model.prior_mean)
    for position in range(len(PARAMETERS)):
        unit = np.eye(len(PARAMETERS))[position]
        one_sided = (at(model.prior_mean + 0.08 * unit) - base) / 0.08
        central = (at(model.prior_mean + 0.02 * unit) - at(model.prior_mean - 0.02 * unit)) / 0.04
        assert (np.abs(one_sided - central) <= 0.2 * np.abs(central).max(axis=0) + [0.1, 0.1, 0.05, 0.05, 0.1]).all()


def test_nobody_can_spoil_the_priors_for_the_next_caller() -> None:
    model = portion_model(brief(), oven())
    for shared in (model.prior_mean, model.prior_sd):
        with pytest.raises(ValueError, match="read-only"):
            shared[0] = 1.0
