from __future__ import annotations

import pytest

from tests.example import DROP, brief, cook
from tuner import proof


def test_margins_are_in_half_widths_from_the_nearest_edge() -> None:
    found = proof.margins(brief(), cook())
    # Usable core window 76 to 84: half-width 4, lowest 76.4. Panel means 2.75, 3 and 3.25 in windows of 2.5 to 3.5.
    assert found["core_temperature_c"] == pytest.approx(0.1)
    assert (found["browning"], found["texture"], found["moisture"]) == (0.5, 1.0, 0.5)
    assert found["cook_loss_pct"] == pytest.approx((18 - 100 * 22.8 / 183) / 9)


def test_outside_is_negative_and_the_mean_counts_above() -> None:
    assert proof.margins(brief(), cook(core_temperature_c=[72, 80, 80]))["core_temperature_c"] == -1
    assert proof.margins(brief(), cook(core_temperature_c=[84, 86, 88]))["core_temperature_c"] == -0.5


def test_without_a_window_or_a_measurement_there_is_no_margin() -> None:
    assert proof.margins(brief(targets__browning=DROP), cook())["browning"] is None
    assert proof.margins(brief(), cook(scores=DROP))["texture"] is None
    assert proof.margins(brief(), cook(mass_out_g=DROP))["cook_loss_pct"] is None
    assert proof.margins(brief(), cook(core_temperature_c=DROP))["core_temperature_c"] is None


def test_a_window_with_one_edge_or_no_room_takes_the_usual_half_width() -> None:
    one_edge = brief(
        targets__core_temperature_c=DROP, targets__browning={"low": 2.5}, targets__cook_loss_pct={"low": 5, "high": 5}
    )
    assert proof.margins(one_edge, cook(core_temperature_c=[81, 81, 81]))["core_temperature_c"] == 1
    impossible = brief(targets__core_temperature_c={"low": 60, "high": 70})
    assert proof.margins(impossible, cook(core_temperature_c=[73, 73, 73]))["core_temperature_c"] == pytest.approx(-0.6)
