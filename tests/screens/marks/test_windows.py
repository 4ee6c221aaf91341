from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.screens.marks.markup import left_of, read
from tuner.screens.marks.windows import WindowRow, chances, forecast_against_windows

CORE = WindowRow("core_temperature_c", 76.0, 84.0, 79.6, 2.4, 0.9, points=(71.0, 78.4), before=80.4, limit=74.0)


def test_every_window_is_drawn_on_the_same_middle_third() -> None:
    rows = [CORE, WindowRow("browning", 2.5, 3.5, 2.9, 0.3, 0.9)]
    bands = read(forecast_against_windows(rows)).with_class("window")
    assert {one.attributes["style"] for one in bands} == {"left:33.33%;right:33.33%"}


def test_the_mean_of_the_middle_of_a_window_stands_in_the_middle() -> None:
    (mean,) = read(forecast_against_windows([replace(CORE, mean=80.0)])).with_class("mean")
    assert left_of(mean) == pytest.approx(50.0, abs=0.1)


def test_the_critical_limit_stands_left_of_the_usable_edge_and_is_named() -> None:
    page = read(forecast_against_windows([CORE]))
    (limit,) = page.with_class("limit")
    assert left_of(limit) < 33.3
    assert "limit 74" in page.text


def test_what_was_measured_outside_is_marked_and_the_last_one_is_larger() -> None:
    dots = read(forecast_against_windows([CORE])).with_class("dot")
    assert ["outside" in one.attributes["class"] for one in dots] == [True, False]
    assert ["last" in one.attributes["class"] for one in dots] == [False, True]


@pytest.mark.parametrize("low, high, css", [(None, 18.0, "open-low"), (74.0, None, "open-high")])
def test_a_one_sided_window_has_an_open_end(low: float | None, high: float | None, css: str) -> None:
    row = WindowRow("cook_loss_pct", low, high, 15.0, 1.0, 0.9)
    (band,) = read(forecast_against_windows([row])).with_class("window")
    assert css in band.attributes["class"]


def test_without_a_window_there_is_no_band_and_it_says_so() -> None:
    page = read(forecast_against_windows([WindowRow("cook_loss_pct", None, None, 15.4, 1.0, None)]))
    assert page.with_class("window") == []
    assert "no window" in page.text


def test_the_sentence_carries_the_numbers() -> None:
    (said,) = read(forecast_against_windows([CORE])).labels
    for words in ("79.6", "80 percent between 76.5 and 82.7", "from 76 to 84", "critical limit 74", "as proposed 80.4", "78.4"):
        assert words in said


@given(
    low=st.one_of(st.none(), st.floats(-40, 120)),
    width=st.one_of(st.none(), st.floats(0, 80)),
    mean=st.floats(-100, 300),
    spread=st.floats(0, 50),
)
@settings(deadline=None, max_examples=80)
def test_whatever_is_forecast_stays_on_the_track(low: float | None, width: float | None, mean: float, spread: float) -> None:
    high = None if width is None else (low or 0.0) + width
    row = WindowRow("core_temperature_c", low, high, mean, spread, 0.5, points=(mean,), before=mean, limit=70.0)
    page = read(forecast_against_windows([row]))
    for css in ("mean", "was", "dot", "limit", "range"):
        for mark in page.with_class(css):
            assert 0 <= left_of(mark) <= 100


def test_safe_below_nine_in_ten_is_a_filled_warning_and_above_is_not() -> None:
    assert read(chances(0.7, 0.899)).with_class("tk-unsafe")
    assert not read(chances(0.7, 0.9)).with_class("tk-unsafe")


def test_the_chance_as_proposed_is_told_beside_a_changed_one() -> None:
    assert "as proposed 72 %" in read(chances(0.33, 1.0, before=0.72)).text


def test_certainty_is_never_claimed_by_rounding() -> None:
    text = read(chances(0.001, 0.9999)).text
    assert "< 1 %" in text
    assert "> 99 %" in text
