"""What stands in the way where no program is expected to reach every window."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from tuner.learning.aim import latent_edges
from tuner.learning.goals import ATTRIBUTES, CORE, Goals
from tuner.learning.pool import Pool
from tuner.learning.program_table import Array

_SLACK_UNTRIED, _SLACK_TRIED, _TRIED = 3.0, 2.0, 4
"""Standard deviations of the model's doubt by which a mean may miss a window and still count as reachable; the doubt of a
model that has seen fewer than four cooks is itself doubtful."""

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
    """Distances beyond the windows in standard deviations of the model's doubt, and the side, both (n, 5).

    Scores are held against their windows on the latent scale, where doubt does not shrink towards the scale's ends.
    """
    prediction = pool.outlook.prediction
    doubt = np.sqrt(np.clip(np.diagonal(prediction.cov, axis1=1, axis2=2), 1e-6, None))
    low, high = latent_edges(goals)
    below, above = (low - prediction.mean) / doubt, (prediction.mean - high) / doubt
    return np.maximum(below, above), np.where(above > below, 1.0, -1.0)


def obstacle_of(pool: Pool, goals: Goals, cooks: int) -> Obstacle | None:
    """What keeps every program outside the windows even with the doubt in its favour; None where some may be inside."""
    if goals.contradictory:
        return Obstacle(
            ATTRIBUTES[CORE],
            -1,
            "the core window ends at or below the critical limit plus guard, so no core temperature is inside",
        )
    excess, sides = _excess(pool, goals)
    worst = excess.max(axis=1)
    if (worst <= (_SLACK_TRIED if cooks >= _TRIED else _SLACK_UNTRIED)).any():
        return None
    row = int(pool.order(-worst)[0])
    column = int(np.argmax(excess[row]))
    side = int(sides[row, column])
    return Obstacle(ATTRIBUTES[column], side, _TOO[ATTRIBUTES[column], side])
