"""Tolerance limits of a sample: a bound that most cooks keep to, with stated confidence.

======  =================================================================  ====
symbol  meaning                                                            unit
======  =================================================================  ====
n       values, one a cook                                                 -
p       coverage: share of all cooks that the bound speaks of              -
c       confidence                                                         -
k       normal tolerance factor: the bound is mean - k s                   -
======  =================================================================  ====

References
----------
NIST/SEMATECH e-Handbook of Statistical Methods, 7.2.6.3 and 7.2.6.4; ISO 16269-6; Wilks 1941, Ann. Math. Stat. 12:91
(distribution-free limits).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from tuner.domain import InvalidDocument
from tuner.proof.acceptance import tolerance_factor

MOST_SKEW = 1.0
"""Sample skewness beyond which values are not treated as normal (common practice, no source)."""
BENT_PLOT_P = 0.01
"""Shapiro-Wilk p-value below which the normal plot counts as bent (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class ToleranceLimits:
    """Bounds that hold a share of all cooks.

    Attributes
    ----------
    low, high
        The bounds, in the unit of the values; None on an open side.
    factor
        k of the normal method; None where the method is free of a distribution.
    coverage, confidence
        p asked for, and the confidence reached (at least the one asked for).
    method
        In words, for the record.
    """

    low: float | None
    high: float | None
    factor: float | None
    coverage: float
    confidence: float
    method: str


def lower_limit(values: Sequence[float], coverage: float, confidence: float) -> ToleranceLimits:
    """One-sided normal lower limit mean - k s: the share `coverage` of all cooks lies above it.

    Raises
    ------
    InvalidDocument
        If there are fewer than 2 values, or a share is out of range.
    """
    factor = tolerance_factor(len(values), coverage, confidence)
    mean, sd = float(np.mean(values)), float(np.std(values, ddof=1))
    return ToleranceLimits(mean - factor * sd, None, factor, coverage, confidence, "one-sided normal tolerance limit (exact)")


def two_sided_limits(values: Sequence[float], coverage: float, confidence: float) -> ToleranceLimits:
    """Two-sided normal limits mean -/+ k s: the share `coverage` of all cooks lies between them.

    Raises
    ------
    InvalidDocument
        If there are fewer than 2 values, or a share is out of range.
    """
    factor = tolerance_factor(len(values), coverage, confidence, two_sided=True)
    mean, sd = float(np.mean(values)), float(np.std(values, ddof=1))
    method = "two-sided normal tolerance limits (exact)"
    return ToleranceLimits(mean - factor * sd, mean + factor * sd, factor, coverage, confidence, method)


def distribution_free_lower_limit(values: Sequence[float], coverage: float, confidence: float) -> ToleranceLimits | None:
    """Highest order statistic that the share `coverage` of all cooks lies above, whatever their distribution.

    None where even the lowest value does not reach the confidence: too few cooks.

    Raises
    ------
    InvalidDocument
        If a share is out of range.
    """
    from scipy.stats import binom

    _checked(coverage, confidence)
    ordered, n = np.sort(np.asarray(values, float)), len(values)
    # The r-th lowest value is such a limit with confidence P(at least r of n cooks lie in the lowest 1 - p).
    reached = binom.sf(np.arange(n), n, 1.0 - coverage)
    good = np.flatnonzero(reached >= confidence - 1e-12)
    if not good.size:
        return None
    rank = int(good[-1])
    method = f"distribution-free limit: value number {rank + 1} from below of {n}"
    return ToleranceLimits(float(ordered[rank]), None, None, coverage, float(reached[rank]), method)


def distribution_free_cooks(coverage: float, confidence: float) -> int:
    """Fewest cooks, none below the line, that show the share `coverage` above it with `confidence`: 59 for 95/95.

    Raises
    ------
    InvalidDocument
        If a share is out of range.
    """
    _checked(coverage, confidence)
    return math.ceil(math.log(1.0 - confidence) / math.log(coverage) - 1e-9)


def looks_normal(values: Sequence[float]) -> bool:
    """Whether values may be treated as normal: skewness within +/- 1 and no bent normal plot (Shapiro-Wilk, p >= 0.01).

    Fewer than 8 values, or values all alike, show nothing against it.
    """
    from scipy.stats import shapiro, skew

    sample = np.asarray(values, float)
    if sample.size < 8 or np.ptp(sample) < 1e-9:
        return True
    return abs(float(skew(sample, bias=False))) <= MOST_SKEW and float(shapiro(sample).pvalue) >= BENT_PLOT_P


def _checked(coverage: float, confidence: float) -> None:
    if not 0 < coverage < 1 or not 0 < confidence < 1:
        raise InvalidDocument([f"coverage {coverage:g}, confidence {confidence:g}. Both lie between 0 and 1. Correct them."])
