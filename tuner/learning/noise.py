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
from tuner.learning.probes import ProbeNoise, probe_noise
from tuner.learning.program_table import Array

_DOF = 10.0
_TASTER_SD, _OFFSET_SD, _LOSS_SD = 0.37, 0.13, 0.4
_EXTRA_SD = (0.6, 0.05, 0.06, 0.06, 0.20)


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
    probe
        Scatter of core readings.
    tasters
        How many scores a further cook will have.
    offsets
        Constant offset of each taster for each score.
    """

    taster_sd: float
    bias_sd: float
    probe: ProbeNoise
    loss_sd: float
    tasters: int
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
    panels = [len(cook.scores) for cook in cooks if cook.scores]
    tasters = int(np.median(panels)) if panels else brief.tasters
    return NoiseModel(
        taster_sd=taster_sd,
        bias_sd=offset_sd / float(np.sqrt(max(tasters, 1))),
        probe=probe_noise(cooks, brief.places),
        loss_sd=_LOSS_SD,
        tasters=max(tasters, 1),
        offsets=offsets,
    )
