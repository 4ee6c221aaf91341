"""Programs that a search has looked at, by the mean alone or closely, and their order."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tuner.learning.candidates import first_rows
from tuner.learning.grid import Codes
from tuner.learning.outlook import Outlook
from tuner.learning.program_table import Array
from tuner.learning.simulator import Expansion

DIGITS = 6
"""Scores are rounded to this many digits before they are compared, so that numeric noise can't decide."""
_VANISHING = 1e-7


@dataclass(frozen=True, eq=False)
class Looked:
    """Programs looked at by the mean alone: codes, the physics' states (n, 5), posterior means (n, 5), misses of the aim."""

    codes: Codes
    states: Array
    means: Array
    missed: Array

    def take(self, rows: Sequence[int] | NDArray[np.intp]) -> Looked:
        """The chosen rows."""
        rows = np.asarray(rows, dtype=np.intp)
        return Looked(self.codes[rows], self.states[rows], self.means[rows], self.missed[rows])


@dataclass(frozen=True, eq=False)
class Pool:
    """Programs looked at closely, with their outlook.

    Attributes
    ----------
    own
        Whose derivatives are their own.
    hope
        Acquisition as the search sees it: with wider doubt where the model leaves no hope.
    """

    codes: Codes
    expansion: Expansion
    own: NDArray[np.bool_]
    outlook: Outlook
    hope: Array
    misses: Array

    def order(self, *scores: Array) -> NDArray[np.intp]:
        """Rows from best to worst by scores (larger is better, first score first), rounded; ties by the program itself."""
        keys = [self.codes[:, column] for column in range(self.codes.shape[1] - 1, -1, -1)]
        return np.lexsort(keys + [-np.round(score, DIGITS) for score in reversed(scores)])

    def by_worth(self, crowding: Array | None = None) -> NDArray[np.intp]:
        """Rows from most to least worth cooking; where all chances vanish, from nearest to farthest from the aim."""
        worth = self.hope * (1.0 if crowding is None else crowding)
        return self.order(np.log(worth + _VANISHING), -self.misses)


def ranked(values: Array, codes: Codes) -> NDArray[np.intp]:
    """Rows from smallest to largest value, rounded; ties by the code."""
    keys = [codes[:, column] for column in range(codes.shape[1] - 1, -1, -1)]
    return np.lexsort([*keys, np.round(values, DIGITS)])


def all_of(parts: Sequence[Looked]) -> Looked:
    """The rows of all parts, each program once."""
    codes = np.concatenate([part.codes for part in parts])
    together = Looked(
        codes,
        np.concatenate([part.states for part in parts]),
        np.concatenate([part.means for part in parts]),
        np.concatenate([part.missed for part in parts]),
    )
    return together.take(first_rows(codes))


def unknown(codes: Codes, known: Codes) -> Codes:
    """Codes that are not among the known ones."""
    there = {tuple(code) for code in known.tolist()}
    return np.array([code for code in codes.tolist() if tuple(code) not in there], dtype=np.int64).reshape(-1, codes.shape[1])


def rows_of(pool: Pool, rows: NDArray[np.intp]) -> Pool:
    """The chosen rows of a pool."""
    old = pool.expansion
    return Pool(
        pool.codes[rows],
        Expansion(old.states[rows], old.jacobian[rows], old.sensitivity[rows]),
        pool.own[rows],
        pool.outlook.take(rows),
        pool.hope[rows],
        pool.misses[rows],
    )


def merged(pools: Sequence[Pool]) -> Pool:
    """Rows of several pools, each program once; later pools overrule earlier ones."""
    codes = np.concatenate([pool.codes for pool in pools])
    rows = len(codes) - 1 - first_rows(codes[::-1])
    expansions = [pool.expansion for pool in pools]
    together = Pool(
        codes,
        Expansion(
            np.concatenate([part.states for part in expansions]),
            np.concatenate([part.jacobian for part in expansions]),
            np.concatenate([part.sensitivity for part in expansions]),
        ),
        np.concatenate([pool.own for pool in pools]),
        Outlook.all_of([pool.outlook for pool in pools]),
        np.concatenate([pool.hope for pool in pools]),
        np.concatenate([pool.misses for pool in pools]),
    )
    return rows_of(together, rows)
