"""What a development's model learned, what it can't tell apart, and how good its forecasts were."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from pydantic import Field
from scipy.special import ndtri

from tuner.domain import ATTRIBUTES, Brief, Oven, TestCook
from tuner.domain.model import Model, Number, Text, Whole
from tuner.learning.calibration import Calibration
from tuner.learning.learned import Learned, learned_from
from tuner.learning.parameter_words import words_for
from tuner.learning.priors import Earlier, prior
from tuner.learning.program_table import Array
from tuner.learning.track_record import WIDTH, ForecastRecord, forecast_record, left_out_errors
from tuner.physics import PARAMETERS, natural

_Z = float(ndtri(0.5 + WIDTH / 2))
_TANGLED = 0.5
_MOST_TANGLED = 6
_TOUCHED = 0.05


class Range(Model):
    """Lower end, middle and upper end of an 80 % range."""

    low: Number
    middle: Number
    high: Number


class LearnedParameter(Model):
    """One uncertain number before and after the cooks; `learned` is the part of its doubt that is gone, 0 to 1."""

    name: Text
    words: Text
    unit: Text
    group: Text
    before: Range
    now: Range
    learned: Number = Field(ge=0, le=1)
    source: Text


class Tangle(Model):
    """Two numbers whose effects the cooks could not tell apart, with their correlation in what is left of the doubt."""

    first: Text
    second: Text
    correlation: Number
    words: Text


class AttributeRecord(Model):
    """Forecasts of one attribute held against its cooks.

    `covered` of `forecasts` measurements lay inside the 80 % interval told before the cook; `mean_error` (measured less
    forecast) and `typical_error` (root mean square) are of the same forecasts. `left_out_error` is the typical error of
    forecasting each cook from all others, `left_out_covered` of `left_out` lay inside. Errors are None where nothing was
    measured.
    """

    attribute: Text
    forecasts: Whole
    covered: Whole
    mean_error: Number | None
    typical_error: Number | None
    typical_spread: Number | None
    left_out: Whole
    left_out_covered: Whole
    left_out_error: Number | None


class Scatter(Model):
    """What differs from cook to cook and from measurement to measurement, as standard deviations."""

    taster_marks: Number
    panel_mean_marks: Number
    panel_bias_marks: Number
    reading_c: Number
    weighed_loss_points: Number
    mass_pct: Number
    start_c: Number


class ModelCard(Model):
    """What the model of a development knows. `brier` and `passed` are of the chances to pass told before `judged` cooks."""

    dish: Text
    oven: Text
    cooks: Whole
    earlier_developments: Whole
    parameters: tuple[LearnedParameter, ...]
    tangled: tuple[Tangle, ...]
    untouched: tuple[Text, ...]
    attributes: tuple[AttributeRecord, ...]
    judged: Whole
    passed: Whole
    brier: Number | None
    scatter: Scatter
    notes: tuple[Text, ...]


def model_card(brief: Brief, oven: Oven, cooks: Sequence[TestCook], *, earlier: Earlier = ()) -> ModelCard:
    """Describe what a development's model learned.

    The forecasts before each cook are made again, so this takes about as long as as many calls of `learn` as there are cooks.

    Parameters
    ----------
    brief, oven, cooks, earlier
        As for `learn`.
    """
    known = prior(earlier)
    learned = learned_from(brief, oven, cooks, known)
    now = learned.view.calibration
    record = forecast_record(brief, oven, cooks, known)
    judged = np.isfinite(record.passed)
    parameters = _parameters(now)
    return ModelCard(
        dish=brief.dish,
        oven=oven.name,
        cooks=learned.cooked,
        earlier_developments=len(known.developments),
        parameters=parameters,
        tangled=_tangled(now),
        untouched=tuple(one.words for one in parameters if one.learned < _TOUCHED),
        attributes=_records(record, now),
        judged=int(judged.sum()),
        passed=int(np.nansum(record.passed)),
        brier=record.brier,
        scatter=_scatter(learned),
        notes=_notes(learned, record),
    )


def _ranges(centre: Array, sd: Array) -> list[Range]:
    """80 % ranges of natural values from normal ranges in theta."""
    low, middle, high = natural(np.stack([centre - _Z * sd, centre, centre + _Z * sd]))
    return [Range(low=float(a), middle=float(b), high=float(c)) for a, b, c in zip(low, middle, high)]


def _parameters(now: Calibration) -> tuple[LearnedParameter, ...]:
    base = now.prior
    variance = np.clip(np.diag(now.u_cov), 0.0, 1.0)
    before = _ranges(base.centre, base.sd)
    after = _ranges(base.centre + base.sd * now.u_mean, base.sd * np.sqrt(variance))
    return tuple(
        LearnedParameter(
            name=parameter.name,
            words=words_for(parameter.name),
            unit=parameter.unit,
            group=parameter.group,
            before=before[place],
            now=after[place],
            learned=float(1.0 - np.sqrt(variance[place])),
            source=parameter.source,
        )
        for place, parameter in enumerate(PARAMETERS)
    )


def _tangled(now: Calibration) -> tuple[Tangle, ...]:
    """Pairs whose doubts hang together after the cooks, the closest first."""
    cov = now.u_cov
    sd = np.sqrt(np.clip(np.diag(cov), 1e-12, None))
    correlation = cov / np.outer(sd, sd)
    first, second = np.triu_indices(len(sd), k=1)
    values = correlation[first, second]
    order = np.argsort(-np.round(np.abs(values), 9), kind="stable")[:_MOST_TANGLED]
    return tuple(
        Tangle(
            first=PARAMETERS[first[k]].name,
            second=PARAMETERS[second[k]].name,
            correlation=float(values[k]),
            words=f"{words_for(PARAMETERS[first[k]].name)}, and {words_for(PARAMETERS[second[k]].name)}",
        )
        for k in order
        if abs(values[k]) >= _TANGLED
    )


def _root(values: Array) -> float | None:
    return float(np.sqrt(np.mean(values**2))) if len(values) else None


def _records(record: ForecastRecord, now: Calibration) -> tuple[AttributeRecord, ...]:
    left_error, left_spread = left_out_errors(now)
    found = []
    for column, name in enumerate(ATTRIBUTES):
        covered, told = record.covered(column)
        seen = np.isfinite(record.error[:, column])
        errors = record.error[seen, column]
        used = np.isfinite(left_error[:, column])
        left = left_error[used, column]
        found.append(
            AttributeRecord(
                attribute=name,
                forecasts=told,
                covered=covered,
                mean_error=float(errors.mean()) if len(errors) else None,
                typical_error=_root(errors),
                typical_spread=_root(record.spread[seen, column]),
                left_out=int(used.sum()),
                left_out_covered=int((np.abs(left) <= _Z * left_spread[used, column]).sum()),
                left_out_error=_root(left),
            )
        )
    return tuple(found)


def _scatter(learned: Learned) -> Scatter:
    noise, natural_variation = learned.view.noise, learned.view.natural
    return Scatter(
        taster_marks=noise.taster_sd,
        panel_mean_marks=noise.panel_sd,
        panel_bias_marks=noise.bias_sd,
        reading_c=noise.probe.reading_sd,
        weighed_loss_points=noise.loss_sd,
        mass_pct=100.0 * natural_variation.mass_sd,
        start_c=natural_variation.start_sd_c,
    )


def _notes(learned: Learned, record: ForecastRecord) -> tuple[str, ...]:
    """What a reader must know before believing the card."""
    words = ["Ranges hold four times in five if the physics is right; what it leaves out is not in them."]
    if learned.cooked < 5:
        words.append("So few cooks say little: most of this is what was believed before the first one.")
    if len(record.error) < 10:
        words.append("So few forecasts can't show whether the intervals are too wide or too narrow.")
    words.append("A constant bias of the whole panel can't be seen in the cooks; only a benchmark tasted blind shows it.")
    return tuple(words)
