"""Acceptance rules of a proof and what they let through: tolerance factors and operating characteristics.

======  =================================================================  ====
symbol  meaning                                                            unit
======  =================================================================  ====
Y       lowest reading - critical limit - guard, one value a cook          K
n       cooks                                                              -
p       coverage: share of all cooks that the claim speaks of              -
c       confidence                                                         -
k       factor: the rule is mean(Y) - k s >= 0                             -
q       true share of cooks with Y below 0                                 -
======  =================================================================  ====

References
----------
NIST/SEMATECH e-Handbook of Statistical Methods, 7.2.6.3; ISO 16269-6 (statistical tolerance intervals); Krishnamoorthy and
Mathew, Statistical Tolerance Regions, 2009.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from tuner.domain import InvalidDocument


@dataclass(frozen=True, slots=True)
class ToleranceRule:
    """All of n cooks at or above 0, and mean(Y) - k s >= 0 with k for coverage and confidence."""

    cooks: int
    coverage: float
    confidence: float

    @property
    def factor(self) -> float:
        """One-sided tolerance factor k of the rule."""
        return tolerance_factor(self.cooks, self.coverage, self.confidence)

    def chance_to_accept(self, share_below: float) -> float:
        """Chance that mean(Y) - k s >= 0 although the share q lies below 0, for normal Y: nct.sf(k sqrt(n), n-1, z sqrt(n)).

        That every single cook be at or above 0 as well lowers it a little; it is not counted.
        """
        from scipy.stats import nct, norm

        root = math.sqrt(self.cooks)
        return float(nct.sf(self.factor * root, self.cooks - 1, norm.isf(share_below) * root))


@dataclass(frozen=True, slots=True)
class NoneBelowRule:
    """None of n cooks below 0, whatever the distribution of Y.

    Attributes
    ----------
    cooks
        n, over all ovens.
    ovens
        How many ovens they are spread over, the same number on each; 1 where ovens play no part.
    """

    cooks: int
    ovens: int = 1

    def chance_to_accept(self, share_below: float, oven_share: float = 0.0) -> float:
        """Chance that all n cooks are at or above 0.

        Independent cooks: (1 - q)^n. Cooks of one oven are alike: with the share `oven_share` of the (normal) variance
        between ovens, the chance that all cooks of one oven are is integrated over ovens, to the power of the ovens.
        """
        if oven_share == 0.0:
            return (1.0 - share_below) ** self.cooks
        from scipy.stats import norm

        nodes, weights = np.polynomial.hermite_e.hermegauss(80)
        mean = norm.isf(share_below) + math.sqrt(oven_share) * nodes
        one_oven = norm.cdf(mean / math.sqrt(1.0 - oven_share)) ** (self.cooks / self.ovens)
        return float((one_oven @ (weights / weights.sum())) ** self.ovens)


@lru_cache(maxsize=256)
def tolerance_factor(cooks: int, coverage: float, confidence: float, *, two_sided: bool = False) -> float:
    """Exact normal tolerance factor k.

    One-sided: mean - k s lies below the share `coverage` of all values with `confidence`. Two-sided: mean +/- k s holds that
    share.

    Parameters
    ----------
    cooks
        Sample size n, at least 2.
    coverage, confidence
        p and c, each above 0 and below 1.

    Raises
    ------
    InvalidDocument
        If n, p or c is out of range.

    Examples
    --------
    >>> round(tolerance_factor(15, 0.95, 0.95), 3)
    2.566
    """
    if cooks < 2 or not 0 < coverage < 1 or not 0 < confidence < 1:
        raise InvalidDocument(
            [
                f"cooks {cooks}, coverage {coverage:g}, confidence {confidence:g}. At least 2 cooks are needed, and shares lie "
                "between 0 and 1. Correct them."
            ]
        )
    return _two_sided(cooks, coverage, confidence) if two_sided else _one_sided(cooks, coverage, confidence)


def _one_sided(cooks: int, coverage: float, confidence: float) -> float:
    from scipy.stats import nct, norm

    root = math.sqrt(cooks)
    return float(nct.ppf(confidence, cooks - 1, norm.ppf(coverage) * root) / root)


def _two_sided(cooks: int, coverage: float, confidence: float) -> float:
    """Solve E[P(s >= r(mean) / k)] = confidence for k, r being the half-width that covers p about a displaced mean."""
    from scipy.optimize import brentq
    from scipy.stats import chi2, ncx2

    nodes, weights = np.polynomial.hermite_e.hermegauss(64)
    weights = weights / weights.sum()
    reach = ncx2.ppf(coverage, 1, nodes**2 / cooks)  # r^2: P(|N(m, 1)| <= r) = p

    def short_of_confidence(factor: float) -> float:
        return float(chi2.sf((cooks - 1) * reach / factor**2, cooks - 1) @ weights) - confidence

    return float(brentq(short_of_confidence, 1e-3, 1e4, xtol=1e-10))
