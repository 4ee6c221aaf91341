"""How portions differ from one another: mass, start temperature, and what is left over from cook to cook."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tuner.domain import Brief, TestCook
from tuner.learning.program_table import Array

_DOF = 8.0
_MASS_SD, _START_SD_C = 0.035, 1.5


@dataclass(frozen=True, eq=False)
class NaturalVariation:
    """Standard deviations between portions: mass (relative), start temperature [K], the rest (5,) in state units."""

    mass_sd: float
    start_sd_c: float
    extra_sd: Array

    def variance(self, sensitivity: Array, *, mass_known: bool = False, start_known: bool = False) -> Array:
        """Variance of the states between portions of one program, (n, 5), from sensitivities (n, 5, 2)."""
        spreads = np.array([0.0 if mass_known else self.mass_sd, 0.0 if start_known else self.start_sd_c])
        return np.asarray(((sensitivity * spreads) ** 2).sum(axis=2) + self.extra_sd**2)

    def variance_of_cooks(self, sensitivity: Array, mass_known: NDArray[np.bool_], start_known: NDArray[np.bool_]) -> Array:
        """Variance of each cook's own state about that of its program and of what it tells of mass and start, (n, 5)."""
        spreads = np.stack([np.where(mass_known, 0.0, self.mass_sd), np.where(start_known, 0.0, self.start_sd_c)], axis=1)
        return np.asarray(((sensitivity * spreads[:, None, :]) ** 2).sum(axis=2) + self.extra_sd**2)


def _pooled(prior_sd: float, deviations: list[float]) -> float:
    return float(np.sqrt((_DOF * prior_sd**2 + sum(value**2 for value in deviations)) / (_DOF + len(deviations))))


def natural_variation(brief: Brief, cooks: Sequence[TestCook], extra_sd: Array) -> NaturalVariation:
    """Spreads round the brief's portion, from the cooks' own masses and start temperatures.

    Portions that are another portion altogether (mass off by more than 15 %, start by more than 8 K) say nothing about it.
    """
    portion = brief.portion
    masses = [cook.mass_g / portion.mass_g - 1.0 for cook in cooks if cook.mass_g is not None]
    starts = [cook.start_temperature_c - portion.start_temperature_c for cook in cooks if cook.start_temperature_c is not None]
    return NaturalVariation(
        _pooled(_MASS_SD, [value for value in masses if abs(value) <= 0.15]),
        _pooled(_START_SD_C, [value for value in starts if abs(value) <= 8.0]),
        extra_sd,
    )
