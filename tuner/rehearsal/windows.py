"""Which true properties lie inside all windows of a brief."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tuner.domain import SCORES, Brief, Window
from tuner.rehearsal.senses import Impression, Scale
from tuner.rehearsal.table import Array

_OPEN = 1e9


def usable_low_c(brief: Brief) -> float:
    """Lowest reading that counts: the higher of the window's low and limit + guard; very low where there is neither."""
    window, limit = brief.targets.core_temperature_c, brief.critical_limit
    low = window.low if window is not None and window.low is not None else -_OPEN
    if limit is not None and limit.core_temperature_c is not None:
        low = max(low, limit.core_temperature_c + limit.guard_c)
    return low


def _edges(window: Window | None) -> tuple[float, float]:
    if window is None:
        return -_OPEN, _OPEN
    return (-_OPEN if window.low is None else window.low), (_OPEN if window.high is None else window.high)


@dataclass(frozen=True, slots=True)
class Edges:
    """Window edges as arrays, rows: lowest reading, mean reading, browning, texture, moisture, loss; shape (6, 1)."""

    low: Array
    high: Array

    def margins(self, impression: Impression, scale: Scale) -> Array:
        """Distance to the nearest edge in half-widths (core 3 K, marks 0.5, loss 1 point), shape (6, n); negative outside."""
        values = np.vstack(
            [impression.lowest_c, impression.mean_c, scale.marks(impression.latent), impression.loss_pct],
        )
        distance: Array = np.minimum(values - self.low, self.high - values) / _HALF
        return distance

    def holds(self, impression: Impression, scale: Scale) -> NDArray[np.bool_]:
        """Whether a portion is inside every window, shape (n,)."""
        return np.asarray((self.margins(impression, scale) >= 0).all(axis=0))


_HALF = np.array([[3.0], [3.0], [0.5], [0.5], [0.5], [1.0]])


def edges_of(brief: Brief) -> Edges:
    """Edges of a brief's windows."""
    core_low, core_high = usable_low_c(brief), _edges(brief.targets.core_temperature_c)[1]
    rows = [(core_low, _OPEN), (-_OPEN, core_high), *(_edges(brief.targets.of(name)) for name in SCORES)]
    rows.append(_edges(brief.targets.cook_loss_pct))
    low, high = np.array(rows, dtype=float).T
    return Edges(low[:, None], high[:, None])
