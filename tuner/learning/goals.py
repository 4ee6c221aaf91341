"""What a brief asks for, as arrays: edges of the windows, the line of the critical limit, allowed durations.

Arrays have one entry for each of `ATTRIBUTES`; an open edge is infinite. The low edge of the core is the usable one: the
higher of the window's low and critical limit + guard, also where the brief has no core window.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tuner.domain import ATTRIBUTES, SCORES, Brief
from tuner.learning.program_table import Array
from tuner.safety import effective_limit, usable_core_window

CORE, BROWNING, TEXTURE, MOISTURE, LOSS = range(5)
SCORE_COLUMNS = slice(BROWNING, LOSS)

_MARGIN = np.array([5.0, 0.5, 0.5, 0.5, 3.0])
"""Distance kept from the edge of a one-sided window, in the attribute's unit (judgement)."""


@dataclass(frozen=True, eq=False)
class Goals:
    """Windows of a brief as arrays (5,); see the module's text.

    Attributes
    ----------
    has_window
        Whether the brief has a window for the attribute.
    pass_line_c
        Critical limit + guard [°C]; minus infinity with an approved 'nothing to kill'.
    """

    low: Array
    high: Array
    has_window: NDArray[np.bool_]
    pass_line_c: float
    duration_low_s: float
    duration_high_s: float

    @property
    def contradictory(self) -> bool:
        """Whether the usable low edge of the core is at or above its high."""
        return bool(self.low[CORE] >= self.high[CORE])

    @property
    def centre(self) -> Array:
        """Where to aim: middle of a window, inside the edge of a one-sided one, 3 for a score without window."""
        both = np.isfinite(self.low) & np.isfinite(self.high)
        low = np.where(np.isfinite(self.low), self.low, -1e9)
        high = np.where(np.isfinite(self.high), self.high, 1e9)
        aim = np.where(np.isfinite(self.low), low + _MARGIN, np.where(np.isfinite(self.high), high - _MARGIN, 0.0))
        aim[SCORE_COLUMNS] = np.clip(3.0, low[SCORE_COLUMNS] + 0.25, high[SCORE_COLUMNS] - 0.25)
        if not np.isfinite(self.low[LOSS]):
            aim[LOSS] = min(aim[LOSS], 0.6 * high[LOSS])
        return np.where(both, (low + high) / 2.0, aim)

    @property
    def half_width(self) -> Array:
        """Half the width of a window [attribute's unit]; the margin kept from the edge where one side is open."""
        both = np.isfinite(self.low) & np.isfinite(self.high)
        with np.errstate(invalid="ignore"):
            half = np.where(both, (self.high - self.low) / 2.0, _MARGIN)
        return np.maximum(half, 0.02 * _MARGIN)

    @property
    def bound(self) -> NDArray[np.bool_]:
        """Attributes with at least one finite edge."""
        return np.isfinite(self.low) | np.isfinite(self.high)


def goals_of(brief: Brief) -> Goals:
    """Windows, limit and durations of a brief."""
    low, high = np.full(len(ATTRIBUTES), -np.inf), np.full(len(ATTRIBUTES), np.inf)
    has_window = np.zeros(len(ATTRIBUTES), dtype=bool)
    for column, name in enumerate(ATTRIBUTES):
        window = brief.targets.of(name)
        if window is not None:
            has_window[column] = True
            low[column] = -np.inf if window.low is None else window.low
            high[column] = np.inf if window.high is None else window.high
    usable_low, usable_high = usable_core_window(brief)
    low[CORE] = -np.inf if usable_low is None else usable_low
    high[CORE] = np.inf if usable_high is None else usable_high
    line = effective_limit(brief).pass_line_c
    duration = brief.targets.duration_s
    return Goals(
        low,
        high,
        has_window,
        -np.inf if line is None else float(line),
        0.0 if duration is None or duration.low is None else duration.low,
        np.inf if duration is None or duration.high is None else duration.high,
    )


__all__ = ["ATTRIBUTES", "BROWNING", "CORE", "LOSS", "MOISTURE", "SCORES", "SCORE_COLUMNS", "TEXTURE", "Goals", "goals_of"]
