"""What stands in the way where no program is expected to reach every window."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from tuner.learning.aim import marks_of, offsets
from tuner.learning.goals import ATTRIBUTES, CORE, SCORE_COLUMNS, Goals
from tuner.learning.program_table import Array
from tuner.learning.scores import slope_at
from tuner.learning.search import Pool

_SLACK = 1.0
"""Standard deviations of the model's doubt by which a mean may miss a window and still count as reachable."""

_TOO = {
    ("core_temperature_c", -1): "the core stays colder than the limit and the window allow",
    ("core_temperature_c", 1): "the core gets hotter than the window allows",
    ("browning", -1): "it stays too pale",
    ("browning", 1): "it gets too dark",
    ("texture", -1): "it stays too soft",
    ("texture", 1): "it gets too firm",
    ("moisture", -1): "it gets too dry",
    ("moisture", 1): "it stays too wet",
    ("cook_loss_pct", -1): "it loses less mass than the window asks",
    ("cook_loss_pct", 1): "it loses more mass than the window allows",
}


@dataclass(frozen=True)
class Obstacle:
    """The attribute that keeps the best program outside, the side (-1 below, +1 above its window), and words for it."""

    attribute: str
    side: int
    text: str


def _excess(pool: Pool, goals: Goals) -> tuple[Array, Array]:
    """Distances beyond the windows in half-widths less the model's doubt, and signed distances, both (n, 5)."""
    prediction = pool.outlook.prediction
    marks = marks_of(prediction.mean)
    doubt = np.sqrt(np.clip(np.diagonal(prediction.cov, axis1=1, axis2=2), 0.0, None)).copy()
    doubt[:, SCORE_COLUMNS] *= slope_at(marks[:, SCORE_COLUMNS])
    signed = offsets(marks, goals)
    return np.abs(signed) - 1.0 - _SLACK * doubt / goals.half_width, signed


def obstacle_of(pool: Pool, goals: Goals) -> Obstacle | None:
    """What keeps every program outside the windows even with the doubt in its favour; None where some may be inside."""
    if goals.contradictory:
        return Obstacle(
            ATTRIBUTES[CORE], -1, "the core window ends at or below the critical limit plus guard, so no core temperature is inside"
        )
    excess, signed = _excess(pool, goals)
    excess = np.where(goals.bound, excess, -np.inf)
    if not goals.bound.any() or (excess.max(axis=1) <= 0).any():
        return None
    row = int(pool.order(-excess.max(axis=1))[0])
    column = int(np.argmax(excess[row]))
    side = 1 if signed[row, column] > 0 else -1
    return Obstacle(ATTRIBUTES[column], side, _TOO[ATTRIBUTES[column], side])
