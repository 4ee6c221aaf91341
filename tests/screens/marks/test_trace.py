from __future__ import annotations

import json
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.example import cook
from tests.screens.records import NASTY
from tuner.domain import TestCook
from tuner.screens.marks.trace import apart, trace_runs, trace_sentence, trace_spec


def traced(**changes: object) -> TestCook:
    runs = [
        {"place": 1, "time_s": [0, 100, 200, 330], "temperature_c": [4, 50, 74, 78]},
        {"place": "thick end", "time_s": [0, 100, 200, 330], "temperature_c": [4, 40, 70, 76.5]},
    ]
    return cook(**{"trace": runs} | changes)


def test_the_place_that_ends_coldest_comes_first_and_is_thick() -> None:
    assert list(trace_runs(traced())) == ["thick end", "place 1"]
    widths = [layer["mark"]["strokeWidth"] for layer in lines_of(traced())]
    assert widths == [1.5, 3.0]


def lines_of(of: TestCook) -> list[dict[str, dict[str, float]]]:
    spec = trace_spec(of, pass_line_c=76.0, limit_c=74.0, dark=False)
    assert spec is not None
    return [layer for layer in spec["layer"] if layer["mark"]["type"] == "line"]


def test_the_pass_line_is_dashed_and_the_limit_a_double_line() -> None:
    spec = trace_spec(traced(), pass_line_c=76.0, limit_c=74.0, dark=False)
    assert spec is not None
    rules = [layer["mark"] for layer in spec["layer"] if layer["mark"]["type"] == "rule"]
    assert [(rule["strokeWidth"], rule.get("strokeDash")) for rule in rules] == [(5, None), (2, None), (2, [6, 4])]


def test_every_layer_has_the_same_temperature_axis() -> None:
    spec = trace_spec(traced(), pass_line_c=76.0, limit_c=74.0, dark=True)
    assert spec is not None
    axes = {json.dumps(layer["encoding"]["y"]["axis"], sort_keys=True) for layer in spec["layer"]}
    domains = {tuple(layer["encoding"]["y"]["scale"]["domain"]) for layer in spec["layer"]}
    assert len(axes) == len(domains) == 1
    assert "pass " in axes.pop()


def test_the_rest_is_a_zone_with_its_words() -> None:
    text = json.dumps(trace_spec(traced(), pass_line_c=76.0, limit_c=74.0, dark=False))
    assert "rest 120 s, covered" in text


def test_where_nothing_needs_killing_there_are_no_lines_to_pass() -> None:
    spec = trace_spec(traced(), pass_line_c=None, limit_c=None, dark=False)
    assert spec is not None
    assert not [layer for layer in spec["layer"] if layer["mark"]["type"] == "rule"]


def test_a_cook_without_a_trace_has_no_drawing() -> None:
    assert trace_spec(cook(), pass_line_c=76.0, limit_c=74.0, dark=False) is None


def test_the_sentence_tells_where_each_place_ends() -> None:
    assert trace_sentence(traced(), pass_line_c=76.0) == (
        "Core temperatures over time: thick end ends at 76.5 °C, place 1 ends at 78 °C; pass line 76 °C"
    )


def test_names_of_places_are_data_in_the_drawing() -> None:
    of = traced(trace=[{"place": NASTY, "time_s": [0, 10], "temperature_c": [4, 10]}])
    spec = trace_spec(of, pass_line_c=None, limit_c=None, dark=False)
    assert spec is not None
    rows = [row for data in spec["datasets"].values() for row in data]
    assert any(row.get("words", "").startswith(NASTY) for row in rows)


@given(st.lists(st.floats(-50, 200), min_size=1, max_size=8), st.floats(0.1, 10))
def test_labels_pushed_apart_keep_their_distance_and_their_order(heights: list[float], gap: float) -> None:
    placed = apart(heights, gap)
    ordered = sorted(placed)
    assert all(above - below >= gap - 1e-9 for below, above in pairwise(ordered))
    assert all(new >= old for new, old in zip(placed, heights))
    assert sorted(range(len(heights)), key=lambda i: (heights[i], i)) == sorted(range(len(placed)), key=placed.__getitem__)


@pytest.mark.parametrize("dark", [False, True])
def test_both_themes_draw_on_what_is_behind(dark: bool) -> None:
    spec = trace_spec(traced(), pass_line_c=76.0, limit_c=74.0, dark=dark)
    assert spec is not None
    assert spec["background"] == "transparent"
