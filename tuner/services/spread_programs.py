"""Programs spread around a first guess on the oven's own steps: along duration, microwave, and late air."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from tuner.domain import Brief, Oven, Program, Setting, Stage

FINISH_PCT = 30.0
"""Share of the time that counts as late where a program has one stage only (common practice, no source)."""


Lever = Literal["duration", "microwave", "late air", "early microwave"]


@dataclass(frozen=True, slots=True)
class Change:
    """One way away from the first guess.

    Attributes
    ----------
    words
        What it changes and why, for the cook sheet.
    must
        Levers that have to move, or the words would not be true; none where any will do.
    extreme
        Meant to overshoot: taken as strong as it needs to be.
    duration, microwave
        Factors on the duration and on all microwave levels.
    late_air, late_microwave, early_microwave
        Points added to the last stage's air speed and microwave, and to the microwave of all other stages.
    """

    words: str
    must: frozenset[Lever] = frozenset()
    extreme: bool = False
    duration: float = 1.0
    microwave: float = 1.0
    late_air: float = 0.0
    late_microwave: float = 0.0
    early_microwave: float = 0.0


STRENGTHS = (1.0, 1.6, 2.4, 4.0)
"""How much stronger a change is tried where the oven's steps swallow it."""

CHANGES = (
    Change("Deliberately too much heat, to see what too hot looks like.", extreme=True, duration=1.25, microwave=1.15),
    Change("Deliberately too little heat, to see what too cold looks like.", extreme=True, duration=0.8, microwave=0.85),
    Change("More late air: what a drier, darker finish does.", frozenset({"late air"}), late_air=25, late_microwave=-15),
    Change("Less late air: what a softer, paler finish does.", frozenset({"late air"}), late_air=-25),
    Change(
        "Slower, with the microwave lowered to match: the same energy, spread out.",
        frozenset({"duration", "microwave"}),
        duration=1.25,
        microwave=0.8,
    ),
    Change(
        "Faster, with the microwave raised to match: the same energy, pressed together.",
        frozenset({"duration", "microwave"}),
        duration=0.8,
        microwave=1.25,
    ),
    Change("More microwave early: heat first, finish as before.", frozenset({"early microwave"}), early_microwave=20),
)
"""In the order in which they are taken: the two extremes first."""


def variants(guess: Program, change: Change, brief: Brief, oven: Oven) -> Iterator[Program]:
    """Legal programs that make one change to a guess, stronger and stronger, each different from the guess and the others.

    Nothing where the oven's steps or limits swallow the change.
    """
    seen = {guess.key}
    for strength in STRENGTHS:
        program = _changed(guess, change, strength, brief, oven)
        if program is None or program.key in seen or not change.must <= _moved_levers(guess, program):
            continue
        if is_legal(program, brief, oven):
            seen.add(program.key)
            yield program


def _moved_levers(guess: Program, program: Program) -> frozenset[Lever]:
    """What really differs once both lie on the oven's steps; a guess of one stage stands for all stages made of it."""
    before = guess.stages if len(guess.stages) == len(program.stages) else guess.stages * len(program.stages)
    pairs = list(zip(before, program.stages, strict=True))
    moved: dict[Lever, bool] = {
        "duration": guess.duration_s != program.duration_s,
        "microwave": any(old.microwave_pct != new.microwave_pct for old, new in pairs),
        "late air": pairs[-1][0].air_speed_pct != pairs[-1][1].air_speed_pct,
        "early microwave": any(old.microwave_pct != new.microwave_pct for old, new in pairs[:-1]),
    }
    return frozenset(lever for lever, has_moved in moved.items() if has_moved)


def is_legal(program: Program, brief: Brief, oven: Oven) -> bool:
    """Whether a program lies on the oven's steps, keeps to its limits and to the brief's duration window."""
    window = brief.targets.duration_s
    settings = [(oven.air_temperature_c, program.air_temperature_c), (oven.duration_s, program.duration_s)]
    for stage in program.stages:
        settings += [(oven.air_speed_pct, stage.air_speed_pct), (oven.microwave_pct, stage.microwave_pct)]
    return (
        all(setting.holds(value) for setting, value in settings)
        and (window is None or window.holds(program.duration_s))
        and len(program.stages) <= min(oven.max_stages, oven.share_parts)
        and all(_whole(stage.share_pct / oven.share_step_pct) for stage in program.stages)
        and (oven.min_stage_s is None or min(program.stage_seconds()) >= oven.min_stage_s)
    )


def _whole(parts: float) -> bool:
    return abs(parts - round(parts)) < 1e-6


def _changed(guess: Program, change: Change, strength: float, brief: Brief, oven: Oven) -> Program | None:
    duration = _nearest_allowed(oven, brief, guess.duration_s * change.duration**strength)
    one_end = bool(change.late_air or change.late_microwave or change.early_microwave)
    stages = _with_finish(guess.stages, oven) if one_end else guess.stages
    if duration is None:
        return None
    last = len(stages) - 1
    moved = tuple(
        Stage(
            share_pct=stage.share_pct,
            air_speed_pct=_moved(oven.air_speed_pct, stage.air_speed_pct + strength * change.late_air * (place == last)),
            microwave_pct=_moved(
                oven.microwave_pct,
                stage.microwave_pct * change.microwave**strength
                + strength * (change.late_microwave if place == last else change.early_microwave),
            ),
        )
        for place, stage in enumerate(stages)
    )
    return Program(air_temperature_c=guess.air_temperature_c, duration_s=duration, stages=moved)


def _moved(setting: Setting, value: float) -> float:
    return setting.nearest(min(max(value, setting.low), setting.high))


def _nearest_allowed(oven: Oven, brief: Brief, duration_s: float) -> float | None:
    """The settable duration inside the brief's window that is nearest; None where a step beside it is none either."""
    setting, window = oven.duration_s, brief.targets.duration_s
    low = setting.low if window is None or window.low is None else max(setting.low, window.low)
    high = setting.high if window is None or window.high is None else min(setting.high, window.high)
    wanted = min(max(duration_s, low), high)
    step = setting.step or 0.0
    near = (setting.nearest(value) for value in (wanted, wanted - step, wanted + step))
    return next((value for value in near if low <= value <= high), None)


def _with_finish(stages: tuple[Stage, ...], oven: Oven) -> tuple[Stage, ...]:
    """A program of one stage cut in two, so that its end can be changed by itself, where the oven can do that."""
    if len(stages) > 1 or oven.max_stages < 2 or oven.share_parts < 2:
        return stages
    late_parts = min(max(round(FINISH_PCT / oven.share_step_pct), 1), oven.share_parts - 1)
    late = round(late_parts * oven.share_step_pct, 9)
    only = stages[0]
    return tuple(
        Stage(share_pct=share, air_speed_pct=only.air_speed_pct, microwave_pct=only.microwave_pct)
        for share in (round(100.0 - late, 9), late)
    )
