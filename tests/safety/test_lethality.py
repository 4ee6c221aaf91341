from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad

from tuner import safety
from tuner.domain import InvalidDocument

TEMPERATURES = st.lists(st.floats(-40, 140), min_size=2, max_size=8)
STEPS = st.lists(st.floats(0.05, 400), min_size=7, max_size=7)
Z = st.floats(3, 30)


def trace(temperatures: list[float], steps: list[float]) -> tuple[np.ndarray, np.ndarray]:
    return np.concatenate(([0.0], np.cumsum(steps)))[: len(temperatures)], np.array(temperatures)


def _mean_rate(first: float, last: float, z: float) -> float:
    mean, _ = quad(lambda share: 10 ** ((first + share * (last - first) - 70) / z), 0, 1, epsabs=0, epsrel=1e-11, limit=400)
    return mean


@settings(deadline=None, max_examples=60)
@given(TEMPERATURES, STEPS, Z)
def test_it_is_the_integral_of_the_lethal_rate(temperatures: list[float], steps: list[float], z: float) -> None:
    times, values = trace(temperatures, steps)
    pieces = zip(np.diff(times), values, values[1:], strict=False)
    integral = sum(span * _mean_rate(first, last, z) / 60 for span, first, last in pieces)
    assert safety.lethality_min(times, values, reference_c=70, z_c=z) == pytest.approx(integral, rel=1e-8)


@settings(deadline=None)
@given(TEMPERATURES, STEPS, Z, st.floats(0.1, 10))
def test_hotter_is_never_less_and_scales_as_z_says(
    temperatures: list[float], steps: list[float], z: float, rise: float
) -> None:
    times, values = trace(temperatures, steps)
    cold = safety.lethality_min(times, values, reference_c=70, z_c=z)
    hot = safety.lethality_min(times, values + rise, reference_c=70, z_c=z)
    assert hot == pytest.approx(cold * 10 ** (rise / z), rel=1e-9)


@settings(deadline=None)
@given(TEMPERATURES, STEPS, Z, st.floats(0.01, 0.99))
def test_a_sample_added_on_a_straight_piece_changes_nothing(
    temperatures: list[float], steps: list[float], z: float, share: float
) -> None:
    times, values = trace(temperatures, steps)
    at = times[0] + share * (times[1] - times[0])
    more_times, more_values = np.insert(times, 1, at), np.insert(values, 1, np.interp(at, times, values))
    whole = safety.lethality_min(times, values, reference_c=70, z_c=z)
    assert safety.lethality_min(more_times, more_values, reference_c=70, z_c=z) == pytest.approx(whole, rel=1e-8)


@settings(deadline=None)
@given(TEMPERATURES, STEPS, Z)
def test_the_trapezoid_of_the_rate_never_gives_less(temperatures: list[float], steps: list[float], z: float) -> None:
    times, values = trace(temperatures, steps)
    trapezoid = np.trapezoid(10 ** ((values - 70) / z), times) / 60
    assert safety.lethality_min(times, values, reference_c=70, z_c=z) <= trapezoid * (1 + 1e-9)


def test_one_sample_is_worth_nothing() -> None:
    assert safety.lethality_min(5, 90, reference_c=70, z_c=10) == 0.0


def test_a_step_at_one_time_takes_no_time() -> None:
    assert safety.lethality_min([0, 60, 60, 120], [70, 70, 60, 60], reference_c=70, z_c=10) == pytest.approx(1.1)


def test_absurd_input_gives_a_large_number_not_infinity() -> None:
    assert math.isfinite(safety.lethality_min([0, 60], [400, 400], reference_c=0, z_c=0.001))


@pytest.mark.parametrize(
    "times, values, z, words",
    [
        ([], [], 6, "at least one"),
        ([0, 1], [50], 6, "same length"),
        ([[0, 1]], [[50, 60]], 6, "same length"),
        ([0, math.nan], [50, 60], 6, "finite"),
        ([0, 1], [50, math.inf], 6, "finite"),
        ([0, 1], [50, 60], 0, "more than 0"),
        ([0, 1], [50, 60], math.nan, "more than 0"),
        ([1, 0], [50, 60], 6, "order of time"),
    ],
)
def test_what_is_no_trace_is_refused_in_plain_words(times: list[float], values: list[float], z: float, words: str) -> None:
    with pytest.raises(InvalidDocument, match=words):
        safety.lethality_min(times, values, reference_c=60, z_c=z)
