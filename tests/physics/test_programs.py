"""Programs as arrays and the means over steps."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.physics.dishes import USUAL, program, random_programs
from tuner.physics import ProgramArrays
from tuner.physics.programs import step_means


def test_arrays_hold_what_the_programs_say_and_shorter_ones_are_filled() -> None:
    arrays = ProgramArrays.of([USUAL, program(230, 100, (100, 50, 5))])
    assert len(arrays) == 2
    assert arrays.air_temperature_c.tolist() == [250, 230]
    assert arrays.share.T.tolist() == [[0.40, 0.35, 0.25], [1, 0, 0]]
    assert arrays.microwave[:, 1].tolist() == [0.05, 0, 0]


def test_arrays_pass_through_and_can_be_cut() -> None:
    arrays = ProgramArrays.of([USUAL, program(230, 100, (100, 50, 5))])
    assert ProgramArrays.of(arrays) is arrays
    assert arrays[1:].duration_s.tolist() == [100]
    assert arrays[np.array([True, False])].share[:, 0].tolist() == [0.40, 0.35, 0.25]


@given(st.integers(0, 10_000), st.integers(1, 60))
@settings(deadline=None)
def test_step_means_keep_the_dose_however_stages_fall_on_steps(seed: int, steps: int) -> None:
    arrays = ProgramArrays.of(random_programs(np.random.default_rng(seed), 3))
    means = step_means(arrays.share, arrays.microwave, steps)
    assert means.shape == (steps, 3)
    assert means.mean(axis=0) == pytest.approx((arrays.share * arrays.microwave).sum(axis=0))
    assert (means >= -1e-12).all()
    assert (means <= arrays.microwave.max(axis=0) + 1e-12).all()


def test_stages_on_steps_are_met_exactly() -> None:
    arrays = ProgramArrays.of([USUAL])
    assert step_means(arrays.share, arrays.air_speed, 20)[:, 0] == pytest.approx([0.30] * 8 + [0.60] * 7 + [0.85] * 5)
