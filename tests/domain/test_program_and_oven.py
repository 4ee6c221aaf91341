from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.example import COOK, DROP, brief, changed, cook, oven, program
from tuner.domain import Program, Setting, TestCook, Window


def setting(**fields: float) -> Setting:
    return Setting.model_validate(fields)


@pytest.mark.parametrize(
    "fields, values",
    [
        ({"low": 200, "high": 220, "step": 10}, (200, 210, 220)),
        ({"low": 200, "high": 219, "step": 10}, (200, 210)),
        ({"low": 0, "high": 0.3, "step": 0.1}, (0, 0.1, 0.2, 0.3)),
        ({"low": 5, "high": 5}, (5,)),
        ({"low": 5, "high": 5, "step": 2}, (5,)),
        ({"low": 10, "high": 12, "step": 5}, (10,)),
    ],
)
def test_steps_are_counted_from_low_and_end_at_the_last_one_not_above_high(
    fields: dict[str, float], values: tuple[float, ...]
) -> None:
    assert setting(**fields).values == pytest.approx(values)
    assert setting(**fields).count == len(values)


def test_the_nearest_step_and_of_two_equally_near_the_lower() -> None:
    air = setting(low=200, high=219, step=10)
    assert [air.nearest(value) for value in (0, 204, 205, 206, 215, 300)] == [200, 200, 200, 210, 210, 210]
    assert air.holds(210)
    assert not air.holds(205)
    assert not air.holds(220)
    assert setting(low=5, high=5).nearest(99) == 5


def test_there_is_no_step_outside_the_range() -> None:
    with pytest.raises(IndexError, match="3 steps"):
        setting(low=0, high=20, step=10).at(3)


@settings(deadline=None)
@given(st.floats(0, 300), st.floats(0, 300), st.floats(0.1, 50))
def test_every_step_can_be_set_and_is_its_own_nearest(low: float, width: float, step: float) -> None:
    here = setting(low=low, high=low + width, step=step)
    for value in here.values[:50]:
        assert here.holds(value)
        assert here.nearest(value) == value
        assert value <= here.high + 1e-6 * step


SHARES = st.integers(1, 20).flatmap(
    lambda parts: st.lists(st.integers(1, 100), min_size=parts, max_size=parts).map(
        lambda weights: [100 * weight / sum(weights) for weight in weights]
    )
)


@settings(deadline=None)
@given(SHARES, st.one_of(st.integers(20, 7200).map(float), st.floats(20, 7200)))
def test_stage_seconds_add_up_to_the_duration_and_stay_within_a_second_of_their_share(
    shares: list[float], duration_s: float
) -> None:
    stages = [{"share_pct": share, "air_speed_pct": 50, "microwave_pct": 50} for share in shares]
    made = Program.model_validate({"air_temperature_c": 250, "duration_s": duration_s, "stages": stages})
    seconds = made.stage_seconds()
    assert sum(seconds) == pytest.approx(duration_s, abs=1e-6)
    assert all(second == int(second) for second in seconds[:-1])
    for second, share in zip(seconds[:-1], shares[:-1], strict=True):
        assert abs(second - int(duration_s) * share / 100) < 1
    edges = made.stage_edges_s()
    assert edges[0] == 0
    assert edges[-1] == duration_s
    assert len(edges) == len(shares) + 1


def test_left_over_seconds_go_to_the_largest_remainder_and_of_equal_ones_to_the_earlier_stage() -> None:
    thirds = [{"share_pct": share, "air_speed_pct": 1, "microwave_pct": 1} for share in (25, 25, 50)]
    assert program(stages=thirds, duration_s=21).stage_seconds() == (5, 5, 11)
    assert program(stages=thirds, duration_s=22).stage_seconds() == (6, 5, 11)


def test_equal_programs_have_equal_keys_whatever_their_numbers_kind() -> None:
    assert program(duration_s=210).key == program(duration_s=210.0).key
    assert program(duration_s=210).key < program(duration_s=215).key


@pytest.mark.parametrize("shares", [(33.3, 33.3, 33.4), (10,) * 10, (100,)])
def test_shares_that_add_up_are_legal_off_any_ovens_steps(shares: tuple[float, ...]) -> None:
    stages = [{"share_pct": share, "air_speed_pct": 33, "microwave_pct": 0} for share in shares]
    assert len(program(stages=stages).stages) == len(shares)


@pytest.mark.parametrize("step, parts", [(5, 20), (2.5, 40), (100, 1), (12.5, 8)])
def test_the_share_step_divides_100(step: float, parts: int) -> None:
    assert oven(share_step_pct=step).share_parts == parts


def test_edges_belong_to_a_window_despite_rounding() -> None:
    window = Window.model_validate({"low": 2.2, "high": 18})
    assert window.holds(0.1 + 2.1)
    assert window.holds(100 * (180 - 147.6) / 180)
    assert not window.holds(18.001)
    assert Window.model_validate({"low": 2}).holds(1e9)
    assert Window.model_validate({"high": 2}).holds(-1e9)


def test_targets_know_their_attributes() -> None:
    assert brief().targets.of("texture") == Window(low=2.5, high=3.5)
    assert brief(targets__texture=DROP).targets.of("texture") is None
    with pytest.raises(KeyError, match="crispness"):
        brief().targets.of("crispness")


@pytest.mark.parametrize(
    "changes, loss", [({}, 12.459), ({"mass_out_g": 190}, -3.825), ({"mass_out_g": DROP}, None), ({"mass_g": DROP}, None)]
)
def test_cook_loss_is_of_the_mass_in_and_may_be_negative(changes: dict[str, Any], loss: float | None) -> None:
    assert cook(**changes).cook_loss_pct == (None if loss is None else pytest.approx(loss, abs=1e-3))


def test_the_panel_mean_is_that_of_the_tasters_present() -> None:
    made = cook(scores=[{"taster": "A", "browning": 2}, {"taster": "B", "browning": 3.5, "texture": 4}, {"taster": "C"}])
    assert made.panel_mean("browning") == 2.75
    assert made.panel_mean("texture") == 4
    assert made.panel_mean("moisture") is None
    assert cook(scores=DROP).panel_mean("browning") is None


def test_what_was_keyed_in_is_what_was_done() -> None:
    keyed = changed(COOK["program"], duration_s=240)
    assert cook(program_set=keyed).done_program == program(duration_s=240)
    assert cook().done_program == program()
    assert TestCook.model_validate({"program": None, "purpose": "benchmark"}).done_program is None


def test_a_cook_with_nothing_measured_is_legal() -> None:
    bare = TestCook.model_validate({"program": COOK["program"]})
    assert bare.readings_c == ()
    assert bare.purpose == "search"
