from __future__ import annotations

from typing import Any

import pytest

from tests.example import COOK, DROP, brief, changed, cook, oven, program
from tuner.domain.plausibility import (
    boiling_point_c,
    questions_about_brief,
    questions_about_cook,
    questions_about_program,
)


def brief_codes(**changes: Any) -> list[str]:
    return [question.code for question in questions_about_brief(brief(**changes))]


def cook_codes(**changes: Any) -> list[str]:
    return [question.code for question in questions_about_cook(cook(**changes), brief(), oven())]


def test_the_examples_raise_no_question() -> None:
    assert brief_codes() == []
    assert cook_codes() == []
    assert questions_about_program(program()) == ()


@pytest.mark.parametrize(
    "changes, field",
    [
        ({"portion__mass_g": 5000}, "portion.mass_g"),
        ({"portion__thickness_mm": 120}, "portion.thickness_mm"),
        ({"portion__water": 0.5}, "portion.make_up"),
        ({"portion__ash": 0.05, "portion__water": 0.66}, "portion.ash"),
        ({"portion__start_temperature_c": 9}, "portion.start_temperature_c"),
        ({"conventional__oven_temperature_c": 300}, "conventional.oven_temperature_c"),
        ({"conventional__duration_s": 60}, "conventional.duration_s"),
        ({"targets__browning": {"low": 2.9, "high": 3.1}}, "targets.browning.width"),
        ({"targets__core_temperature_c": {"low": 74, "high": 77}}, "targets.core_temperature_c.width"),
        ({"targets__duration_s": {"high": 1000}}, "targets.duration_s.high"),
        ({"critical_limit__guard_c": 0}, "critical_limit.guard_c"),
        ({"tasters": 1}, "tasters"),
    ],
)
def test_what_is_unlikely_in_a_brief_is_asked_once_and_kept_as_confirmed(changes: dict[str, Any], field: str) -> None:
    (question,) = questions_about_brief(brief(**changes))
    assert question.field == field
    assert question.text.startswith(field)
    assert questions_about_brief(brief(**changes, confirmed=[question.code])) == ()


@pytest.mark.parametrize(
    "changes, field",
    [
        ({"core_temperature_c": [165, 80, 80]}, "core_temperature_c.1"),
        ({"core_temperature_c": [80, 80, 3]}, "core_temperature_c.3"),
        ({"core_temperature_c": [80.0] * 10}, "core_temperature_c"),
        ({"mass_g": 210, "mass_out_g": 180}, "mass_g"),
        ({"start_temperature_c": 12}, "start_temperature_c"),
        ({"mass_out_g": 100}, "mass_out_g"),
        ({"mass_out_g": 190}, "mass_out_g"),
        ({"program": changed(COOK["program"], duration_s=1000)}, "program.duration_s"),
        ({"program": changed(COOK["program"], air_temperature_c=400)}, "program.air_temperature_c"),
        ({"scores": [{"taster": "A", "browning": 5}]}, "scores.A.browning"),
        ({"scores": [{"taster": "A", "browning": 3}, {"taster": "A", "browning": 2}]}, "scores"),
        ({"trace": [{"place": "rim", "time_s": [0, 1, 21], "temperature_c": [4, 5, 6]}]}, "trace.gap_s"),
    ],
)
def test_what_is_unlikely_in_a_cook_is_asked_once_and_kept_as_confirmed(changes: dict[str, Any], field: str) -> None:
    (question,) = questions_about_cook(cook(**changes), brief(), oven())
    assert question.field == field
    assert cook_codes(**changes, confirmed=[question.code]) == []


def test_another_value_is_asked_about_again() -> None:
    code = cook_codes(core_temperature_c=[165, 80, 80])[0]
    assert cook_codes(core_temperature_c=[166, 80, 80], confirmed=[code]) != []


def test_a_core_in_fahrenheit_is_told_in_celsius() -> None:
    (question,) = questions_about_cook(cook(core_temperature_c=[165, 80, 80]))
    assert "165 °F is 73.9 °C" in question.text


def test_boiling_follows_the_altitude_of_the_oven() -> None:
    assert boiling_point_c(None) == 100
    assert boiling_point_c(1500) == pytest.approx(94.9)
    high = questions_about_cook(cook(core_temperature_c=[97, 80, 80]), brief(), oven(altitude_m=1500))
    assert [question.field for question in high] == ["core_temperature_c.1"]


def test_no_microwave_at_all_is_asked() -> None:
    bare = [{"share_pct": 100, "air_speed_pct": 50, "microwave_pct": 0}]
    assert [question.code for question in questions_about_program(program(stages=bare))] == ["program.no_microwave"]


def test_a_benchmark_and_a_cook_without_brief_are_asked_about_themselves_only() -> None:
    assert questions_about_cook(cook(purpose="benchmark", program=DROP)) == ()
    assert questions_about_cook(cook(mass_g=150, mass_out_g=140)) == ()
    assert cook_codes(mass_g=DROP, start_temperature_c=DROP, core_temperature_c=DROP, scores=DROP) == []
