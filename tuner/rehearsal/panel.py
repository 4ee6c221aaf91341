"""Measuring and tasting, with all their errors."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from tuner.domain import SCORES
from tuner.rehearsal.table import Array


@dataclass(frozen=True, slots=True)
class Panel:
    """Tasters and instruments of one kitchen.

    Attributes
    ----------
    offsets
        Constant offset of each taster for browning, texture and moisture [marks], shape (tasters, 3).
    bias
        Constant bias of the whole panel [marks], shape (3,).
    taster_sd, session_sd
        Scatter of one mark; scatter common to all marks of one cook.
    probe_sd_c, probe_bias_c
        Scatter of one reading and constant error of the thermometer [K].
    placing_sd_c
        Scatter from putting the tip a little elsewhere [K].
    balance_sd_g
        Scatter of one weighing [g].
    """

    offsets: tuple[tuple[float, float, float], ...]
    bias: tuple[float, float, float]
    taster_sd: float
    session_sd: float
    probe_sd_c: float
    probe_bias_c: float
    placing_sd_c: float
    balance_sd_g: float

    def marks(self, true_marks: Array, rng: np.random.Generator) -> Array:
        """Half marks of every taster, shape (tasters, 3)."""
        tasters = len(self.offsets)
        session = self.session_sd * rng.standard_normal(3)
        seen = true_marks + np.asarray(self.bias) + np.asarray(self.offsets) + session
        seen = seen + self.taster_sd * rng.standard_normal((tasters, 3))
        marks: Array = np.clip(np.round(seen * 2) / 2, 1.0, 5.0)
        return marks

    def readings(self, places_c: Array, rng: np.random.Generator) -> Array:
        """Readings to a tenth of a degree, one a place."""
        noise = np.hypot(self.probe_sd_c, self.placing_sd_c) * rng.standard_normal(len(places_c))
        readings: Array = np.round(places_c + self.probe_bias_c + noise, 1)
        return readings

    def weighed(self, mass_g: float, rng: np.random.Generator) -> float:
        """Mass to a tenth of a gram, never below 0.1 g."""
        return max(round(mass_g + self.balance_sd_g * float(rng.standard_normal()), 1), 0.1)


def drawn_panel(tasters: int, taster_sd: float, rng: np.random.Generator) -> Panel:
    """A panel with its tasters' habits and its instruments."""
    offsets = 0.15 * np.clip(rng.standard_normal((tasters, len(SCORES))), -2, 2)
    offsets -= offsets.mean(axis=0)
    bias = 0.06 * np.clip(rng.standard_normal(3), -2, 2)
    first, second, third = (float(value) for value in bias)
    return Panel(
        offsets=tuple((float(a), float(b), float(c)) for a, b, c in offsets),
        bias=(first, second, third),
        taster_sd=taster_sd,
        session_sd=0.06,
        probe_sd_c=0.4,
        probe_bias_c=0.2 * float(np.clip(rng.standard_normal(), -2, 2)),
        placing_sd_c=0.5,
        balance_sd_g=0.3,
    )
