"""What stands in the way where no program is expected to reach every window."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from tuner.learning.aim import latent_edges, marks_of
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


def hardest_window(pool: Pool, goals: Goals) -> Obstacle | None:
    """The window that the most likely program is likeliest to miss, and the side; None where the brief has no window."""
    row = int(pool.order(np.asarray(pool.outlook.chance_all_inside), -pool.misses)[0])
    chances = pool.outlook.chances.p.mean(axis=1)[row]
    asked = np.flatnonzero(goals.bound)
    if not len(asked):
        return None
    column = int(asked[np.argmin(chances[asked])])
    _, sides = _excess(pool, goals)
    side = int(sides[row, column])
    return Obstacle(ATTRIBUTES[column], side, _TOO[ATTRIBUTES[column], side])


MORE_HEAT = "Allow more time, or make the portion thinner, lighter or warmer at the start."
_WAYS: dict[tuple[str, int], tuple[str, ...]] = {
    ("core_temperature_c", -1): (MORE_HEAT,),
    ("core_temperature_c", 1): ("Allow a shorter or gentler program, or rest the portion shorter.",),
    ("browning", -1): ("Allow more time or hotter air, or brown the surface before.",),
    ("browning", 1): ("Allow colder air or a shorter program.",),
    ("moisture", -1): ("Allow a colder core, or a shorter program.",),
    ("moisture", 1): ("Allow more time for the air to dry it.",),
    ("cook_loss_pct", 1): ("Allow a shorter program or a colder core.",),
}
_EDGE_WORDS = {"core_temperature_c": ("core", " °C", 0), "cook_loss_pct": ("cook loss", " %", 0)}


def relaxations_of(obstacle: Obstacle, pool: Pool, goals: Goals) -> list[str]:
    """What to relax for an obstacle: the edge of its window, as far as the nearest program reaches, then what else helps.

    The low edge of the core is never offered: the critical limit stands.
    """
    column = ATTRIBUTES.index(obstacle.attribute)
    row = int(pool.order(-pool.misses)[0])
    reached = float(marks_of(pool.outlook.prediction.mean)[row, column])
    name, unit, digits = _EDGE_WORDS.get(obstacle.attribute, (obstacle.attribute, "", 1))
    edge = float((goals.low if obstacle.side < 0 else goals.high)[column])
    ways = []
    beyond = reached < edge if obstacle.side < 0 else reached > edge
    if beyond and (column, obstacle.side) != (CORE, -1):
        word = "low" if obstacle.side < 0 else "high"
        ways.append(f"Move the {word} edge of the {name} window from {edge:.{digits}f} to {reached:.{digits}f}{unit}.")
    ways += _WAYS.get((obstacle.attribute, obstacle.side), ("Widen that window, or take more tasters.",))
    return ways
