"""Programs on an oven's own steps, written as whole numbers, inside what oven and brief allow.

A code is a row of whole numbers: step of the air temperature, step of the duration, then for each stage its number of share
steps, step of the air speed, step of the microwave level. Stages that are not there have zero share steps.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tuner.domain import Brief, NoLegalProgram, Oven, Program, Setting
from tuner.learning.goals import Goals
from tuner.learning.program_table import Array, ProgramTable, program_of

Codes = NDArray[np.int64]

MOST_SEARCHED_STAGES = 3


@dataclass(frozen=True, eq=False)
class Grid:
    """Everything that may be proposed: the oven's steps between its limits, the brief's durations, shares, stages.

    Attributes
    ----------
    first_duration, last_duration
        First and last step of the duration that may be used.
    parts
        Share steps in a whole program.
    stages
        Largest number of stages that is searched.
    """

    oven: Oven
    first_duration: int
    last_duration: int
    parts: int
    stages: int
    min_stage_s: float

    @property
    def temperatures(self) -> int:
        """Number of settings of the air temperature."""
        return self.oven.air_temperature_c.count

    @property
    def speeds(self) -> int:
        """Number of settings of the air speed."""
        return self.oven.air_speed_pct.count

    @property
    def levels(self) -> int:
        """Number of settings of the microwave level."""
        return self.oven.microwave_pct.count

    @property
    def longest_s(self) -> float:
        """The longest duration that may be proposed [s]."""
        return self.oven.duration_s.at(self.last_duration)

    @property
    def shortest_s(self) -> float:
        """The shortest duration that may be proposed [s]."""
        return self.oven.duration_s.at(self.first_duration)

    def values(self, codes: Codes) -> tuple[Array, Array, Array, Array, Array]:
        """Settings of codes: air temperature [°C], duration [s], shares [%], air speeds [%], microwave levels [%]."""
        parts, speeds, levels = codes[:, 2::3], codes[:, 3::3], codes[:, 4::3]
        there = parts > 0
        return (
            _at(self.oven.air_temperature_c, codes[:, 0]),
            _at(self.oven.duration_s, codes[:, 1]),
            np.round(parts * (100.0 / self.parts), 9),
            np.where(there, _at(self.oven.air_speed_pct, speeds), 0.0),
            np.where(there, _at(self.oven.microwave_pct, levels), 0.0),
        )

    def table(self, codes: Codes) -> ProgramTable:
        """Codes as arrays of programs."""
        temperature, duration, share, air, micro = self.values(codes)
        return ProgramTable(temperature, duration, share / share.sum(axis=1, keepdims=True), air / 100.0, micro / 100.0)

    def programs(self, codes: Codes) -> tuple[Program, ...]:
        """Codes as programs."""
        temperature, duration, share, air, micro = self.values(codes)
        return tuple(
            program_of(
                temperature[row],
                duration[row],
                [(share[row, k], air[row, k], micro[row, k]) for k in range(share.shape[1]) if codes[row, 2 + 3 * k] > 0],
            )
            for row in range(len(codes))
        )

    def legal(self, codes: Codes) -> NDArray[np.bool_]:
        """Which codes may be proposed: every number in range, shares complete, no stage too short."""
        parts = codes[:, 2::3]
        there = parts > 0
        inside = (codes[:, 0] >= 0) & (codes[:, 0] < self.temperatures)
        inside &= (codes[:, 1] >= self.first_duration) & (codes[:, 1] <= self.last_duration)
        inside &= (parts.sum(axis=1) == self.parts) & (parts >= 0).all(axis=1)
        for column, count in ((3, self.speeds), (4, self.levels)):
            steps = codes[:, column::3]
            inside &= (~there | ((steps >= 0) & (steps < count))).all(axis=1)
        if self.min_stage_s > 0:
            duration = _at(self.oven.duration_s, np.clip(codes[:, 1], 0, self.oven.duration_s.count - 1))
            seconds = duration[:, None] * parts / self.parts
            whole = np.where(there.sum(axis=1, keepdims=True) == 1, seconds, np.floor(seconds + 1e-9))
            inside &= (~there | (whole >= self.min_stage_s - 1e-9)).all(axis=1)
        return inside

    def code_of(self, program: Program) -> Codes | None:
        """Code of a program, (2 + 3 stages,), or None where it is off the steps or outside what is allowed."""
        oven = self.oven
        if len(program.stages) > oven.max_stages:
            return None
        pairs = [(oven.air_temperature_c, program.air_temperature_c), (oven.duration_s, program.duration_s)]
        for stage in program.stages:
            pairs += [(oven.air_speed_pct, stage.air_speed_pct), (oven.microwave_pct, stage.microwave_pct)]
        if not all(setting.holds(value) for setting, value in pairs):
            return None
        code = [_step_of(oven.air_temperature_c, program.air_temperature_c), _step_of(oven.duration_s, program.duration_s)]
        for stage in program.stages:
            parts = stage.share_pct / oven.share_step_pct
            if abs(parts - round(parts)) > 1e-6:
                return None
            code += [
                round(parts),
                _step_of(oven.air_speed_pct, stage.air_speed_pct),
                _step_of(oven.microwave_pct, stage.microwave_pct),
            ]
        row = np.array(code, dtype=np.int64)
        return row if bool(self.legal(row[None, :])[0]) else None

    def snapped(self, program: Program) -> Codes | None:
        """Code of the legal program nearest to `program` with at most `stages` stages, None where the shares don't fit."""
        oven = self.oven
        stages = program.stages[: self.stages]
        raw = np.array([stage.share_pct for stage in stages]) / sum(stage.share_pct for stage in stages) * self.parts
        parts = np.maximum(np.floor(raw).astype(np.int64), 1)
        for place in np.argsort(np.floor(raw) - raw, kind="stable")[: max(self.parts - int(parts.sum()), 0)]:
            parts[place] += 1
        parts[int(np.argmax(parts))] += self.parts - int(parts.sum())
        step = _nearest_step(oven.duration_s, program.duration_s)
        code = [
            _nearest_step(oven.air_temperature_c, program.air_temperature_c),
            min(max(step, self.first_duration), self.last_duration),
        ]
        for count, stage in zip(parts, stages):
            code += [
                int(count),
                _nearest_step(oven.air_speed_pct, stage.air_speed_pct),
                _nearest_step(oven.microwave_pct, stage.microwave_pct),
            ]
        row = np.array(code, dtype=np.int64)
        return row if bool(self.legal(row[None, :])[0]) else None

    def padded(self, code: Codes, stages: int) -> Codes:
        """A code with room for `stages` stages."""
        return np.pad(code, (0, max(0, 2 + 3 * stages - len(code))))


def _at(setting: Setting, steps: NDArray[np.int64]) -> Array:
    return np.round(setting.low + steps * (setting.step or 0.0), 9)


def _step_of(setting: Setting, value: float) -> int:
    return 0 if setting.step is None else round((value - setting.low) / setting.step)


def _nearest_step(setting: Setting, value: float) -> int:
    return _step_of(setting, setting.nearest(value))


def _duration_steps(oven: Oven, low_s: float, high_s: float) -> tuple[int, int]:
    """First and last step of the duration inside [low, high]; the first is above the last where there is none."""
    setting = oven.duration_s
    step = setting.step or 1.0
    first = int(np.clip(np.floor((low_s - setting.low) / step) - 1, 0, setting.count))
    while first < setting.count and setting.at(first) < low_s:
        first += 1
    last = int(min(np.ceil((min(high_s, setting.high) - setting.low) / step) + 1, setting.count - 1))
    while last >= 0 and setting.at(last) > high_s:
        last -= 1
    return first, last


def _why_no_program(oven: Oven, goals: Goals) -> str:
    setting, need = oven.duration_s, oven.min_stage_s or 0.0
    high = "no upper limit" if np.isinf(goals.duration_high_s) else f"{goals.duration_high_s:g} s"
    stage = f" and a stage lasts at least {need:g} s" if need > goals.duration_low_s else ""
    lower = max(goals.duration_low_s, need)
    if setting.low > goals.duration_high_s:
        change = f"Raise the window's high to at least {setting.low:g} s, or choose an oven that can run shorter"
    elif setting.at(setting.count - 1) < lower:
        change = f"Lower the window's low to at most {setting.at(setting.count - 1):g} s, or choose an oven that can run longer"
    else:
        change = f"Widen the window by one step of the oven ({setting.step or 0:g} s) or more"
    return (
        f"No program can be set: the brief's duration window runs from {goals.duration_low_s:g} s to {high}{stage}, the oven "
        f"{oven.name!r} from {setting.low:g} to {setting.high:g} s in steps of {setting.step or 0:g} s, and none of these "
        f"steps lies inside. A program's duration must be one of the oven's steps inside the window. {change}."
    )


def grid_of(brief: Brief, oven: Oven, goals: Goals) -> Grid:
    """What may be proposed for a brief on an oven.

    Raises
    ------
    NoLegalProgram
        If no step of the oven lies inside the brief's duration window.
    """
    del brief
    need = oven.min_stage_s or 0.0
    first, last = _duration_steps(oven, max(goals.duration_low_s, need), goals.duration_high_s)
    if first > last:
        raise NoLegalProgram(_why_no_program(oven, goals))
    stages = min(MOST_SEARCHED_STAGES, oven.max_stages, round(oven.share_parts))
    return Grid(oven, first, last, oven.share_parts, stages, need)
