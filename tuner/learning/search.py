"""The search for programs worth cooking: from a spread start over islands of good means to the best acquisition."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tuner.learning.aim import misses
from tuner.learning.candidates import distinct, every_program, longest_useful_s, neighbours, start_set, widened
from tuner.learning.coordinates import coordinates, squared_distances
from tuner.learning.goals import CORE, Goals
from tuner.learning.grid import Codes, Grid
from tuner.learning.outlook import Outlook, View
from tuner.learning.program_table import Array

_START = 600
_ISLANDS = 4
_ROUNDS = 5
_EACH = 12
_PARENTS = 5
_APART = 1.2
_FINALISTS = 80
_REFINED = 3
_BRED = 70
_HOTTEST = 4
_DIGITS = 6
_VANISHING = 1e-7


@dataclass(frozen=True, eq=False)
class Pool:
    """Programs that were looked at closely: codes, their outlook, and how far their means miss the aim."""

    codes: Codes
    outlook: Outlook
    misses: Array

    def order(self, *scores: Array) -> NDArray[np.intp]:
        """Rows from best to worst by scores (larger is better, first score first), rounded; ties by the program itself."""
        keys = [self.codes[:, column] for column in range(self.codes.shape[1] - 1, -1, -1)]
        keys += [-np.round(score, _DIGITS) for score in reversed(scores)]
        return np.lexsort(keys)


    def by_worth(self, crowding: Array | None = None) -> NDArray[np.intp]:
        """Rows from most to least worth cooking; where all chances vanish, from nearest to farthest from the aim."""
        worth = self.outlook.acquisition * (1.0 if crowding is None else crowding)
        return self.order(np.log(worth + _VANISHING), -self.misses)


def _ranked(values: Array, codes: Codes) -> NDArray[np.intp]:
    """Rows from smallest to largest value, rounded; ties by the code."""
    keys = [codes[:, column] for column in range(codes.shape[1] - 1, -1, -1)]
    return np.lexsort([*keys, np.round(values, _DIGITS)])


def _islands(grid: Grid, codes: Codes, missed: Array) -> list[int]:
    """Rows of good programs that lie apart from one another."""
    points = coordinates(grid.table(codes))
    chosen: list[int] = []
    for row in _ranked(missed, codes):
        if not chosen or squared_distances(points[row][None], points[chosen]).min() > _APART**2:
            chosen.append(int(row))
        if len(chosen) == _ISLANDS:
            break
    return chosen


def _descend(rng: np.random.Generator, view: View, grid: Grid, goals: Goals, start: Looked) -> Looked:
    """Neighbourhood search by the mean alone on every island; all that was looked at."""
    islands = [start.take([row]) for row in range(len(start.codes))]
    seen = [start]
    for _ in range(_ROUNDS):
        bred = [neighbours(rng, island.codes, _EACH * _PARENTS // len(island.codes), grid) for island in islands]
        together = _looked(view, grid, goals, np.concatenate(bred))
        seen.append(together)
        ends = np.cumsum([len(part) for part in bred])
        for place, end in enumerate(ends):
            family = _distinct(islands[place].joined(together.take(range(end - len(bred[place]), end))))
            islands[place] = family.take(_ranked(family.missed, family.codes)[:_PARENTS])
    return _distinct(_all_of(seen))


@dataclass(frozen=True, eq=False)
class Looked:
    """Programs looked at by the mean alone: codes, how far they miss the aim, core means [°C]."""

    codes: Codes
    missed: Array
    core_c: Array

    def take(self, rows: Sequence[int] | NDArray[np.intp]) -> Looked:
        """The chosen rows."""
        rows = np.asarray(rows, dtype=np.intp)
        return Looked(self.codes[rows], self.missed[rows], self.core_c[rows])

    def joined(self, other: Looked) -> Looked:
        """Rows of both below each other."""
        return _all_of([self, other])


def _all_of(parts: Sequence[Looked]) -> Looked:
    return Looked(
        np.concatenate([part.codes for part in parts]),
        np.concatenate([part.missed for part in parts]),
        np.concatenate([part.core_c for part in parts]),
    )


def _distinct(looked: Looked) -> Looked:
    _, rows = np.unique(looked.codes, axis=0, return_index=True)
    return looked.take(rows)


def _looked(view: View, grid: Grid, goals: Goals, codes: Codes) -> Looked:
    means = view.means(grid.table(codes))
    return Looked(codes, misses(means, goals), means[:, CORE])


def search(view: View, grid: Grid, goals: Goals, *, seed: int, cooked: Codes | None) -> Pool:
    """Programs worth a close look, with their outlook.

    Parameters
    ----------
    seed
        Of the random start and neighbours; the same seed finds the same programs.
    cooked
        Codes of programs cooked already, as further starting points.
    """
    rng = np.random.default_rng([seed % 2**32, 17])
    everything = every_program(grid)
    longest = longest_useful_s(view.brief, grid)
    codes = start_set(rng, _START, grid, longest) if everything is None else everything
    if cooked is not None and len(cooked) and everything is None:
        codes = distinct(np.concatenate([codes, cooked, neighbours(rng, cooked, max(8, 200 // len(cooked)), grid)]))
    looked = _looked(view, grid, goals, codes)
    if everything is None:
        start = looked.take(_islands(grid, looked.codes, looked.missed))
        looked = _distinct(looked.joined(_descend(rng, view, grid, goals, start)))
    finalists = _ranked(looked.missed, looked.codes)[:_FINALISTS]
    # The hottest of all matter where nothing reaches the limit.
    hottest = _ranked(-looked.core_c, looked.codes)[:_HOTTEST]
    pool = _looked_at(view, grid, goals, looked.codes[np.union1d(finalists, hottest)])
    return pool if everything is not None else _refined(rng, view, grid, goals, pool)


def _looked_at(view: View, grid: Grid, goals: Goals, codes: Codes) -> Pool:
    outlook = view.outlook(grid.table(codes), goals)
    return Pool(codes, outlook, misses(outlook.prediction.mean, goals))


def _refined(rng: np.random.Generator, view: View, grid: Grid, goals: Goals, pool: Pool) -> Pool:
    """Neighbourhood search by the acquisition itself round the best of the pool."""
    for _ in range(_REFINED):
        best = pool.by_worth()[:_PARENTS]
        bred = neighbours(rng, pool.codes[best], _BRED // _PARENTS, grid)
        known = {tuple(code) for code in pool.codes.tolist()}
        fresh = np.array([code for code in bred.tolist() if tuple(code) not in known], dtype=np.int64)
        if not len(fresh):
            continue
        new = _looked_at(view, grid, goals, fresh)
        pool = Pool(
            np.concatenate([pool.codes, new.codes]),
            pool.outlook.joined(new.outlook),
            np.concatenate([pool.misses, new.misses]),
        )
    return pool


__all__ = ["Pool", "search", "widened"]
