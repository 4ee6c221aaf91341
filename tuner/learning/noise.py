"""How far measurements scatter: tasters, thermometers, scale, and what differs from cook to cook.

Every spread is a pooled standard deviation that starts from a prior worth some degrees of freedom and moves to the
development's own data. A taster's constant offset is not noise: it is taken out before pooling. What remains of it in a
panel's mean can't be seen in the cooks; its likely size is the `bias_sd`.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

from tuner.domain import SCORES, Brief, TestCook
from tuner.learning.program_table import Array

_DOF = 10.0
_TASTER_SD, _OFFSET_SD, _PROBE_SD, _LOSS_SD = 0.37, 0.13, 0.9, 0.5
_EXTRA_SD = (0.6, 0.05, 0.05, 0.05, 0.2)
_HOTTEST_WET_C = 106.0
"""A reading above this is no temperature of moist food, whatever the altitude; it is not learned from."""

_MEAN_LOWEST = (0.0, 0.0, 0.5642, 0.8463, 1.0294, 1.1630, 1.2672, 1.3522, 1.4236, 1.4850, 1.5388)
_VAR_LOWEST = (0.0, 1.0, 0.6817, 0.5595, 0.4917, 0.4475, 0.4159, 0.3919, 0.3729, 0.3574, 0.3443)
"""Mean below the average, and variance, of the lowest of n standard normal readings (order statistics), n = 0..10."""


def lowest_of(places: int) -> tuple[float, float]:
    """How far the lowest of `places` readings lies below their mean on average, and its variance, in reading SDs."""
    if places < len(_MEAN_LOWEST):
        return _MEAN_LOWEST[places], _VAR_LOWEST[places]
    root = np.sqrt(2.0 * np.log(places))
    return float(root - (np.log(np.log(places)) + np.log(4 * np.pi)) / (2 * root)), float(np.pi**2 / 12 / np.log(places))


@dataclass(frozen=True, eq=False)
class NoiseModel:
    """Standard deviations of measurements; scores in marks, core in K, loss in points.

    Attributes
    ----------
    taster_sd
        Of one taster's mark round the panel, constant offset taken out.
    bias_sd
        Likely size of the panel mean's own constant offset.
    extra_sd
        From cook to cook of one program beyond mass and start temperature, (5,), scores on the latent scale.
    tasters, places
        How many scores and readings a further cook will have.
    offsets
        Constant offset of each taster for each score.
    """

    taster_sd: float
    bias_sd: float
    probe_sd: float
    loss_sd: float
    tasters: int
    places: int
    extra_sd: Array = field(default_factory=lambda: np.array(_EXTRA_SD))
    offsets: Mapping[tuple[str, str], float] = field(default_factory=dict)

    @property
    def panel_sd(self) -> float:
        """Of the mean of a panel [marks]."""
        return self.taster_sd / float(np.sqrt(self.tasters))

    def corrected_mean(self, cook: TestCook, attribute: str) -> tuple[float, int] | None:
        """Panel mean with each taster's constant offset taken out, and the number of marks; None where unscored."""
        marks = [
            mark - self.offsets.get((score.taster, attribute), 0.0)
            for score in cook.scores or ()
            if (mark := getattr(score, attribute)) is not None
        ]
        return (sum(marks) / len(marks), len(marks)) if marks else None


def plausible_readings(cook: TestCook) -> tuple[float, ...]:
    """Readings that can be temperatures of moist food."""
    return tuple(reading for reading in cook.readings_c if reading <= _HOTTEST_WET_C)


def _deviations(cooks: Sequence[TestCook]) -> dict[tuple[str, str], list[float]]:
    """Marks less their panel's mean, by taster and score, from panels of two and more."""
    found: dict[tuple[str, str], list[float]] = defaultdict(list)
    for cook in cooks:
        for attribute in SCORES:
            marks = {s.taster: mark for s in cook.scores or () if (mark := getattr(s, attribute)) is not None}
            if len(marks) >= 2:
                mean = sum(marks.values()) / len(marks)
                for taster, mark in marks.items():
                    found[taster, attribute].append(mark - mean)
    return found


def _pooled(prior_sd: float, squares: float, dof: float) -> float:
    return float(np.sqrt((_DOF * prior_sd**2 + max(squares, 0.0)) / (_DOF + max(dof, 0.0))))


def _taster_noise(cooks: Sequence[TestCook], prior_sd: float) -> tuple[float, float, dict[tuple[str, str], float]]:
    """Standard deviation of one mark, standard deviation of a taster's offset, offsets."""
    found = _deviations(cooks)
    shrink = (_TASTER_SD / _OFFSET_SD) ** 2
    offsets = {who: sum(values) / (len(values) + shrink) for who, values in found.items()}
    count = sum(len(values) for values in found.values())
    panels = sum(
        1
        for cook in cooks
        for attribute in SCORES
        if sum(getattr(score, attribute) is not None for score in cook.scores or ()) >= 2
    )
    squares = sum((value - offsets[who]) ** 2 for who, values in found.items() for value in values)
    used = sum(len(values) / (len(values) + shrink) for values in found.values())
    taster_sd = _pooled(prior_sd, squares, count - panels - used)
    raw = [(np.mean(values) ** 2 - taster_sd**2 / len(values), len(values)) for values in found.values() if len(values) >= 3]
    dof = 0.6 * len(raw)
    offset_sd = _pooled(_OFFSET_SD, dof * float(np.mean([value for value, _ in raw])) if raw else 0.0, dof)
    return taster_sd, offset_sd, offsets


def noise_of(brief: Brief, cooks: Sequence[TestCook]) -> NoiseModel:
    """Noise of a development's measurements, from the brief and its cooks."""
    stated = "taster_sd" in brief.model_fields_set
    prior_sd = max(0.1, brief.taster_sd) if stated else _TASTER_SD
    taster_sd, offset_sd, offsets = _taster_noise(cooks, prior_sd)
    readings = [np.array(plausible_readings(cook)) for cook in cooks]
    several = [values for values in readings if len(values) >= 2]
    probe_sd = _pooled(
        _PROBE_SD,
        sum(min(float(((values - values.mean()) ** 2).sum()), 25.0 * len(values)) for values in several),
        sum(len(values) - 1 for values in several),
    )
    panels = [len(cook.scores) for cook in cooks if cook.scores]
    tasters = int(np.median(panels)) if panels else brief.tasters
    return NoiseModel(
        taster_sd=taster_sd,
        bias_sd=offset_sd / float(np.sqrt(max(tasters, 1))),
        probe_sd=probe_sd,
        loss_sd=_LOSS_SD,
        tasters=max(tasters, 1),
        places=brief.places,
        offsets=offsets,
    )
