"""How far core readings scatter, and how far the lowest lies below their mean.

Places of a portion differ by a pattern that stays much the same from cook to cook, and by chance. Only chance makes the mean
of the readings uncertain; both make the lowest lie below it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.special import ndtri

from tuner.domain import TestCook

_DOF = 10.0
_PROBE_SD = 0.9
_INSTRUMENT_SD = 0.45
"""What a thermometer itself scatters by [K]; the rest of the scatter is the portion's (judgement)."""
_GAP_COOKS = 4.0
_HOTTEST_WET_C = 106.0
"""A reading above this is no temperature of moist food, whatever the altitude; it is not learned from."""

_MEAN_LOWEST = (0.0, 0.0, 0.5642, 0.8463, 1.0294, 1.1630, 1.2672, 1.3522, 1.4236, 1.4850, 1.5388)
_VAR_LOWEST = (0.0, 1.0, 0.6817, 0.5595, 0.4917, 0.4475, 0.4159, 0.3919, 0.3729, 0.3574, 0.3443)
"""Mean below the average, and variance, of the lowest of n standard normal readings (order statistics), n = 0..10."""


def plausible_readings(cook: TestCook) -> tuple[float, ...]:
    """Readings that can be temperatures of moist food."""
    return tuple(reading for reading in cook.readings_c if reading <= _HOTTEST_WET_C)


def lowest_of(places: int) -> tuple[float, float]:
    """How far the lowest of `places` readings lies below their mean on average, and its variance, in reading SDs."""
    if places < len(_MEAN_LOWEST):
        return _MEAN_LOWEST[places], _VAR_LOWEST[places]
    # Blom 1958, Statistical Estimates and Transformed Beta-Variables; the variance is that of the extreme-value limit.
    return float(ndtri((places - 0.375) / (places + 0.25))), float(np.pi**2 / 12 / np.log(places))


@dataclass(frozen=True)
class ProbeNoise:
    """Scatter of core readings.

    Attributes
    ----------
    reading_sd
        Of one reading by chance, the pattern of the places taken out [K].
    places
        Readings of a further cook.
    gap_c, gap_var
        Mean [K] and variance [K²] of how far the lowest reading lies below the mean of the readings.
    true_gap_c, true_gap_var
        The same for the portion itself, without the thermometer's scatter.
    """

    reading_sd: float
    places: int
    gap_c: float
    gap_var: float
    true_gap_c: float
    true_gap_var: float

    @property
    def mean_var(self) -> float:
        """Variance of the mean of the readings about the portion's own mean [K²]."""
        return self.reading_sd**2 / self.places


def _pattern_taken_out(readings: Sequence[np.ndarray]) -> tuple[float, float]:
    """Sum of squares and degrees of freedom of readings after cook means and, for equally many places, place means."""
    squares, dof = 0.0, 0.0
    for count in sorted({len(values) for values in readings if len(values) >= 2}):
        table = np.array([values for values in readings if len(values) == count])
        left = table - table.mean(axis=1, keepdims=True)
        rows = len(table)
        if rows >= 3:
            left = left - left.mean(axis=0)
            dof += (rows - 1) * (count - 1)
        else:
            dof += rows * (count - 1)
        squares += float(np.minimum(left**2, 25.0).sum())
    return squares, dof


def probe_noise(cooks: Sequence[TestCook], places: int) -> ProbeNoise:
    """Scatter of core readings from a development's cooks; prior worth ten degrees of freedom and four cooks."""
    readings = [np.array(plausible_readings(cook)) for cook in cooks]
    squares, dof = _pattern_taken_out(readings)
    reading_sd = float(np.sqrt((_DOF * _PROBE_SD**2 + squares) / (_DOF + dof)))
    standard, variance = lowest_of(places)
    gap_var_unit = max(variance - 1.0 / max(places, 1), 0.0)
    gaps = [
        min(float(values.mean() - values.min()) / lowest_of(len(values))[0] * standard, 8.0)
        for values in readings
        if len(values) >= 2
    ]
    prior_gap = standard * _PROBE_SD
    gap = (_GAP_COOKS * prior_gap + sum(gaps)) / (_GAP_COOKS + len(gaps))
    prior_var = gap_var_unit * _PROBE_SD**2
    gap_var = (_DOF * prior_var + sum((value - gap) ** 2 for value in gaps)) / (_DOF + len(gaps))
    total_var = max((gap / standard) ** 2, reading_sd**2) if standard > 0 else reading_sd**2
    own = float(np.sqrt(max(1.0 - _INSTRUMENT_SD**2 / total_var, 0.0)))
    return ProbeNoise(reading_sd, places, gap, gap_var, gap * own, gap_var * own**2)
