"""What a thermometer trace shows: the time held at the limit and the equivalent minutes, place by place, guard taken off."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from tuner.domain import TestCook, TracePiece
from tuner.domain.brief import EDGE
from tuner.safety.lethality import lethality_min

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from tuner.safety.limit_in_force import EffectiveLimit


@dataclass(frozen=True, slots=True)
class Series:
    """Samples at one place in order of time.

    Attributes
    ----------
    place
        As written in the trace.
    time_s, temperature_c
        Shape (n,) [s, °C]; times rise.
    """

    place: str
    time_s: NDArray[np.float64]
    temperature_c: NDArray[np.float64]


def series_by_place(trace: tuple[TracePiece, ...]) -> tuple[Series, ...]:
    """Samples of a trace joined by place; of two samples at the same place and time the colder one counts."""
    samples: dict[str, dict[float, float]] = {}
    for piece in trace:
        times = piece.time_s if isinstance(piece.time_s, tuple) else (piece.time_s,)
        temperatures = piece.temperature_c if isinstance(piece.temperature_c, tuple) else (piece.temperature_c,)
        here = samples.setdefault(str(piece.place).strip().casefold(), {})
        for time, temperature in zip(times, temperatures, strict=True):
            here[time] = min(temperature, here.get(time, temperature))
    return tuple(
        Series(place, np.array(sorted(here), float), np.array([here[time] for time in sorted(here)], float))
        for place, here in samples.items()
    )


@dataclass(frozen=True, slots=True)
class Hold:
    """Longest unbroken time at or above a level.

    Attributes
    ----------
    longest_s
        That time [s].
    unfinished
        Whether the trace ends too early to tell: at or above the level, or before it while still rising.
    """

    longest_s: float
    unfinished: bool


def hold_at(series: Series, level_c: float) -> Hold:
    """Longest unbroken time a place stayed at or above `level_c`, taking the trace as straight between samples."""
    crossed = _with_crossings(series, level_c)
    above = crossed.temperature_c >= level_c - EDGE
    longest = run = 0.0
    for step_s, begins, ends in zip(np.diff(crossed.time_s), above[:-1], above[1:], strict=True):
        run = run + float(step_s) if begins and ends else 0.0
        longest = max(longest, run)
    last = crossed.temperature_c[-1]
    still_rising = not above.any() and last >= crossed.temperature_c.max() - EDGE and last > crossed.temperature_c[0] + EDGE
    return Hold(longest, bool(above[-1] or still_rising))


def _with_crossings(series: Series, level_c: float) -> Series:
    """The same straight pieces with a sample wherever the level is crossed, so that each piece lies on one side."""
    times, temperatures = series.time_s, series.temperature_c - level_c
    at = np.flatnonzero(temperatures[:-1] * temperatures[1:] < 0)
    share = temperatures[at] / (temperatures[at] - temperatures[at + 1])
    crossing = times[at] + share * (times[at + 1] - times[at])
    return Series(
        series.place, np.insert(times, at + 1, crossing), np.insert(series.temperature_c, at + 1, np.full(at.size, level_c))
    )


def minutes(series: Series, limit: EffectiveLimit, cook: TestCook, *, reference_c: float, z_c: float) -> float:
    """Equivalent minutes at one place, guard taken off; come-up and rest only where the limit counts them.

    Times of the trace are counted from the start of the program.
    """
    line = limit.pass_line_c or 0.0
    counted = _with_crossings(series, line)
    keep = np.ones(counted.time_s.size, bool)
    if not limit.count_come_up:
        reached = np.flatnonzero(counted.temperature_c >= line - EDGE)
        keep[: reached[0] if reached.size else keep.size] = False
    program = cook.done_program
    if not limit.count_rest and program is not None:
        counted, keep = _cut(counted, keep, program.duration_s)
    if keep.sum() < 2:
        return 0.0
    return lethality_min(counted.time_s[keep], counted.temperature_c[keep] - limit.guard_c, reference_c=reference_c, z_c=z_c)


def _cut(series: Series, keep: NDArray[np.bool_], end_s: float) -> tuple[Series, NDArray[np.bool_]]:
    """Leave out what comes after `end_s`, with a sample exactly there."""
    times, temperatures = series.time_s, series.temperature_c
    if times[0] < end_s < times[-1]:
        at = int(np.searchsorted(times, end_s))
        if times[at] != end_s:
            value = float(np.interp(end_s, times, temperatures))
            keep = np.insert(keep, at, keep[at - 1] and keep[at])
            times, temperatures = np.insert(times, at, end_s), np.insert(temperatures, at, value)
    return Series(series.place, times, temperatures), keep & (times <= end_s)


def coldest_place_traced(cook: TestCook) -> bool:
    """Whether the trace covers the place with the lowest reading; true where names do not tell."""
    places = [str(place).strip().casefold() for place in cook.probe_places or ()]
    readings = cook.readings_c
    traced = {str(piece.place).strip().casefold() for piece in cook.trace or ()}
    if len(places) != len(readings) or not traced & set(places):
        return True
    return any(place in traced for place, reading in zip(places, readings, strict=True) if reading <= min(readings) + EDGE)
