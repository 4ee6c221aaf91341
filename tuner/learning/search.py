"""The search for programs worth cooking: from a spread start over islands of good means to the best acquisition.

Means are cheap (one run of the physics), derivatives are not (one run for each parameter). So most programs are looked at
by the mean alone; those that look good borrow the derivatives of the nearest program whose own are known; the best of these
get their own.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

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
_ROUNDS = 5
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
_SEEN_ENOUGH, _HOPEFUL, _MOST_WIDENING = 4, 0.3, 1.5


@dataclass(frozen=True, eq=False)
class Searcher:
    """A search with its calibrated model, its grid and its aim."""

    view: View
    grid: Grid
    goals: Goals
    widening: float = 1.0

    def looked(self, codes: Codes) -> Looked:
        """Look at programs by the mean alone."""
        table = self.grid.table(codes)
        states = self.view.states(table)
        means = self.view.means(table, states)
        missed = misses(means, self.goals) + _DISORDER * np.minimum(disorder(table), _MOST_DISORDER)
        return Looked(codes, states, means, missed)

    def islands(self, looked: Looked) -> list[int]:
        """Rows of good programs that lie apart from one another."""
        points = coordinates(self.grid.table(looked.codes))
        chosen: list[int] = []
        for row in ranked(looked.missed, looked.codes):
            if not chosen or squared_distances(points[row][None], points[chosen]).min() > _APART**2:
                chosen.append(int(row))
            if len(chosen) == _ISLANDS:
                break
        return chosen

    def descended(self, rng: np.random.Generator, start: Looked) -> Looked:
        """Neighbourhood search by the mean alone on every island; all that was looked at."""
        islands = [start.take([row]) for row in range(len(start.codes))]
        seen = [start]
        for _ in range(_ROUNDS):
            bred = [neighbours(rng, island.codes, _EACH * _PARENTS // len(island.codes), self.grid) for island in islands]
            together = self.looked(np.concatenate(bred))
            seen.append(together)
            for place, end in enumerate(np.cumsum([len(part) for part in bred])):
                family = all_of([islands[place], together.take(range(end - len(bred[place]), end))])
                islands[place] = family.take(ranked(family.missed, family.codes)[:_PARENTS])
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

    def rejudged(self, pool: Pool) -> Pool:
        """The pool with the hope of this search."""
        return replace(pool, hope=self.hope(pool.codes, pool.outlook))

    def hope(self, codes: Codes, outlook: Outlook) -> Array:
        """What programs are worth to the search: acquisition, less where nobody could taste it or the order is strange."""
        worth = self.view.hope(outlook, self.goals, self.widening)
        tasted = _UNTASTED + (1.0 - _UNTASTED) * outlook.chance_safe
        return np.asarray(worth * tasted * preference(self.grid.table(codes)))

    def borrowed(self, looked: Looked, lenders: Pool) -> Pool:
        """Look at programs more closely with derivatives of the nearest lender."""
        return self.judged(looked.codes, self.lent(looked, lenders), np.zeros(len(looked.codes), dtype=bool))

    def lent(self, looked: Looked, lenders: Pool) -> Expansion:
        """Expansions with derivatives of the nearest lender."""
        mine, theirs = coordinates(self.grid.table(looked.codes)), coordinates(self.grid.table(lenders.codes))
        nearest = np.argmin(np.round(squared_distances(mine, theirs), DIGITS), axis=1)
        return Expansion(looked.states, lenders.expansion.jacobian[nearest], lenders.expansion.sensitivity[nearest])

    def finalists(self, looked: Looked, lenders: Pool) -> NDArray[np.intp]:
        """Rows worth a closer look: the most promising with their doubt, the nearest to the aim, and the hottest of all.

        The hottest matter where nothing reaches the limit.
        """
        order = ranked(looked.missed, looked.codes)
        known = order[:_BETTER]
        candidates = looked.take(known)
        table = self.grid.table(candidates.codes)
        expansion = self.lent(candidates, lenders)
        prediction = self.view.predicted(table, expansion)
        variances = np.diagonal(prediction.cov, axis1=1, axis2=2) + self.view.natural.variance(prediction.sensitivity)
        promised = promise(prediction.mean, variances, self.goals) + np.log(preference(table))
        promising = known[ranked(-promised, candidates.codes)[:_FINALISTS]]
        hottest = ranked(-looked.means[:, CORE], looked.codes)[:_HOTTEST]
        return np.unique(np.concatenate([promising, order[:_NEAREST], hottest]))

    def promoted(self, pool: Pool, count: int) -> Pool:
        """The pool with derivatives of their own for the most worthy that lack them."""
        rows = np.array([row for row in pool.by_worth() if not pool.own[row]][:count], dtype=np.intp)
        if not len(rows):
            return pool
        return merged([pool, self.close(pool.codes[rows])])

    def refined(self, rng: np.random.Generator, pool: Pool) -> Pool:
        """Neighbourhood search by the acquisition itself round the best of the pool."""
        for _ in range(_REFINED):
            parents = [row for row in pool.by_worth() if pool.own[row]][:_PARENTS]
            bred = neighbours(rng, pool.codes[parents], _BRED // _PARENTS, self.grid)
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
        looked = all_of([looked, searcher.descended(rng, looked.take(searcher.islands(looked)))])
    lenders = searcher.close(looked.codes[_spread_out(searcher, looked)])
    finalists = looked.take(searcher.finalists(looked, lenders))
    pool = merged([searcher.borrowed(finalists, lenders), lenders])
    pool = searcher.promoted(pool, _OWN_FIRST)
    searcher = replace(searcher, widening=_widening(view, pool))
    pool = searcher.rejudged(pool)
    return pool if everything is not None else searcher.refined(rng, pool)


def _widening(view: View, pool: Pool) -> float:
    """Factor on the model's doubt: above 1 where it has seen cooks and still sees no program likely to pass.

    Such a model is wrong somewhere; without more doubt the search would stay where it failed.
    """
    if len(view.calibration.observations) < _SEEN_ENOUGH:
        return 1.0
    best = float(np.round(pool.outlook.chance_all_inside.max(), DIGITS))
    return 1.0 + _MOST_WIDENING * float(np.clip(1.0 - best / _HOPEFUL, 0.0, 1.0))


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
