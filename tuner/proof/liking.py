"""Liked as well as the benchmark: paired differences against a margin stated before (non-inferiority).

References
----------
Bi 2006, Sensory Discrimination Tests and Measurements, chapter 5; Julious 2004, Statistics in Medicine 23:1921 (size).
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from tuner.domain import InvalidDocument
from tuner.proof.discrimination import MOST_TASTERS, Answer


@dataclass(frozen=True, slots=True)
class LikingProtocol:
    """What is fixed before the first sample: margin on the liking scale, one-sided risk."""

    margin: float = 1.0
    alpha: float = 0.05


@dataclass(frozen=True, slots=True)
class LikedAsWell:
    """What paired liking showed.

    Attributes
    ----------
    answer
        One of three; "similar within the stated limit" means liked as well, within the margin.
    tasters
        Independent tasters: replicates of one taster are averaged first.
    mean_difference, low, high
        Dish less benchmark [steps of the scale] with its one-sided lower and upper limits (confidence 1 - alpha each).
    sd
        Standard deviation of the tasters' differences.
    method, remark
        In words, for the record; what else must be said.
    """

    answer: Answer
    tasters: int
    mean_difference: float
    low: float
    high: float
    sd: float
    method: str
    remark: str


def liking_power(tasters: int, sd: float, protocol: LikingProtocol) -> float:
    """Chance to show "liked as well" of a dish that is liked exactly as well."""
    from scipy.stats import nct, t

    if sd <= 0:
        return 1.0
    free = tasters - 1
    return float(nct.sf(t.isf(protocol.alpha, free), free, protocol.margin / sd * math.sqrt(tasters)))


def liking_size(sd: float, protocol: LikingProtocol, *, power: float = 0.8) -> int:
    """Fewest tasters that show "liked as well" with chance `power`: 27 at sd 2.0 and margin 1.0.

    Raises
    ------
    InvalidDocument
        If a value is out of range, or more than 2000 tasters would be needed.
    """
    if sd < 0 or protocol.margin <= 0 or not 0 < protocol.alpha < 0.5 or not 0 < power < 1:
        raise InvalidDocument(
            [
                f"sd {sd:g}, margin {protocol.margin:g}, risk {protocol.alpha:g}, power {power:g} do not make a test. "
                "Correct them."
            ]
        )
    found = next((n for n in range(2, MOST_TASTERS + 1) if liking_power(n, sd, protocol) >= power), None)
    if found is None:
        raise InvalidDocument([f"More than {MOST_TASTERS} tasters would be needed. State a wider margin or less power."])
    return found


def liked_as_well(protocol: LikingProtocol, differences_by_taster: Mapping[str, Sequence[float]]) -> LikedAsWell:
    """Judge paired liking, dish less benchmark.

    Parameters
    ----------
    protocol
        As fixed before.
    differences_by_taster
        Differences of each taster; a taster with several counts once, with their mean.

    Raises
    ------
    InvalidDocument
        If fewer than 2 tasters gave a difference.
    """
    from scipy.stats import t

    values = np.array([np.mean(given) for given in differences_by_taster.values() if len(given)], float)
    if values.size < 2:
        raise InvalidDocument([f"{values.size} tasters gave both marks. A test needs at least 2. Enter more."])
    mean, sd = float(values.mean()), float(values.std(ddof=1))
    reach = float(t.isf(protocol.alpha, values.size - 1)) * sd / math.sqrt(values.size)
    low, high = mean - reach, mean + reach
    answer, remark = _answer(protocol, low, high)
    return LikedAsWell(answer, int(values.size), mean, low, high, sd, "paired t test against the margin, one-sided", remark)


def _answer(protocol: LikingProtocol, low: float, high: float) -> tuple[Answer, str]:
    if low > -protocol.margin:
        return "similar within the stated limit", "Liked less, but by less than the margin." if high < 0 else ""
    if high < 0:
        return "different", "The benchmark is liked more."
    return "not shown", "Nothing significant is not the same as liked as well: more tasters would be needed."
