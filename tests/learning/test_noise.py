"""Scatter of tasters, thermometers, weighing and portions, learned from cooks with known scatter."""

import numpy as np
import pytest

import tuner
from tests.learning import cases
from tuner.learning.noise import noise_of
from tuner.learning.probes import lowest_of, probe_noise
from tuner.learning.replicates import Repeats, extra_spread, weighing_spread
from tuner.learning.variation import natural_variation


def _panel(rng, offsets, sd):
    def mark(shift):
        return float(np.clip(np.round(2 * (3 + shift + sd * rng.standard_normal())) / 2, 1, 5))

    return [{"taster": str(k), "browning": mark(o), "texture": mark(-o), "moisture": mark(0)} for k, o in enumerate(offsets)]


@pytest.mark.parametrize("sd", [0.25, 0.6])
def test_taster_scatter_and_offsets_are_found_apart(sd):
    rng = np.random.default_rng(2)
    offsets = (0.5, -0.5, 0.3, -0.3)
    cooks = [cases.cook(cases.program(), scores=_panel(rng, offsets, sd)) for _ in range(40)]
    found = noise_of(cases.brief(), cooks)
    assert found.taster_sd == pytest.approx(np.hypot(sd, 0.144), rel=0.2)
    assert found.offsets["0", "browning"] == pytest.approx(0.5, abs=0.15)
    assert found.offsets["0", "texture"] == pytest.approx(-0.5, abs=0.15)
    assert found.tasters == 4
    assert found.panel_sd == pytest.approx(found.taster_sd / 2)


def test_a_stated_taster_scatter_is_the_prior():
    assert noise_of(cases.brief(taster_sd=0.8), []).taster_sd == pytest.approx(0.8)
    assert noise_of(cases.brief(), []).taster_sd == pytest.approx(0.37)


def test_an_uneven_panel_is_corrected_for_who_was_there():
    rng = np.random.default_rng(3)
    offsets = (0.6, -0.6, 0.0)
    cooks = [cases.cook(cases.program(), scores=_panel(rng, offsets, 0.2)) for _ in range(30)]
    noise = noise_of(cases.brief(), cooks)
    only_first = cases.cook(cases.program(), scores=[{"taster": "0", "browning": 3.5}])
    mean, tasters = noise.corrected_mean(only_first, "browning")
    assert (round(mean, 1), tasters) == (pytest.approx(3.0, abs=0.21), 1)
    assert noise.corrected_mean(only_first, "texture") is None


@pytest.mark.parametrize("places", [1, 2, 3, 9, 25])
def test_the_lowest_of_some_normal_readings(places):
    draws = np.random.default_rng(1).standard_normal((200_000, places)).min(axis=1)
    below, variance = lowest_of(places)
    assert below == pytest.approx(-draws.mean(), abs=0.04)
    assert variance == pytest.approx(draws.var(), abs=0.05)


def test_a_pattern_of_the_places_is_not_taken_for_scatter():
    rng = np.random.default_rng(4)
    pattern = np.array([-3.0, 0.0, 3.0])
    cooks = [
        cases.cook(
            cases.program(), core_temperature_c=list(80 + 4 * rng.standard_normal() + pattern + 0.4 * rng.standard_normal(3))
        )
        for _ in range(30)
    ]
    found = probe_noise(cooks, 3)
    assert found.reading_sd == pytest.approx(0.55, abs=0.15)
    assert found.gap_c == pytest.approx(3.0, abs=0.4)
    assert 0 < found.true_gap_c <= found.gap_c


def test_one_place_has_no_gap():
    found = probe_noise([cases.cook(cases.program(), core_temperature_c=[80.0])] * 5, 1)
    assert (found.gap_c, found.true_gap_c) == (0, 0)


@pytest.mark.parametrize("true_sd", [0.0, 0.2, 0.5])
def test_extra_spread_follows_many_repeats_and_hardly_moves_for_few(true_sd):
    rng = np.random.default_rng(6)
    noise_sd, prior = 0.25, np.full(5, 0.09)

    def repeats(groups, size):
        values = np.hypot(true_sd, noise_sd) * rng.standard_normal((groups, size))
        squares = ((values - values.mean(axis=1, keepdims=True)) ** 2).sum(axis=1)
        part = (squares, np.full(groups, size - 1.0), np.full(groups, noise_sd**2))
        return Repeats(*(tuple(np.array(column) for _ in range(5)) for column in part))

    many = extra_spread(repeats(100, 4), prior)
    few = extra_spread(repeats(1, 2), prior)
    assert many == pytest.approx(np.full(5, max(true_sd, 0.05)), abs=0.09)
    assert (few < 0.35).all()


def test_weighing_scatter_is_learned_from_repeats():
    squares, dof = np.full(20, 3 * 0.15**2), np.full(20, 3.0)
    empty = tuple(np.zeros(0) for _ in range(4))
    repeats = Repeats((*empty, squares), (*empty, dof), (*empty, np.full(20, 0.16)))
    assert weighing_spread(repeats, 0.4, 0.05) == pytest.approx(0.15, abs=0.04)


def test_natural_variation_is_learned_from_the_portions_and_ignores_other_portions():
    rng = np.random.default_rng(5)
    brief = cases.brief()
    cooks = [
        cases.cook(cases.program(), mass_g=float(180 * (1 + 0.06 * np.clip(rng.standard_normal(), -2, 2)))) for _ in range(60)
    ]
    found = natural_variation(brief, cooks, np.zeros(5))
    assert found.mass_sd == pytest.approx(0.056, abs=0.012)
    with_giant = natural_variation(brief, [*cooks, cases.cook(cases.program(), mass_g=400.0)], np.zeros(5))
    assert with_giant.mass_sd == found.mass_sd
    slopes = np.ones((1, 5, 2))
    assert natural_variation(brief, [], np.zeros(5)).variance(slopes, mass_known=True, start_known=True) == pytest.approx(0)
    assert isinstance(brief, tuner.Brief)
