from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

from tests.example import DROP, brief
from tuner import proof
from tuner.proof.winnable import COOK_LOSS_SD_PCT, CORE_COMMON_SD_C, CORE_PLACE_SD_C

SCORES_ONLY = {
    "critical_limit": {"none": True, "rule": "crumb", "approved_by": "lead"},
    "targets__core_temperature_c": DROP,
    "targets__cook_loss_pct": DROP,
}


def chance(**changes: Any) -> float:
    return proof.perfect_pass_chance(brief(**changes))


@pytest.mark.parametrize("sd, one, three", [(0.20, 96, 89), (0.25, 87, 66), (0.30, 74, 40), (0.40, 49, 12)])
def test_three_windows_of_half_a_mark_pass_as_the_normal_distribution_says(sd: float, one: int, three: int) -> None:
    found = chance(**SCORES_ONLY, taster_sd=0, cook_sd=sd)
    assert round(100 * found) == one
    assert round(100 * found**3) == three


def test_four_tasters_of_half_a_mark_and_cooks_of_a_fifth_have_0_32_and_take_11_cooks_for_four_in_a_row() -> None:
    found = chance(**SCORES_ONLY)
    assert found == pytest.approx(math.erf(0.5 / math.sqrt(0.1025) / math.sqrt(2)) ** 3)
    assert round(proof.cooks_until_run(found, 4)) == 11
    assert proof.cooks_until_run(chance(**SCORES_ONLY, taster_sd=0, cook_sd=0.25), 4) == pytest.approx(5.7, abs=0.06)


def test_more_tasters_wider_windows_and_steadier_panels_win_more_often() -> None:
    assert chance(tasters=8) > chance() > chance(tasters=2)
    assert chance(targets__browning={"low": 2.25, "high": 3.75}) > chance()
    assert chance(taster_sd=0.3) > chance()
    assert chance(targets__browning={"low": 2.5}) > chance()
    assert chance(targets__core_temperature_c={"low": 74, "high": 79}) < chance()
    assert chance(places=9) < chance(places=1)


def test_a_window_without_room_cannot_be_won() -> None:
    assert chance(targets__core_temperature_c={"low": 70, "high": 76}) == 0
    assert chance(targets__core_temperature_c={"low": 60, "high": 70}) == 0
    assert proof.cooks_until_run(0, 4) == math.inf


def test_a_panel_without_error_always_hits() -> None:
    assert chance(**SCORES_ONLY, taster_sd=0, cook_sd=0) == 1
    assert proof.cooks_until_run(1.0, 4) == 4


@pytest.mark.parametrize("high, places", [(84, 3), (80, 3), (79, 1), (80, 9)])
def test_the_core_chance_is_that_of_simulated_readings_at_the_best_aim(high: float, places: int) -> None:
    """A second way: draw the readings, and try aims on a grid."""
    rng = np.random.default_rng(5)
    cooks = 40_000
    readings = rng.normal(0, CORE_COMMON_SD_C, (cooks, 1)) + rng.normal(0, CORE_PLACE_SD_C, (cooks, places))
    lowest, mean = readings.min(axis=1), readings.mean(axis=1)
    best = max(np.mean((aim + lowest >= 76) & (aim + mean <= high)) for aim in np.arange(76, 84, 0.1))
    wanted = brief(targets={"core_temperature_c": {"low": 74, "high": high}}, places=places)
    assert proof.perfect_pass_chance(wanted) == pytest.approx(best, abs=0.012)


def test_the_loss_window_counts_with_its_own_spread() -> None:
    without = chance(targets__cook_loss_pct=DROP)
    narrow = chance(targets__cook_loss_pct={"low": 8, "high": 10})
    assert narrow / without == pytest.approx(math.erf(1 / COOK_LOSS_SD_PCT / math.sqrt(2)))


def test_the_expected_number_of_cooks_is_that_of_a_simulated_kitchen() -> None:
    rng = np.random.default_rng(3)
    waits = []
    for _ in range(4_000):
        run = cooks = 0
        while run < 3:
            run = run + 1 if rng.random() < 0.7 else 0
            cooks += 1
        waits.append(cooks)
    assert proof.cooks_until_run(0.7, 3) == pytest.approx(np.mean(waits), rel=0.04)
