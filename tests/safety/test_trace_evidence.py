"""What a trace shows, against a second way: the same trace sampled very densely."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.example import brief, cook
from tuner import safety
from tuner.domain import TracePiece
from tuner.safety.trace_evidence import Series, hold_at, series_by_place

TEMPERATURES = st.lists(st.floats(40, 100).map(lambda value: round(value, 1)), min_size=2, max_size=8)
STEPS = st.lists(st.integers(1, 60), min_size=7, max_size=7)
LEVEL_C = 76.0


def made(temperatures: list[float], steps: list[int]) -> Series:
    times = np.concatenate(([0], np.cumsum(steps)))[: len(temperatures)].astype(float)
    return Series("centre", times, np.array(temperatures))


def longest_run_s(series: Series, step_s: float = 0.01) -> float:
    times = np.arange(series.time_s[0], series.time_s[-1] + step_s / 2, step_s)
    above = np.interp(times, series.time_s, series.temperature_c) >= LEVEL_C
    edges = np.flatnonzero(np.diff(np.concatenate(([0], above.astype(int), [0]))))
    lengths = edges[1::2] - edges[::2]
    return float(lengths.max() - 1) * step_s if lengths.size else 0.0


@settings(deadline=None, max_examples=150)
@given(TEMPERATURES, STEPS)
def test_the_hold_is_the_longest_run_above_the_level(temperatures: list[float], steps: list[int]) -> None:
    series = made(temperatures, steps)
    assert hold_at(series, LEVEL_C).longest_s == pytest.approx(max(longest_run_s(series), 0.0), abs=0.03)


@settings(deadline=None, max_examples=150)
@given(TEMPERATURES, STEPS, st.integers(1, 200))
def test_a_hold_is_safe_to_taste_only_where_the_trace_really_shows_it(
    temperatures: list[float], steps: list[int], hold_s: int
) -> None:
    series = made(temperatures, steps)
    trace = [{"place": "centre", "time_s": list(series.time_s), "temperature_c": temperatures}]
    decided = safety.verdict(brief(critical_limit__hold_s=hold_s), cook(trace=trace)).status
    shown = longest_run_s(series)
    if decided == "safe_to_taste":
        assert shown >= hold_s - 0.03
    else:
        assert shown <= hold_s + 0.03


@settings(deadline=None, max_examples=100)
@given(TEMPERATURES, STEPS, st.floats(0.01, 60))
def test_minutes_are_safe_to_taste_only_where_the_guarded_trace_really_has_them(
    temperatures: list[float], steps: list[int], required_min: float
) -> None:
    series = made(temperatures, steps)
    dense = np.arange(0, series.time_s[-1], 0.01) + 0.005
    rate = 10 ** ((np.interp(dense, series.time_s, series.temperature_c) - 2 - 70) / 7.5)
    truly_min = float(rate.sum() * 0.01 / 60)
    limit = {"z_c": 7.5, "reference_c": 70, "required_min": required_min}
    wanted = brief(**{f"critical_limit__{name}": value for name, value in limit.items()})
    trace = [{"place": "centre", "time_s": list(series.time_s), "temperature_c": temperatures}]
    decided = safety.verdict(wanted, cook(trace=trace)).status
    assert decided in {"safe_to_taste", "not_safe"}
    if truly_min < required_min * 0.999:
        assert decided == "not_safe"
    if truly_min > required_min * 1.001:
        assert decided == "safe_to_taste"


@settings(deadline=None)
@given(TEMPERATURES, STEPS, st.randoms(use_true_random=False))
def test_samples_may_come_one_by_one_and_in_any_order(temperatures: list[float], steps: list[int], random: object) -> None:
    series = made(temperatures, steps)
    pieces = [
        TracePiece(place="Centre", time_s=float(time), temperature_c=float(value))
        for time, value in zip(series.time_s, series.temperature_c, strict=True)
    ]
    random.shuffle(pieces)  # type: ignore[attr-defined]
    (joined,) = series_by_place(tuple(pieces))
    assert np.array_equal(joined.time_s, series.time_s)
    assert np.array_equal(joined.temperature_c, series.temperature_c)
