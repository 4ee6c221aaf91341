"""Do tasters agree: intraclass correlation with its lower bound, and Krippendorff's alpha.

Shapes: marks (cooks, tasters), NaN where a taster did not score.

References
----------
Shrout and Fleiss 1979, Psychol. Bull. 86:420 (forms (2,1) and (2,k), interval of (2,1)); Koo and Li 2016, J. Chiropr. Med.
15:155 (what is good enough); Krippendorff 2011, Computing Krippendorff's Alpha-Reliability.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from tuner.domain import InvalidDocument

if TYPE_CHECKING:
    from numpy.typing import NDArray

GOOD_PANEL = 0.75
"""ICC(2,k) from which a panel's mean is good (Koo and Li 2016)."""
CHECK_COOKS = 10
"""Cooks, spread on purpose, that a panel check takes (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Agreement:
    """How far tasters agree on one attribute.

    Attributes
    ----------
    cooks, tasters
        Complete rows and columns that ICC rests on.
    icc_single, icc_mean
        ICC(2,1) of one taster, ICC(2,k) of the panel's mean.
    icc_mean_low
        One-sided lower bound of `icc_mean`, `confidence`.
    alpha
        Krippendorff's alpha (interval scale), gaps allowed; None where all marks are alike.
    mean_square_cooks, mean_square_tasters, mean_square_error
        The mean squares behind ICC.
    """

    cooks: int
    tasters: int
    icc_single: float
    icc_mean: float
    icc_mean_low: float
    alpha: float | None
    mean_square_cooks: float
    mean_square_tasters: float
    mean_square_error: float
    confidence: float
    method: str = "ICC(2,k) of Shrout and Fleiss with one-sided lower bound; Krippendorff's alpha, interval scale"


def agreement(marks: NDArray[np.float64], *, confidence: float = 0.95) -> Agreement:
    """Agreement of tasters over cooks.

    Parameters
    ----------
    marks
        Shape (cooks, tasters); NaN where missing. ICC takes the cooks that every taster scored.

    Raises
    ------
    InvalidDocument
        If fewer than 2 cooks were scored by all of at least 2 tasters, or these are all alike.
    """
    whole = marks[~np.isnan(marks).any(axis=1)]
    cooks, tasters = whole.shape
    if cooks < 2 or tasters < 2:
        raise InvalidDocument(
            [f"{cooks} cooks were scored by all {tasters} tasters. Agreement needs at least 2 of each. Score more cooks."]
        )
    bms, jms, ems = _mean_squares(whole)
    if bms == 0:
        raise InvalidDocument(["All cooks have the same panel mean. Agreement shows only on cooks spread on purpose, 2 to 4."])
    single = (bms - ems) / (bms + (tasters - 1) * ems + tasters * (jms - ems) / cooks)
    low = _single_low((bms, jms, ems), single, cooks, tasters, confidence)
    return Agreement(
        cooks=cooks,
        tasters=tasters,
        icc_single=single,
        icc_mean=(bms - ems) / (bms + (jms - ems) / cooks),
        icc_mean_low=tasters * low / (1.0 + (tasters - 1) * low),
        alpha=krippendorff_alpha(marks),
        mean_square_cooks=bms,
        mean_square_tasters=jms,
        mean_square_error=ems,
        confidence=confidence,
    )


def _mean_squares(whole: NDArray[np.float64]) -> tuple[float, float, float]:
    """Mean squares of cooks, tasters and error of a full two-way table."""
    cooks, tasters = whole.shape
    grand = whole.mean()
    by_cook, by_taster = whole.mean(axis=1), whole.mean(axis=0)
    rest = whole - by_cook[:, None] - by_taster[None, :] + grand
    return (
        float(tasters * ((by_cook - grand) ** 2).sum() / (cooks - 1)),
        float(cooks * ((by_taster - grand) ** 2).sum() / (tasters - 1)),
        float((rest**2).sum() / ((cooks - 1) * (tasters - 1))),
    )


def _single_low(squares: tuple[float, float, float], single: float, cooks: int, tasters: int, confidence: float) -> float:
    """One-sided lower bound of ICC(2,1), Shrout and Fleiss 1979, with Satterthwaite's degrees of freedom."""
    from scipy.stats import f

    bms, jms, ems = squares
    if ems == 0 and jms == 0:
        return 1.0
    ratio = jms / ems if ems > 0 else math.inf
    own = cooks * (1.0 + (tasters - 1) * single) - tasters * single
    if math.isinf(ratio):
        free = float(tasters - 1)
    else:
        top = (cooks - 1) * (tasters - 1) * (tasters * single * ratio + own) ** 2
        free = top / ((cooks - 1) * tasters**2 * single**2 * ratio**2 + own**2)
    critical = float(f.ppf(confidence, cooks - 1, free))
    spare = tasters * jms + (tasters * cooks - tasters - cooks) * ems
    return float(cooks * (bms - critical * ems) / (critical * spare + cooks * bms))


def krippendorff_alpha(marks: NDArray[np.float64]) -> float | None:
    """Krippendorff's alpha for marks on an interval scale, gaps allowed; None where all marks are alike.

    1 less observed disagreement over expected: mean squared differences of pairs within cooks, over those of all pairs.
    """
    paired = [row[~np.isnan(row)] for row in marks]
    paired = [row for row in paired if row.size > 1]
    pooled = np.concatenate(paired) if paired else np.empty(0)
    if pooled.size < 2 or np.ptp(pooled) == 0:
        return None
    # The sum of squared differences over ordered pairs is 2 n sum of squares about the mean.
    observed = sum(2.0 * row.size * float(((row - row.mean()) ** 2).sum()) / (row.size - 1) for row in paired) / pooled.size
    expected = 2.0 * pooled.size * float(((pooled - pooled.mean()) ** 2).sum()) / (pooled.size * (pooled.size - 1))
    return float(1.0 - observed / expected)
