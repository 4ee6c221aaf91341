"""Climbs on an oven's grid toward programs that are truly inside for more portions."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tuner.domain import Brief, Oven
from tuner.rehearsal.bench import Bench
from tuner.rehearsal.grid import duration_range, neighbours, stages_long_enough
from tuner.rehearsal.senses import Scale
from tuner.rehearsal.table import Array, ProgramTable, joined
from tuner.rehearsal.windows import edges_of


@dataclass(frozen=True, slots=True)
class Task:
    """A kitchen whose windows are set.

    Attributes
    ----------
    bench, scale, brief, oven
        What is cooked, how it is judged, and where.
    """

    bench: Bench
    scale: Scale
    brief: Brief
    oven: Oven

    def margins(self, table: ProgramTable, rng: np.random.Generator, count: int) -> Array:
        """Smallest margin of each program (rows) on each of `count` natural portions (columns); negative is outside."""
        impression = self.bench.cook_all_on(table, self.bench.natural(rng, count))
        margins: Array = edges_of(self.brief).margins(impression, self.scale).min(axis=0).reshape(len(table), count)
        return margins

    def nominal_margins(self, table: ProgramTable) -> Array:
        """Smallest margin of each program on a portion exactly as written, shape (programs,)."""
        smallest: Array = edges_of(self.brief).margins(self.bench.cook_nominal(table), self.scale).min(axis=0)
        return smallest

    def shares(self, table: ProgramTable, rng: np.random.Generator, count: int) -> Array:
        """Share of natural portions truly inside, shape (programs,)."""
        share: Array = (self.margins(table, rng, count) >= 0).mean(axis=1)
        return share

    def near(self, table: ProgramTable, rng: np.random.Generator, each: int) -> ProgramTable:
        """The programs and legal neighbours of them."""
        durations = duration_range(self.oven, self.brief.targets.duration_s)
        moved = neighbours(self.oven, table, durations, rng, each)
        return joined([table, moved.take(stages_long_enough(self.oven, moved))])


def best_first(worth: Array) -> NDArray[np.intp]:
    """Indices by falling worth; rounding keeps the order the same on every machine, ties go to the earlier."""
    return np.argsort(-np.round(worth, 6), kind="stable")


def climbed(task: Task, table: ProgramTable, rng: np.random.Generator, *, rounds: int, portions: int) -> ProgramTable:
    """Best program found from those of a table: first the share inside counts, then the mean margin."""
    best = table
    for _ in range(rounds):
        near = task.near(best, rng, 24)
        margin = task.margins(near, rng, portions)
        worth = (margin >= 0).mean(axis=1) + 0.3 * np.minimum(margin, 0.8).mean(axis=1)
        best = near.take(best_first(worth)[:1])
    return best


def best_share(task: Task, table: ProgramTable, rng: np.random.Generator, *, rounds: int = 3, keep: int = 24) -> float:
    """Largest share inside near the most promising programs of a table: how well that kind of program can do."""
    longest = duration_range(task.oven, task.brief.targets.duration_s)[1]
    table = table.take(table.duration_s <= longest)
    if not len(table):
        return 0.0
    for _ in range(rounds):
        table = task.near(table.take(best_first(task.nominal_margins(table))[:keep]), rng, 14)
    table = table.take(best_first(task.nominal_margins(table))[:keep])
    shares = task.shares(table, rng, 60)
    polished = climbed(task, table.take(best_first(shares)[:1]), rng, rounds=3, portions=24)
    return max(float(shares.max()), float(task.shares(polished, rng, 200)[0]))
