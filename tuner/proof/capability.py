"""Capability: how many spreads fit between the mean and the nearest edge of a window, with a lower bound.

References
----------
NIST/SEMATECH e-Handbook of Statistical Methods, 6.1.6; Bissell 1990, Applied Statistics 39:331 (lower bound).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from tuner.domain import InvalidDocument


@dataclass(frozen=True, slots=True)
class Capability:
    """Performance indices of a sample against a window.

    Attributes
    ----------
    pp
        Window width over six standard deviations; None where a side is open.
    ppk
        Distance from the mean to the nearest edge over three standard deviations; infinite where nothing spreads inside.
    ppk_low
        One-sided lower bound of `ppk` (Bissell's normal approximation).
    share_outside
        Share of cooks outside the window if values are normal with this mean and spread.
    confidence
        Of `ppk_low`.
    """

    pp: float | None
    ppk: float
    ppk_low: float
    share_outside: float
    confidence: float
    method: str = "Ppk with Bissell's lower bound"


def capability(values: Sequence[float], low: float | None, high: float | None, *, confidence: float = 0.95) -> Capability:
    """Indices of `values` against the window `low`..`high`, of which one side may be open.

    Raises
    ------
    InvalidDocument
        If there are fewer than 2 values, or both sides are open.
    """
    if len(values) < 2:
        raise InvalidDocument([f"{len(values)} values. Capability needs at least 2. Add cooks."])
    return capability_of(float(np.mean(values)), float(np.std(values, ddof=1)), len(values), low, high, confidence=confidence)


def capability_of(
    mean: float, sd: float, n: int, low: float | None, high: float | None, *, confidence: float = 0.95
) -> Capability:
    """Indices from mean, standard deviation and number of values; see `capability`.

    Raises
    ------
    InvalidDocument
        If both sides are open.
    """
    from scipy.stats import norm

    rooms = [room for room in (None if low is None else mean - low, None if high is None else high - mean) if room is not None]
    if not rooms:
        raise InvalidDocument(["low and high are both missing. Capability is held against a window. Give an edge."])
    if sd == 0:
        ppk = math.copysign(math.inf, min(rooms)) if min(rooms) else 0.0
        return Capability(None if low is None or high is None else math.inf, ppk, ppk, float(min(rooms) < 0), confidence)
    ppk = min(rooms) / (3.0 * sd)
    error = math.sqrt(1.0 / (9.0 * n) + ppk**2 / (2.0 * (n - 1)))
    return Capability(
        pp=None if low is None or high is None else (high - low) / (6.0 * sd),
        ppk=ppk,
        ppk_low=ppk - float(norm.ppf(confidence)) * error,
        share_outside=float(sum(norm.sf(room / sd) for room in rooms)),
        confidence=confidence,
    )
