"""The search for programs worth cooking: from a spread start over islands of good means to the best acquisition.

Means are cheap (one run of the physics), derivatives are not (one run for each parameter). So most programs are looked at
by the mean alone; those that look good borrow the derivatives of the nearest program whose own are known; the best of these
get their own.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tuner.learning.aim import misses, promise
from tuner.learning.candidates import distinct, every_program, longest_useful_s, neighbours, start_set
from tuner.learning.coordinates import coordinates, squared_distances
from tuner.learning.goals import CORE, Goals
from tuner.learning.grid import Codes, Grid
from tuner.learning.outlook import Outlook, View
from tuner.learning.pool import DIGITS, Looked, Pool, all_of, merged, ranked, rows_of, unknown
from tuner.learning.program_table import Array
from tuner.learning.simulator import Expansion
from tuner.learning.trade_order import disorder, preference

_START = 600
_ISLANDS = 4
_ROUNDS = 4
_COURTED = 3
_EACH = 12
_PARENTS = 5
_APART = 1.2
_BETTER = 800
_LENDERS = 20
_FINALISTS = 80
_NEAREST = 20
_HOTTEST = 4
_OWN_FIRST = 24
_OWN_EACH = 12
_REFINED = 3
_BRED = 80
_DISORDER, _MOST_DISORDER = 0.3, 4.0
_UNTASTED = 0.25


@dataclass(frozen=True, eq=False)
class Searcher:
    """A search with its calibrated model, its grid and its aim."""

    view: View
    grid: Grid
    goals: Goals

    def looked(self, codes: Codes) -> Looked:
        """Look at programs by the mean alone."""
        table = self.grid.table(codes)
        states = self.view.states(table)
        means = self.view.means(table, states)
        missed = misses(means, self.goals) + _DISORDER * np.minimum(disorder(table), _MOST_DISORDER)
        return Looked(codes, states, means, missed)

    def islands(self, codes: Codes, order: NDArray[np.intp], count: int) -> list[int]:
        """Rows that lie apart from one another, the first in the order first."""
        points = coordinates(self.grid.table(codes))
        chosen: list[int] = []
        for row in order:
            if not chosen or squared_distances(points[row][None], points[chosen]).min() > _APART**2:
                chosen.append(int(row))
            if len(chosen) == count:
                break
        return chosen

    def descended(self, rng: np.random.Generator, start: Looked, rank: Callable[[Looked], Array], rounds: int) -> Looked:
        """Neighbourhood search on every island, each program of `start` one, to smaller values of `rank`; all looked at."""
        islands = [start.take([row]) for row in range(len(start.codes))]
        seen = [start]
        for _ in range(rounds):
            bred = [neighbours(rng, island.codes, _EACH * _PARENTS // len(island.codes), self.grid) for island in islands]
            together = self.looked(np.concatenate(bred))
            seen.append(together)
            for place, end in enumerate(np.cumsum([len(part) for part in bred])):
                family = all_of([islands[place], together.take(range(end - len(bred[place]), end))])
                islands[place] = family.take(ranked(rank(family), family.codes)[:_PARENTS])
        return all_of(seen)

    def close(self, codes: Codes) -> Pool:
        """Look at programs closely, with derivatives of their own."""
        expansion = self.view.expanded(self.grid.table(codes))
        return self.judged(codes, expansion, np.ones(len(codes), dtype=bool))

    def judged(self, codes: Codes, expansion: Expansion, own: NDArray[np.bool_]) -> Pool:
        """Programs with known or borrowed derivatives, judged."""
        outlook = self.view.judged(self.grid.table(codes), expansion, self.goals)
        hope = self.hope(codes, outlook)
        return Pool(codes, expansion, own, outlook, hope, misses(outlook.prediction.mean, self.goals))

    def hope(self, codes: Codes, outlook: Outlook) -> Array:
        """What programs are worth to the search: acquisition, less where nobody could taste it or the order is strange."""
        tasted = _UNTASTED + (1.0 - _UNTASTED) * outlook.chance_safe
        return np.asarray(outlook.acquisition * tasted * preference(self.grid.table(codes)))

    def borrowed(self, looked: Looked, lenders: Pool) -> Pool:
        """Look at programs more closely with derivatives of the nearest lender."""
        return self.judged(looked.codes, self.lent(looked, lenders), np.zeros(len(looked.codes), dtype=bool))

    def lent(self, looked: Looked, lenders: Pool) -> Expansion:
        """Expansions with derivatives of the nearest lender."""
        mine, theirs = coordinates(self.grid.table(looked.codes)), coordinates(self.grid.table(lenders.codes))
        nearest = np.argmin(np.round(squared_distances(mine, theirs), DIGITS), axis=1)
        return Expansion(looked.states, lenders.expansion.jacobian[nearest], lenders.expansion.sensitivity[nearest])

    def unpromising(self, looked: Looked, lenders: Pool) -> Array:
        """Minus the promise of programs, with derivatives of the nearest lender, (n,)."""
        table = self.grid.table(looked.codes)
        prediction = self.view.predicted(table, self.lent(looked, lenders))
        doubt = np.diagonal(prediction.cov, axis1=1, axis2=2)
        natural_sd = np.sqrt(self.view.natural.variance(prediction.sensitivity))
        return -promise(prediction.mean, doubt, natural_sd, self.goals) - np.log(preference(table))

    def courted(self, rng: np.random.Generator, looked: Looked, lenders: Pool) -> Looked:
        """The better half with what a neighbourhood search for promise finds on islands of its own."""
        better = looked.take(ranked(looked.missed, looked.codes)[:_BETTER])
        order = ranked(self.unpromising(better, lenders), better.codes)
        start = better.take(self.islands(better.codes, order, _ISLANDS))
        return all_of([better, self.descended(rng, start, lambda family: self.unpromising(family, lenders), _COURTED)])

    def finalists(self, looked: Looked, lenders: Pool) -> NDArray[np.intp]:
        """Rows worth a closer look: the most promising with their doubt, the nearest to the aim, and the hottest of all.

        The hottest matter where nothing reaches the limit.
        """
        promising = ranked(self.unpromising(looked, lenders), looked.codes)[:_FINALISTS]
        nearest = ranked(looked.missed, looked.codes)[:_NEAREST]
        hottest = ranked(-looked.means[:, CORE], looked.codes)[:_HOTTEST]
        return np.unique(np.concatenate([promising, nearest, hottest]))

    def promoted(self, pool: Pool, count: int) -> Pool:
        """The pool with derivatives of their own for the most worthy that lack them."""
        rows = np.array([row for row in pool.by_worth() if not pool.own[row]][:count], dtype=np.intp)
        if not len(rows):
            return pool
        return merged([pool, self.close(pool.codes[rows])])

    def parents(self, pool: Pool) -> list[int]:
        """Rows to breed from: the most worthy, and the most worthy of other islands."""
        order = np.array([row for row in pool.by_worth() if pool.own[row]], dtype=np.intp)
        apart = self.islands(pool.codes, order, _ISLANDS)
        best = [int(row) for row in order[:_PARENTS]]
        return best + [row for row in apart if row not in best]

    def refined(self, rng: np.random.Generator, pool: Pool) -> Pool:
        """Neighbourhood search by the acquisition itself round the best of the pool."""
        for _ in range(_REFINED):
            parents = self.parents(pool)
            bred = neighbours(rng, pool.codes[parents], _BRED // len(parents), self.grid)
            fresh = unknown(bred, pool.codes)
            if len(fresh):
                lenders = rows_of(pool, np.flatnonzero(pool.own))
                pool = merged([pool, self.borrowed(self.looked(fresh), lenders)])
            pool = self.promoted(pool, _OWN_EACH)
        return pool


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
    searcher = Searcher(view, grid, goals)
    everything = every_program(grid)
    codes = start_set(rng, _START, grid, longest_useful_s(view.brief, grid)) if everything is None else everything
    if cooked is not None and everything is None:
        codes = distinct(np.concatenate([codes, cooked, neighbours(rng, cooked, max(8, 200 // len(cooked)), grid)]))
    looked = searcher.looked(codes)
    if everything is None:
        start = looked.take(searcher.islands(looked.codes, ranked(looked.missed, looked.codes), _ISLANDS))
        looked = all_of([looked, searcher.descended(rng, start, lambda family: family.missed, _ROUNDS)])
    lenders = searcher.close(looked.codes[_spread_out(searcher, looked)])
    if everything is None:
        hottest = looked.take(ranked(-looked.means[:, CORE], looked.codes)[:_HOTTEST])
        looked = all_of([searcher.courted(rng, looked, lenders), hottest])
    finalists = looked.take(searcher.finalists(looked, lenders))
    pool = merged([searcher.borrowed(finalists, lenders), lenders])
    pool = searcher.promoted(pool, _OWN_FIRST)
    return pool if everything is not None else searcher.refined(rng, pool)


def _spread_out(searcher: Searcher, looked: Looked) -> list[int]:
    """Rows that stand for the better half: each the farthest from those chosen before, the first the nearest to the aim."""
    better = ranked(looked.missed, looked.codes)[:_BETTER]
    points = coordinates(searcher.grid.table(looked.codes[better]))
    chosen = [0]
    gap = squared_distances(points, points[:1])[:, 0]
    while len(chosen) < min(_LENDERS, len(points)) and gap.max() > 1e-9:
        chosen.append(int(np.argmax(np.round(gap, DIGITS))))
        gap = np.minimum(gap, squared_distances(points, points[chosen[-1:]])[:, 0])
    return [int(better[place]) for place in chosen]


def widened_pool(view: View, grid: Grid, goals: Goals, pool: Pool, *, seed: int) -> Pool:
    """A pool with more programs, for when those in it are used up; the same one where the grid has no more."""
    searcher = Searcher(view, grid, goals)
    everything = every_program(grid)
    if everything is None:
        rng = np.random.default_rng([seed % 2**32, 19, len(pool.codes)])
        best = pool.codes[pool.by_worth()[:_OWN_FIRST]]
        spread = start_set(rng, _START, grid, longest_useful_s(view.brief, grid))
        everything = distinct(np.concatenate([neighbours(rng, best, _EACH, grid), spread]))
    fresh = unknown(everything, pool.codes)
    if not len(fresh):
        return pool
    return merged([searcher.borrowed(searcher.looked(fresh), pool), pool])


__all__ = ["Searcher", "search", "widened_pool"]
