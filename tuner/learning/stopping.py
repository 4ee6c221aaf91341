"""Where a development stands: gathering, candidate, confirming, proven or stalled; what is left to do."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from tuner.domain import Assessment, Confirmations, Program, Status
from tuner.learning.acquisition import RELIABLE_AT, expected_cooks, price_of_a_fresh_start, success
from tuner.learning.learned import Learned
from tuner.learning.obstacles import Obstacle, obstacle_of
from tuner.learning.pool import Pool
from tuner.learning.running import Cooked, cooked_programs

_EDGE_S = 1e-6


@dataclass(frozen=True, eq=False)
class _Standing:
    """The best program and everything its status depends on."""

    learned: Learned
    cooked: Cooked
    place: int | None
    pool: Pool | None
    obstacle: Obstacle | None
    budget_spent: bool

    @property
    def reliable(self) -> float:
        if self.place is None or self.cooked.outlook is None:
            return 0.0
        return float(np.clip(self.cooked.outlook.reliable[self.place], 0.0, 1.0))

    @property
    def rule_met(self) -> bool:
        return self.place is not None and self.cooked.tallies[self.place].met


def _allowed_places(learned: Learned, cooked: Cooked) -> list[int]:
    low, high = learned.goals.duration_low_s - _EDGE_S, learned.goals.duration_high_s + _EDGE_S
    return [place for place, program in enumerate(cooked.programs) if low <= program.duration_s <= high]


def _best_place(learned: Learned, cooked: Cooked) -> int | None:
    """The cooked program with the best standing: proven, then passed once, then prospects; of equals the later one."""
    places = _allowed_places(learned, cooked)
    if not places or cooked.outlook is None:
        return None
    prospects, reliable = cooked.prospects(), cooked.outlook.reliable

    def standing(place: int) -> tuple[float, ...]:
        proven = cooked.tallies[place].met and reliable[place] >= RELIABLE_AT
        return (
            float(proven),
            float(cooked.has_passed(place)),
            round(float(prospects[place]), 6),
            float(place),
        )

    return max(places, key=standing)


def _standing(learned: Learned) -> _Standing:
    cooked = cooked_programs(learned)
    grid = learned.grid_or_none
    pool = learned.pool() if grid is not None else None
    obstacle = obstacle_of(pool, learned.goals, learned.cooked) if pool is not None else None
    budget = learned.brief.budget_cooks
    done = sum(cook.purpose != "benchmark" for cook in learned.cooks)
    return _Standing(learned, cooked, _best_place(learned, cooked), pool, obstacle, budget is not None and done >= budget)


def _status(at: _Standing) -> Status:
    if at.rule_met and at.reliable >= RELIABLE_AT:
        return "proven"
    passed = at.place is not None and at.cooked.has_passed(at.place)
    if passed and at.place is not None:
        found = at.cooked.tallies[at.place]
        if found.after_first_pass > 0:
            return "confirming"
    if at.pool is None or at.obstacle is not None or at.budget_spent:
        return "stalled"
    return "candidate" if passed else "gathering"


def _cooks_left(at: _Standing, status: Status) -> tuple[float | None, tuple[float, float] | None]:
    """Expected cooks to proof, and a range from every cook passing to one failed chain and a fresh start."""
    if status == "proven":
        return 0.0, (0.0, 0.0)
    if status == "stalled" or at.pool is None:
        return None, None
    needed = 1 + at.learned.brief.confirmation_cooks
    fresh = int(at.pool.by_worth()[0])
    chances = at.pool.outlook.chances
    fresh_success = float(success(chances, needed)[fresh])
    price = price_of_a_fresh_start(fresh_success)
    estimate, least = float(expected_cooks(chances, needed, price)[fresh]), needed
    if at.place is not None and at.cooked.outlook is not None and at.cooked.has_passed(at.place):
        left = max(at.cooked.passes_left(at.place), 1)
        again = float(expected_cooks(at.cooked.outlook.chances, left, price)[at.place])
        if again <= estimate:
            estimate, least = again, left
    return round(estimate, 1), (float(least), float(math.ceil(least + 2.0 * (estimate - least) + price / 2.0)))


def _advice(at: _Standing, status: Status) -> tuple[str, ...]:
    words: list[str] = []
    if status == "proven":
        words = [
            "The simple rule is met and the model is confident that nearly all portions lie inside all windows.",
            "This is no food-safety claim: a release needs the proof plan.",
        ]
    elif status == "confirming":
        words = ["Cook the best program again, or the proposal if it is another one."]
        if at.rule_met:
            words.append("It has enough passing cooks, but too much doubt remains whether nearly all portions would be inside.")
    elif status == "candidate":
        words = ["One cook passed. Confirm it with fresh portions before believing it."]
    elif status == "gathering":
        words = ["No cook has passed yet. Cook the next proposal and score everything."]
    else:
        words = list(_stalled_advice(at))
    return tuple(words)


def _stalled_advice(at: _Standing) -> list[str]:
    if at.pool is None:
        return [
            "No step of the oven's duration lies inside the brief's duration window.",
            "Widen the duration window, or choose another oven.",
        ]
    words = []
    if at.obstacle is not None:
        words.append(f"No program is expected to reach every window: {at.obstacle.text}.")
        words.append("Relax that window or the duration, change the portion, or drop the dish on this oven.")
    if at.budget_spent:
        words.append("The budget of cooks is spent. Raise it, relax a window, or stop.")
    return words


def assessment(learned: Learned) -> Assessment:
    """Where the development stands; see `tuner.learning.assess`."""
    at = _standing(learned)
    status = _status(at)
    best: Program | None = None if at.place is None else at.cooked.programs[at.place]
    passed = 0 if at.place is None else max(at.cooked.tallies[at.place].passing - 1, 0)
    estimate, span = _cooks_left(at, status)
    return Assessment(
        status=status,
        best_program=best,
        confirmations=Confirmations(passed=passed, needed=learned.brief.confirmation_cooks),
        chance_reliable=at.reliable,
        cooks_left_estimate=estimate,
        cooks_left_range=span,
        advice=_advice(at, status),
    )
