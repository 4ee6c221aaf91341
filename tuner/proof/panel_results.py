"""What a closed tasting session shows: means freed of the tasters' habits, agreement, splits, fatigue, drift.

Model of a mark: sample + taster + b x position + error, least squares; the mean of a sample is that of the whole panel at the
middle position, also where a taster missed it. Standard errors are for this panel.

References
----------
Searle, Linear Models, 1971 (adjusted means of an additive two-way table); Koo and Li 2016 and the Shrout-Fleiss forms in
`agreement`.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from tuner.domain import InvalidDocument
from tuner.proof.agreement import CHECK_COOKS, GOOD_PANEL, Agreement, agreement
from tuner.proof.just_right import Sides, sides

if TYPE_CHECKING:
    from numpy.typing import NDArray

DUPLICATE_SD = 0.5
"""Largest standard deviation between blind duplicates of a steady panel [marks] (common practice, no source)."""
FATIGUE_P = 0.05
SPARE_FOR_POSITION = 6
"""Degrees of freedom that must be left for the position to join the model."""
DRIFT_ERRORS = 2.0
"""Standard errors by which the hidden benchmark may differ from the sessions before."""
SPREAD_MARKS = 1.5
"""Range of sample means from which agreement says something about the panel [marks] (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Mark:
    """One mark: sample (its code), taster, position in the serving order from 1, and the mark."""

    sample: str
    taster: str
    position: int
    mark: float


@dataclass(frozen=True, slots=True)
class SampleMean:
    """Mean of a sample.

    Attributes
    ----------
    mean, standard_error
        Taster-corrected [marks]; the error is None where no degree of freedom is left.
    plain_mean, tasters
        Mean of the marks as given, and how many tasters gave one.
    sides
        Shares of tasters a whole mark off on each side, and whether that is a split.
    """

    sample: str
    mean: float
    standard_error: float | None
    plain_mean: float
    tasters: int
    sides: Sides


@dataclass(frozen=True, slots=True)
class Fatigue:
    """Trend of marks over the serving order.

    Attributes
    ----------
    per_position, standard_error, p
        Marks a position, its standard error, and the two-sided p-value.
    """

    per_position: float
    standard_error: float
    p: float

    @property
    def shows(self) -> bool:
        """Whether the trend is clear."""
        return self.p < FATIGUE_P


@dataclass(frozen=True, slots=True)
class AttributeResult:
    """One attribute of one session.

    Attributes
    ----------
    means
        One a sample, in the order first met.
    taster_effects
        How far each taster marks from the panel [marks].
    error_sd
        Standard deviation of single marks about the model; None where no degree of freedom is left.
    agreement
        None where too little was scored by everybody, or all samples came out alike.
    fatigue
        None where positions could not be told from samples.
    remarks
        What must be said with it, in words.
    """

    attribute: str
    means: tuple[SampleMean, ...]
    taster_effects: dict[str, float]
    error_sd: float | None
    agreement: Agreement | None
    fatigue: Fatigue | None
    remarks: tuple[str, ...]

    def of(self, sample: str) -> SampleMean | None:
        """Mean of one sample, None where nobody marked it."""
        return next((mean for mean in self.means if mean.sample == sample), None)


def attribute_result(attribute: str, marks: Sequence[Mark]) -> AttributeResult:
    """Work out one attribute.

    Raises
    ------
    InvalidDocument
        If there are no marks.
    """
    if not marks:
        raise InvalidDocument([f"{attribute} has no marks. A result needs some. Enter them."])
    samples = list(dict.fromkeys(mark.sample for mark in marks))
    tasters = list(dict.fromkeys(mark.taster for mark in marks))
    fitted = _fit(marks, samples, tasters)
    means = tuple(_mean(fitted, marks, index, sample) for index, sample in enumerate(samples))
    agreed = _agreement(marks, samples, tasters)
    effects = {name: float(fitted.taster_effect(index)) for index, name in enumerate(tasters)}
    fatigue = fitted.fatigue()
    remarks = tuple(_remarks(means, agreed, fatigue))
    return AttributeResult(attribute, means, effects, fitted.sd, agreed, fatigue, remarks)


def duplicate_sd(first: Sequence[float], second: Sequence[float]) -> float | None:
    """Standard deviation of one taster's mark, from pairs of blind duplicates; None without pairs."""
    if not first:
        return None
    gaps = np.asarray(first, float) - np.asarray(second, float)
    return math.sqrt(float((gaps**2).mean()) / 2.0)


@dataclass(frozen=True, slots=True)
class Drift:
    """How the hidden benchmark was marked against the sessions before [marks]."""

    change: float
    standard_error: float

    @property
    def shows(self) -> bool:
        """Whether the panel has moved: re-anchor it, do not change the program."""
        return abs(self.change) > DRIFT_ERRORS * self.standard_error


def drift(now: SampleMean, before: Sequence[SampleMean]) -> Drift | None:
    """Change of the hidden benchmark's mean; None without earlier sessions or standard errors."""
    errors = [mean.standard_error for mean in before if mean.standard_error is not None]
    if now.standard_error is None or not before or len(errors) < len(before):
        return None
    change = now.mean - float(np.mean([mean.mean for mean in before]))
    return Drift(change, math.hypot(now.standard_error, math.sqrt(sum(error**2 for error in errors)) / len(errors)))


@dataclass(frozen=True, slots=True)
class _Fitted:
    samples: int
    tasters: int
    coefficients: NDArray[np.float64]
    inverse: NDArray[np.float64]
    sd: float | None
    free: int
    with_position: bool

    def sample_row(self, index: int) -> NDArray[np.float64]:
        """Weights of the coefficients in a sample's mean: the sample, tasters adding up to zero, the middle position."""
        row = np.zeros(self.coefficients.size)
        row[index] = 1.0
        return row

    def taster_effect(self, index: int) -> float:
        effects = self.coefficients[self.samples : self.samples + self.tasters - 1]
        return float(effects[index]) if index < self.tasters - 1 else float(-effects.sum())

    def fatigue(self) -> Fatigue | None:
        from scipy.stats import t

        if not self.with_position or self.sd is None or self.sd == 0:
            return None
        slope, error = float(self.coefficients[-1]), self.sd * math.sqrt(float(self.inverse[-1, -1]))
        return Fatigue(slope, error, 2.0 * float(t.sf(abs(slope) / error, self.free))) if error > 0 else None


def _fit(marks: Sequence[Mark], samples: list[str], tasters: list[str]) -> _Fitted:
    """Least squares with tasters adding up to zero; the position joins where it can be told from samples and tasters."""
    rows = np.zeros((len(marks), len(samples) + len(tasters) - 1))
    for place, mark in enumerate(marks):
        rows[place, samples.index(mark.sample)] = 1.0
        taster = tasters.index(mark.taster)
        if taster < len(tasters) - 1:
            rows[place, len(samples) + taster] = 1.0
        else:
            rows[place, len(samples) :] = -1.0
    position = np.array([mark.position for mark in marks], float)
    wider = np.column_stack((rows, position - position.mean()))
    with_position = np.linalg.matrix_rank(wider) == wider.shape[1] and len(marks) >= wider.shape[1] + SPARE_FOR_POSITION
    table = wider if with_position else rows
    values = np.array([mark.mark for mark in marks])
    inverse = np.linalg.pinv(table.T @ table)
    coefficients = inverse @ table.T @ values
    free = len(marks) - int(np.linalg.matrix_rank(table))
    sd = math.sqrt(float(((values - table @ coefficients) ** 2).sum()) / free) if free > 0 else None
    return _Fitted(len(samples), len(tasters), coefficients, inverse, sd, free, bool(with_position))


def _mean(fitted: _Fitted, marks: Sequence[Mark], index: int, sample: str) -> SampleMean:
    row = fitted.sample_row(index)
    given = [mark.mark for mark in marks if mark.sample == sample]
    error = None if fitted.sd is None else fitted.sd * math.sqrt(float(row @ fitted.inverse @ row))
    return SampleMean(sample, float(row @ fitted.coefficients), error, float(np.mean(given)), len(given), sides(given))


def _agreement(marks: Sequence[Mark], samples: list[str], tasters: list[str]) -> Agreement | None:
    table = np.full((len(samples), len(tasters)), np.nan)
    for mark in marks:
        table[samples.index(mark.sample), tasters.index(mark.taster)] = mark.mark
    try:
        return agreement(table)
    except InvalidDocument:
        return None


def _remarks(means: Sequence[SampleMean], agreed: Agreement | None, fatigue: Fatigue | None) -> list[str]:
    found = [_camps(mean) for mean in means if mean.sides.split]
    spread = max(mean.mean for mean in means) - min(mean.mean for mean in means)
    if agreed is not None and agreed.icc_mean < GOOD_PANEL:
        if spread < SPREAD_MARKS or agreed.cooks < CHECK_COOKS:
            found.append(
                f"Agreement looks low, but {agreed.cooks} samples so alike say little about the panel: check it on "
                f"{CHECK_COOKS} cooks spread on purpose."
            )
        else:
            found.append(f"The panel agrees too little (ICC {agreed.icc_mean:.2f}, {GOOD_PANEL:g} is good): anchor it again.")
    if fatigue is not None and fatigue.shows:
        found.append(f"Marks move by {fatigue.per_position:+.2f} a position: serve fewer samples, or rest between them.")
    return found


def _camps(mean: SampleMean) -> str:
    low, high = (
        f"{100 * share:.0f} % {word} ({100 * interval.low:.0f} to {100 * interval.high:.0f} %)"
        for share, word in ((mean.sides.low, "low"), (mean.sides.high, "high"))
        for interval in [mean.sides.interval(share)]
    )
    return f"Sample {mean.sample} hides two camps, {low} and {high}."
