"""The search for programs worth cooking: from a spread start over islands of good means to the best acquisition."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tuner.learning.aim import misses
from tuner.learning.calibration import Prediction, predicted, predicted_means
from tuner.learning.candidates import distinct, every_program, longest_useful_s, neighbours, start_set, widened
from tuner.learning.coordinates import coordinates, squared_distances
from tuner.learning.goals import Goals
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
_DIGITS = 6


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


def _ranked(values: Array, codes: Codes) -> NDArray[np.intp]:
    """Rows from smallest to largest value, rounded; ties by the code."""
    keys = [codes[:, column] for column in range(codes.shape[1] - 1, -1, -1)]
    return np.lexsort([*keys, np.round(values, _DIGITS)])


def _islands(view: View, grid: Grid, codes: Codes, missed: Array) -> list[int]:
    """Rows of good programs that lie apart from one another."""
    points = coordinates(grid.table(codes))
    chosen: list[int] = []
    for row in _ranked(missed, codes):
        if all(squared_distances(points[row][None], points[other][None])[0, 0] > _APART**2 for other in chosen):
            chosen.append(int(row))
        if len(chosen) == _ISLANDS:
            break
    del view
    return chosen


def _descend(
    rng: np.random.Generator, view: View, grid: Grid, goals: Goals, start: list[Codes]
) -> tuple[Codes, Array]:
    """Neighbourhood search by the mean alone on every island; all that was looked at."""
    islands = [code[None, :] for code in start]
    seen_codes, seen_missed = [np.concatenate(islands)], [view.missed(grid.table(np.concatenate(islands)), goals)]
    for _ in range(_ROUNDS):
        bred = [neighbours(rng, island, _EACH * _PARENTS // len(island), grid) for island in islands]
        sizes = np.cumsum([0] + [len(part) for part in bred])
        together = np.concatenate(bred)
        missed = view.missed(grid.table(together), goals)
        seen_codes.append(together)
        seen_missed.append(missed)
        for place, (begin, end) in enumerate(zip(sizes[:-1], sizes[1:])):
            family = np.concatenate([islands[place], together[begin:end]])
            values = np.concatenate([view.missed(grid.table(islands[place]), goals), missed[begin:end]])
            islands[place] = family[_ranked(values, family)[:_PARENTS]]
    return np.concatenate(seen_codes), np.concatenate(seen_missed)


def _unique(codes: Codes, values: Array) -> tuple[Codes, Array]:
    kept, rows = np.unique(codes, axis=0, return_index=True)
    return kept, values[rows]


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
    missed = view.missed(grid.table(codes), goals)
    if everything is None:
        start = [codes[row] for row in _islands(view, grid, codes, missed)]
        more, more_missed = _descend(rng, view, grid, goals, start)
        codes, missed = _unique(np.concatenate([codes, more]), np.concatenate([missed, more_missed]))
    rows = _ranked(missed, codes)[:_FINALISTS]
    extra = _ends(view, grid, codes, rows)
    pool = _looked_at(view, grid, goals, distinct(np.concatenate([codes[rows], extra])))
    return pool if everything is not None else _refined(rng, view, grid, goals, pool)


def _ends(view: View, grid: Grid, codes: Codes, rows: NDArray[np.intp]) -> Codes:
    """The hottest of all candidates by the mean, which matter where nothing reaches the limit."""
    del rows
    states = view.means(grid.table(codes))
    return codes[np.argsort(-np.round(states[:, 0], _DIGITS), kind="stable")[:4]]


def _looked_at(view: View, grid: Grid, goals: Goals, codes: Codes) -> Pool:
    outlook = view.outlook(grid.table(codes), goals)
    return Pool(codes, outlook, misses(outlook.prediction.mean, goals))


def _refined(rng: np.random.Generator, view: View, grid: Grid, goals: Goals, pool: Pool) -> Pool:
    """Neighbourhood search by the acquisition itself round the best of the pool."""
    for _ in range(_REFINED):
        best = pool.order(pool.outlook.acquisition, pool.outlook.chance_safe, -pool.misses)[:_PARENTS]
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


__all__ = ["Pool", "Prediction", "predicted", "predicted_means", "search", "widened"]
