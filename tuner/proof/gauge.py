"""Thermometer and placing study: how much of a reading's spread comes from measuring, and the guard it supports.

Several people read the same portions several times, crossed: components by analysis of variance, the interaction pooled into
repeatability where it does not show (p above 0.25).

References
----------
Montgomery, Introduction to Statistical Quality Control, chapter 8 (crossed gauge study, ANOVA method).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from tuner.domain import InvalidDocument

if TYPE_CHECKING:
    from numpy.typing import NDArray

POOL_P = 0.25
"""p-value above which the interaction of person and portion is pooled (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class GaugeStudy:
    """Components of a measuring study, standard deviations in the unit of the readings.

    Attributes
    ----------
    repeatability, reproducibility, measuring
        Spread of one person repeating, between persons (interaction with portions included where not pooled), and both
        together.
    portions, total
        Spread between portions, and everything together.
    distinct
        Number of portions that can be told apart: 1.41 portions / measuring.
    interaction_pooled
        Whether person and portion showed no interaction.
    guard_half_width
        95 % half-width of one reading from measuring alone: 1.96 x measuring.
    """

    repeatability: float
    reproducibility: float
    measuring: float
    portions: float
    total: float
    distinct: float
    interaction_pooled: bool
    guard_half_width: float
    method: str = "crossed gauge study, analysis of variance"


def gauge_study(readings: NDArray[np.float64]) -> GaugeStudy:
    """Components of a crossed study.

    Parameters
    ----------
    readings
        Shape (portions, persons, repeats), complete; at least 2 of each.

    Raises
    ------
    InvalidDocument
        If the study is not crossed and complete.
    """
    from scipy.stats import f

    if readings.ndim != 3 or min(readings.shape) < 2 or not np.isfinite(readings).all():
        raise InvalidDocument(
            ["The study is not complete. At least 2 persons read at least 2 portions at least twice each. Add what is missing."]
        )
    parts, persons, repeats = readings.shape
    part, person, both, error = sums_of_squares(readings)
    free_both, free_error = (parts - 1) * (persons - 1), parts * persons * (repeats - 1)
    both_square, error_square = both / free_both, error / free_error
    pooled = error == 0 or float(f.sf(both_square / error_square, free_both, free_error)) > POOL_P
    rest = (both + error) / (free_both + free_error) if pooled else error_square
    against = rest if pooled else both_square
    person_part = max(0.0, (person / (persons - 1) - against) / (parts * repeats))
    both_part = 0.0 if pooled else max(0.0, (both_square - error_square) / repeats)
    portion_part = max(0.0, (part / (parts - 1) - against) / (persons * repeats))
    measuring = math.sqrt(rest + person_part + both_part)
    portions = math.sqrt(portion_part)
    return GaugeStudy(
        repeatability=math.sqrt(rest),
        reproducibility=math.sqrt(person_part + both_part),
        measuring=measuring,
        portions=portions,
        total=math.hypot(measuring, portions),
        distinct=1.41 * portions / measuring if measuring > 0 else math.inf,
        interaction_pooled=pooled,
        guard_half_width=1.96 * measuring,
    )


def sums_of_squares(readings: NDArray[np.float64]) -> tuple[float, float, float, float]:
    """Sums of squares of portions, persons, their interaction, and repeating; shape as in `gauge_study`."""
    parts, persons, repeats = readings.shape
    grand = readings.mean()
    part, person, cell = readings.mean(axis=(1, 2)), readings.mean(axis=(0, 2)), readings.mean(axis=2)
    interaction = cell - part[:, None] - person[None, :] + grand
    return (
        float(persons * repeats * ((part - grand) ** 2).sum()),
        float(parts * repeats * ((person - grand) ** 2).sum()),
        float(repeats * (interaction**2).sum()),
        float(((readings - cell[:, :, None]) ** 2).sum()),
    )
