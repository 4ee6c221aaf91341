"""Tolerance limit over ovens: cooks of one oven are alike, so ovens are the sample.

Model Y = mu + oven + rest, both normal. Generalised confidence (Krishnamoorthy and Mathew 2009, chapter 5): with the
unweighted means of a ovens, ss the sum of squares between those means, h the mean of 1/n over ovens, sse the sum of squares
within ovens on e degrees of freedom, draw

    mu* = mean - Z sqrt(ss / (a X1)),   v* = ss / X1 + (1 - h) sse / X2,   Z normal, X1 ~ chi2(a - 1), X2 ~ chi2(e),

and take the (1 - confidence) quantile of mu* - z_p sqrt(v*). With n cooks on every oven ss = SSB / n and h = 1 / n.

The limit moves with the values and scales with them, so it is mean - sqrt(sse) g(ss / sse) with one function g of the ratio
for a design: that makes the chance to accept cheap to compute (given both sums of squares, the mean is normal).

References
----------
Krishnamoorthy and Mathew, Statistical Tolerance Regions, 2009, chapter 5; Young 2016, R Journal 8(1).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from tuner.domain import InvalidDocument

if TYPE_CHECKING:
    from numpy.typing import NDArray

DRAWS = 100_000
SEED = 20_240_917
"""Draws of a limit and their seed: the same cooks give the same limit."""


@dataclass(frozen=True, slots=True)
class OvensLimit:
    """Lower tolerance limit over ovens.

    Attributes
    ----------
    low
        The limit, in the unit of the values.
    ovens, cooks
        How many it rests on.
    oven_share
        Estimated share of the variance that lies between ovens, 0 to 1.
    coverage, confidence
        p and c.
    method
        In words, for the record.
    """

    low: float
    ovens: int
    cooks: int
    oven_share: float
    coverage: float
    confidence: float
    method: str = "random-effects tolerance limit over ovens (generalised confidence)"


def lower_limit_over_ovens(
    values_by_oven: Mapping[str, Sequence[float]], coverage: float, confidence: float, *, seed: int = SEED
) -> OvensLimit:
    """Lower limit that the share `coverage` of all cooks on all such ovens lies above, with `confidence`.

    Parameters
    ----------
    values_by_oven
        Values of each oven, at least 1; at least 2 ovens, and more cooks than ovens.
    coverage, confidence
        p and c, above 0 and below 1.
    seed
        Of the draws.

    Raises
    ------
    InvalidDocument
        If there are too few ovens or cooks, or a share is out of range.
    """
    groups = [np.asarray(group, float) for group in values_by_oven.values() if len(group)]
    ovens, cooks = len(groups), sum(group.size for group in groups)
    if ovens < 2 or cooks <= ovens or not 0 < coverage < 1 or not 0 < confidence < 1:
        raise InvalidDocument(
            [
                f"{cooks} cooks on {ovens} ovens, coverage {coverage:g}, confidence {confidence:g}. A limit over ovens needs "
                "at least 2 ovens, one of them with 2 cooks, and shares between 0 and 1. Add cooks, or correct the shares."
            ]
        )
    means = np.array([group.mean() for group in groups])
    harmonic = float(np.mean([1.0 / group.size for group in groups]))
    between = float(((means - means.mean()) ** 2).sum())
    within = float(sum(((group - group.mean()) ** 2).sum() for group in groups))
    drawn = _draws(_Design(ovens, cooks - ovens, harmonic, coverage), seed)
    low = float(means.mean()) - float(np.quantile(drawn.of(between, within), confidence))
    error = within / (cooks - ovens)
    oven_part = max(0.0, between / (ovens - 1) - harmonic * error)
    total = oven_part + error
    return OvensLimit(low, ovens, cooks, oven_part / total if total > 0 else 0.0, coverage, confidence)


@dataclass(frozen=True, slots=True)
class _Design:
    """Ovens a, degrees of freedom within e, mean of 1/n over ovens h, coverage p."""

    ovens: int
    within: int
    harmonic: float
    coverage: float


@dataclass(frozen=True, slots=True)
class _Drawn:
    """What is drawn once for a design: Z, X1, X2 of the module's formula."""

    design: _Design
    z: NDArray[np.float64]
    x1: NDArray[np.float64]
    x2: NDArray[np.float64]
    z_coverage: float

    def of(self, between: float, within: float) -> NDArray[np.float64]:
        """How far below the mean the limit lies, one value a draw."""
        spread = between / self.x1
        total = spread + (1.0 - self.design.harmonic) * within / self.x2
        return self.z * np.sqrt(spread / self.design.ovens) + self.z_coverage * np.sqrt(total)


@lru_cache(maxsize=8)
def _draws(design: _Design, seed: int, draws: int = DRAWS) -> _Drawn:
    from scipy.stats import norm

    rng = np.random.default_rng(seed)
    return _Drawn(
        design,
        rng.standard_normal(draws),
        rng.chisquare(design.ovens - 1, draws),
        rng.chisquare(design.within, draws),
        float(norm.ppf(design.coverage)),
    )


@dataclass(frozen=True, slots=True)
class OvensRule:
    """Over a ovens with n cooks each: the lower limit over ovens at or above 0."""

    ovens: int
    cooks_each: int
    coverage: float
    confidence: float

    @property
    def cooks(self) -> int:
        """Cooks in all."""
        return self.ovens * self.cooks_each

    def chance_to_accept(self, share_below: float, oven_share: float) -> float:
        """Chance that the limit is at or above 0 although the share q of cooks lies below 0.

        Parameters
        ----------
        share_below
            True share q over all cooks on all ovens.
        oven_share
            Share of the variance between ovens, 0 to below 1.

        That no single cook lies below 0 is not counted; it lowers the chance a little.
        """
        from scipy.stats import norm

        between_part = oven_share + (1.0 - oven_share) / self.cooks_each
        sse, ss = self._sums_of_squares()
        depth = np.sqrt((1.0 - oven_share) * sse) * self._depth(between_part * ss / ((1.0 - oven_share) * sse))
        return float(norm.cdf((norm.isf(share_below) - depth) / np.sqrt(between_part / self.ovens)).mean())

    def _sums_of_squares(self) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """Chi-square values (within, between) on a low-discrepancy grid, shape (4096,)."""
        from scipy.stats import chi2, qmc

        grid = qmc.Sobol(2, seed=1).random(4096)
        grid = np.clip(grid, 1e-9, 1 - 1e-9)
        return chi2.ppf(grid[:, 0], self.ovens * (self.cooks_each - 1)), chi2.ppf(grid[:, 1], self.ovens - 1)

    def _depth(self, ratio: NDArray[np.float64]) -> NDArray[np.float64]:
        """The function g of the module's text, read off a table over the ratio."""
        at, values = _depth_table(self.ovens, self.cooks_each, self.coverage, self.confidence)
        return np.interp(np.log(ratio), at, values)


@lru_cache(maxsize=8)
def _depth_table(
    ovens: int, cooks_each: int, coverage: float, confidence: float
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """(log ratio, g) on 161 ratios from 1e-5 to 1e3."""
    design = _Design(ovens, ovens * (cooks_each - 1), 1.0 / cooks_each, coverage)
    drawn = _draws(design, SEED)
    at = np.linspace(np.log(1e-5), np.log(1e3), 161)
    return at, np.array([np.quantile(drawn.of(float(np.exp(ratio)), 1.0), confidence) for ratio in at])
