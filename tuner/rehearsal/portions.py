"""Natural portions: no two weigh, measure or start the same."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tuner.domain import Portion
from tuner.rehearsal.nature import Variation
from tuner.rehearsal.table import Array

_WIDEST_SD = 2.5
"""Kitchens throw out what is further off than this many standard deviations."""


@dataclass(frozen=True, slots=True)
class Portions:
    """n portions as arrays, each of shape (n,).

    Attributes
    ----------
    mass_g, thickness_mm, start_c, water
        As measured; water as a mass fraction.
    pickup, pattern, surface
        Microwave taken by the whole and by its hot pocket, and readiness to brown, as factors (1 is usual).
    """

    mass_g: Array
    thickness_mm: Array
    start_c: Array
    water: Array
    pickup: Array
    pattern: Array
    surface: Array

    def __len__(self) -> int:
        """Number of portions."""
        return len(self.mass_g)

    def take(self, index: NDArray[np.intp]) -> Portions:
        """The portions at `index`, in that order."""
        return Portions(*(getattr(self, name)[index] for name in self.__slots__))

    def tiled(self, times: int) -> Portions:
        """The whole set `times` times, one after the other."""
        return Portions(*(np.tile(getattr(self, name), times) for name in self.__slots__))


def nominal(portion: Portion, count: int) -> Portions:
    """`count` portions exactly as the brief has them."""
    return Portions(
        np.full(count, float(portion.mass_g)),
        np.full(count, float(portion.thickness_mm)),
        np.full(count, float(portion.start_temperature_c)),
        np.full(count, float(portion.water)),
        *np.ones((3, count)),
    )


def drawn(portion: Portion, variation: Variation, rng: np.random.Generator, count: int) -> Portions:
    """`count` natural portions; heavier ones are thicker, as they are in a kitchen."""
    z = np.clip(rng.standard_normal((7, count)), -_WIDEST_SD, _WIDEST_SD)
    mass = 1 + z[0] * variation.mass_pct / 100
    start = portion.start_temperature_c + z[2] * variation.start_c
    if portion.start_state in ("frozen", "tempered"):
        start = np.minimum(start, -1.5)
    return Portions(
        portion.mass_g * mass,
        portion.thickness_mm * mass**0.4 * (1 + z[1] * variation.thickness_pct / 100),
        start,
        np.clip(portion.water + z[3] * variation.water_pct / 100, 0.05, 0.97),
        1 + z[4] * variation.pickup_pct / 100,
        1 + z[5] * variation.pattern_pct / 100,
        1 + z[6] * variation.surface_pct / 100,
    )
