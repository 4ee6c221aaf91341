"""The simple rule: does one cook pass, fail, or wait for a measurement."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from tuner.domain import SCORES, Brief, TestCook, Window
from tuner.domain.brief import EDGE
from tuner.safety import usable_core_window

Result = Literal["pass", "fail", "pending"]


@dataclass(frozen=True, slots=True)
class Outcome:
    """What the simple rule says of one cook.

    Attributes
    ----------
    result
        `fail` as soon as one measured value is outside; else `pending` while something is missing; else `pass`.
    outside
        Attributes measured outside their window.
    missing
        What is still missing: attributes, and `rest_s`, `mass_g`, `start_temperature_c` where the cook does not show that
        it was the brief's portion, rested as the brief asks.
    """

    result: Result
    outside: tuple[str, ...]
    missing: tuple[str, ...]


def judge(brief: Brief, cook: TestCook) -> Outcome:
    """Judge one cook by every window that exists, whatever its program and purpose.

    Core: lowest reading at or above the usable low edge (the higher of the window's low and critical limit + guard), mean
    of the readings at or below the window's high. Scores: plain mean of the tasters present, one is enough. Cook loss as
    weighed. Edges belong to the window.
    """
    outside: list[str] = []
    missing: list[str] = []
    low, high = usable_core_window(brief)
    if low is not None or high is not None:
        if _core_outside(cook.readings_c, low, high):
            outside.append("core_temperature_c")
        elif len(cook.readings_c) < brief.places:
            missing.append("core_temperature_c")
    for attribute, value in _measured(cook):
        window: Window | None = brief.targets.of(attribute)
        if window is None:
            continue
        if value is None:
            missing.append(attribute)
        elif not window.holds(value):
            outside.append(attribute)
    missing += _unshown(brief, cook)
    result: Result = "fail" if outside else "pending" if missing else "pass"
    return Outcome(result, tuple(outside), tuple(missing))


def _core_outside(readings_c: tuple[float, ...], low: float | None, high: float | None) -> bool:
    if not readings_c:
        return False
    if low is not None and min(readings_c) < low - EDGE:
        return True
    return high is not None and sum(readings_c) / len(readings_c) > high + EDGE


def _measured(cook: TestCook) -> Iterator[tuple[str, float | None]]:
    for attribute in SCORES:
        yield attribute, cook.panel_mean(attribute)
    yield "cook_loss_pct", cook.cook_loss_pct


def _unshown(brief: Brief, cook: TestCook) -> Iterator[str]:
    """What must be noted before a cook may pass: the rest, and that it was the brief's portion."""
    if (0.0 if cook.rest_s is None else cook.rest_s) < brief.rest_s - EDGE:
        yield "rest_s"
    if cook.mass_g is None:
        yield "mass_g"
    if cook.start_temperature_c is None:
        yield "start_temperature_c"
