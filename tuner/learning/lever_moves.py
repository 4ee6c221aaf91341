"""The trade's levers as changes of a program: dose, levels, seconds, and pairs that keep the dose.

A dose is level times time. Results may lie off the oven's steps: they are for forecasting what a lever does, not for cooking.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from tuner.domain import Program
from tuner.learning.program_table import Array, program_of

LeverName = Literal[
    "dose", "early_dose", "late_to_early", "peak", "duration", "duration_dose_kept", "late_air", "early_air", "air",
    "late_seconds",
]  # fmt: skip

WORDS: dict[LeverName, str] = {
    "dose": "microwave dose",
    "early_dose": "microwave dose, put into the early and middle stages",
    "late_to_early": "microwave of the last stage, moved to the stages before it",
    "peak": "highest microwave level, dose kept",
    "duration": "duration, same shares and levels",
    "duration_dose_kept": "duration, microwave dose kept",
    "late_air": "air speed of the last stage",
    "early_air": "air speed of the first stages",
    "air": "air speed of every stage",
    "late_seconds": "length of the last stage, microwave dose kept",
}
UNITS: dict[LeverName, str] = {
    **dict.fromkeys(("dose", "early_dose", "late_to_early", "peak", "duration", "duration_dose_kept"), "%"),
    **dict.fromkeys(("late_air", "early_air", "air"), "points"),
    "late_seconds": "s",
}


@dataclass(frozen=True)
class Move:
    """A lever with the smallest and largest usual change, signed, in its unit."""

    lever: LeverName
    least: float
    most: float

    @property
    def middle(self) -> float:
        """The usual change."""
        return (self.least + self.most) / 2.0

    @property
    def words(self) -> str:
        """The move for a chef."""
        low, high = sorted((abs(self.least), abs(self.most)))
        sign = "+" if self.most > 0 else "-"
        size = f"{sign}{low:g}" if low == high else f"{sign}{low:g} to {sign}{high:g}"
        return f"{WORDS[self.lever]} {size} {UNITS[self.lever]}"


@dataclass(frozen=True, eq=False)
class _Stages:
    seconds: Array
    air: Array
    micro: Array

    @property
    def dose(self) -> float:
        return float(self.seconds @ self.micro)


def _early(stages: _Stages) -> NDArray[np.bool_]:
    """Stages before the last; the only one where there is one."""
    count = len(stages.seconds)
    return np.arange(count) < max(count - 1, 1)


def _with_dose(stages: _Stages, where: NDArray[np.bool_], dose: float) -> _Stages:
    """The chosen stages' microwave scaled so that the whole dose is `dose`; levels end at 100."""
    inside = float(stages.seconds[where] @ stages.micro[where])
    wanted = dose - (stages.dose - inside)
    micro = stages.micro.copy()
    if inside > 0:
        micro[where] *= max(wanted, 0.0) / inside
    elif wanted > 0:
        micro[where] = wanted / float(stages.seconds[where].sum())
    return _Stages(stages.seconds, stages.air, np.clip(micro, 0.0, 100.0))


def _changed(stages: _Stages, lever: LeverName, size: float) -> _Stages:
    seconds, air, micro = stages.seconds, stages.air, stages.micro
    share, dose, early = 1.0 + size / 100.0, stages.dose, _early(stages)
    everywhere = np.ones(len(seconds), dtype=bool)
    if lever == "dose":
        return _with_dose(stages, everywhere, dose * share)
    if lever == "early_dose":
        return _with_dose(stages, early, dose * share)
    if lever == "late_to_early":
        less = np.where(early, micro, micro * max(share, 0.0))
        return _with_dose(_Stages(seconds, air, less), early, dose)
    if lever == "peak":
        lower = np.minimum(micro, float(micro.max()) * max(share, 0.0))
        return _with_dose(_Stages(seconds, air, lower), lower < float(micro.max()) * share - 1e-9, dose)
    if lever == "duration":
        return _Stages(seconds * share, air, micro)
    if lever == "duration_dose_kept":
        return _with_dose(_Stages(seconds * share, air, micro), everywhere, dose)
    if lever == "late_seconds":
        longer = np.where(np.arange(len(seconds)) == len(seconds) - 1, np.maximum(seconds + size, 1.0), seconds)
        return _with_dose(_Stages(longer, air, micro), everywhere, dose)
    where = {"late_air": ~early if len(seconds) > 1 else everywhere, "early_air": early, "air": everywhere}[lever]
    return _Stages(seconds, np.clip(air + size * where, 0.0, 100.0), micro)


def moved(program: Program, moves: Sequence[Move], times: float = 1.0) -> Program:
    """A program with levers moved by `times` their usual change, one after the other."""
    stages = _Stages(
        np.array([program.duration_s * stage.share_pct / 100.0 for stage in program.stages]),
        np.array([stage.air_speed_pct for stage in program.stages]),
        np.array([stage.microwave_pct for stage in program.stages]),
    )
    for move in moves:
        stages = _changed(stages, move.lever, times * move.middle)
    total = float(stages.seconds.sum())
    shares = 100.0 * stages.seconds / total
    shares[-1] = 100.0 - float(shares[:-1].sum())
    return program_of(program.air_temperature_c, total, zip(shares, stages.air, stages.micro))
