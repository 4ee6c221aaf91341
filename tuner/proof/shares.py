"""Intervals for a share that was counted: passed of cooked, tasters on one side of all tasters.

References
----------
Clopper and Pearson 1934, Biometrika 26:404 (exact); Wilson 1927, JASA 22:209; Brown, Cai and DasGupta 2001, Stat. Sci. 16:101.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from tuner.domain import InvalidDocument

Method = Literal["exact", "wilson"]


@dataclass(frozen=True, slots=True)
class ShareInterval:
    """A counted share with its interval.

    Attributes
    ----------
    share
        Counted share, 0 to 1.
    low, high
        Ends of the interval; one-sided lower bounds have high 1.
    confidence, method
        In numbers and words, for the record.
    """

    share: float
    low: float
    high: float
    confidence: float
    method: str


def share_interval(
    counted: int, of: int, *, confidence: float = 0.95, one_sided: bool = False, method: Method = "exact"
) -> ShareInterval:
    """Interval of a share; `one_sided` gives a lower bound only ("at least").

    Raises
    ------
    InvalidDocument
        If the counts do not fit together, or the confidence is out of range.
    """
    from scipy.stats import binomtest

    if not 0 <= counted <= of or of < 1 or not 0 < confidence < 1:
        raise InvalidDocument(
            [f"{counted} of {of}, confidence {confidence:g}. Counts lie within 0 to the number counted. Correct them."]
        )
    test = binomtest(counted, of, alternative="greater" if one_sided else "two-sided")
    found = test.proportion_ci(confidence_level=confidence, method=method)
    name = "Clopper-Pearson exact" if method == "exact" else "Wilson"
    side = "one-sided lower bound" if one_sided else "interval"
    return ShareInterval(counted / of, float(found.low), float(found.high), confidence, f"{name} {side}")
