"""Can the windows be won: the chance that a perfect program passes one cook.

Assumptions, stated because the answer depends on nothing else: the program is exactly right, so that every attribute lies
where its chance is best; attributes are independent; errors are normal. The standard deviation of a panel mean is
sqrt(taster_sd^2 / tasters + cook_sd^2) of the brief. Core and cook loss carry the spread of careful work (common practice,
no source): see the constants.
"""

from __future__ import annotations

import math

import numpy as np

from tuner.domain import SCORES, Brief
from tuner.proof.window_margins import edges

CORE_COMMON_SD_C = 1.2
"""Spread of a careful cook's core temperature that all places share [K]: mass within 3 %, start within 1 K, thermometer."""
CORE_PLACE_SD_C = 0.75
"""Spread of one place about the cook's mean [K]: where the tip came to sit."""
COOK_LOSS_SD_PCT = 1.0
"""Spread of the weighed cook loss [% of mass]."""


def perfect_pass_chance(brief: Brief) -> float:
    """Chance that a program exactly right passes one cook of this brief, 0 to 1.

    Three score windows of +/- 0.5 pass 96, 87, 74 and 49 % at a standard deviation of the panel mean of 0.20, 0.25, 0.30 and
    0.40; four tasters with 0.5 each and cooks with 0.2 have 0.32.
    """
    panel_sd = math.sqrt(brief.taster_sd**2 / brief.tasters + brief.cook_sd**2)
    chance = _core_chance(*edges(brief, "core_temperature_c"), brief.places)
    chance *= _centred_chance(*edges(brief, "cook_loss_pct"), COOK_LOSS_SD_PCT)
    for attribute in SCORES:
        chance *= _centred_chance(*edges(brief, attribute), panel_sd)
    return chance


def cooks_until_run(pass_chance: float, run: int) -> float:
    """Expected number of cooks until `run` pass in a row; infinite where none can pass.

    Four in a row take 5.7 cooks at 0.87 and 11 at 0.685.

    References
    ----------
    Feller, An Introduction to Probability Theory and Its Applications, vol. 1, XIII.7.
    """
    if pass_chance <= 0:
        return math.inf
    if pass_chance >= 1:
        return float(run)
    reached = pass_chance**run
    return (1.0 - reached) / ((1.0 - pass_chance) * reached) if reached > 0 else math.inf


def _centred_chance(low: float | None, high: float | None, sd: float) -> float:
    """Chance that a normal value aimed at the middle of the window lies inside; an open side is never in the way."""
    if low is None or high is None:
        return 1.0
    if sd == 0:
        return 1.0 if low <= high else 0.0
    return max(0.0, math.erf((high - low) / 2.0 / (sd * math.sqrt(2.0))))


def _core_chance(low: float | None, high: float | None, places: int) -> float:
    """Best chance that the lowest reading is at or above `low` and the mean at or below `high`.

    Given what all places share, places are independent; lowest and mean are taken as independent then (against simulated
    readings of 1 to 9 places the error is below 0.012).
    """
    if low is None or high is None:
        return 1.0
    if low >= high:
        return 0.0
    shared = np.linspace(-5.0, 5.0, 81)
    weight = np.exp(-0.5 * shared**2)
    weight /= weight.sum()
    aim = np.linspace(low, high + 3.0 * CORE_PLACE_SD_C, 61)
    mean = aim[:, None] + CORE_COMMON_SD_C * shared
    all_hot = _normal_cdf((mean - low) / CORE_PLACE_SD_C) ** places
    not_too_hot = _normal_cdf((high - mean) / (CORE_PLACE_SD_C / math.sqrt(places)))
    return float(((all_hot * not_too_hot) @ weight).max())


def _normal_cdf(value: np.ndarray) -> np.ndarray:
    from scipy.special import ndtr

    return np.asarray(ndtr(value))
