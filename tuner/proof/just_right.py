"""What a taster loses on either side of just right, and whether a mean hides a split.

References
----------
Penalty analysis of just-about-right marks as in ASTM MNL63 (from memory; the arithmetic is checked).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from tuner.proof.shares import ShareInterval, share_interval

ACT_SHARE = 0.2
"""Share of tasters on one side from which a drop in liking is worth acting on (common practice, no source)."""
JUST_RIGHT = 3.0
SPLIT_SHARE = 0.25
"""Share of tasters that must stand a whole mark off on each side before a mean counts as split (common practice)."""


@dataclass(frozen=True, slots=True)
class Penalty:
    """One side of just right.

    Attributes
    ----------
    tasters, share
        How many marked that side, of all.
    drop
        Mean liking of those at just right less theirs; None where nobody is on that side, or nobody at just right.
    weighted
        share x drop.
    act
        Whether at least 20 % are on that side and like it less.
    """

    tasters: int
    share: float
    drop: float | None
    weighted: float
    act: bool


@dataclass(frozen=True, slots=True)
class Penalties:
    """Both sides, and the drop of all who are not at just right."""

    too_low: Penalty
    too_high: Penalty
    overall: float | None


def penalties(marks: Sequence[float], liking: Sequence[float]) -> Penalties:
    """Penalty of each side: marks within half a mark of 3 are just right.

    Parameters
    ----------
    marks, liking
        One of each a taster, in the same order.
    """
    mark, liked = np.asarray(marks, float), np.asarray(liking, float)
    low, high = mark < JUST_RIGHT - 0.5, mark > JUST_RIGHT + 0.5
    right = ~low & ~high
    off = low | high
    best = float(liked[right].mean()) if right.any() else None
    overall = best - float(liked[off].mean()) if best is not None and off.any() else None
    return Penalties(_side(low, liked, best), _side(high, liked, best), overall)


def _side(side: np.ndarray, liked: np.ndarray, best: float | None) -> Penalty:
    share = float(side.mean()) if side.size else 0.0
    drop = best - float(liked[side].mean()) if best is not None and side.any() else None
    return Penalty(int(side.sum()), share, drop, share * (drop or 0.0), share >= ACT_SHARE and (drop or 0.0) > 0)


@dataclass(frozen=True, slots=True)
class Sides:
    """Shares of tasters a whole mark or more off just right, of how many tasters."""

    low: float
    high: float
    tasters: int

    @property
    def split(self) -> bool:
        """Whether the mean hides two camps."""
        return self.low >= SPLIT_SHARE and self.high >= SPLIT_SHARE

    def interval(self, share: float) -> ShareInterval:
        """Wilson interval of one of the shares, 95 %: what so few tasters can say about all."""
        return share_interval(round(share * self.tasters), self.tasters, method="wilson")


def sides(marks: Sequence[float]) -> Sides:
    """How many tasters stand a whole mark off, on each side."""
    mark = np.asarray(marks, float)
    if not mark.size:
        return Sides(0.0, 0.0, 0)
    return Sides(float((mark <= JUST_RIGHT - 1.0).mean()), float((mark >= JUST_RIGHT + 1.0).mean()), mark.size)
