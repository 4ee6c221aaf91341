from __future__ import annotations

import pytest

from tests.example import program
from tests.screens.marks.markup import read
from tuner.domain import Program
from tuner.screens.marks.strip import headline, large_strip, sentence, strip


def three_stages() -> Program:
    stages = [(40, 30, 80), (35, 60, 40), (25, 95, 10)]
    named = [{"share_pct": s, "air_speed_pct": a, "microwave_pct": m} for s, a, m in stages]
    return Program.model_validate({"air_temperature_c": 250, "duration_s": 210, "stages": named})


def test_air_grows_up_and_microwave_down_each_by_half_its_percent() -> None:
    page = read(strip(three_stages()))
    assert [one.attributes["style"] for one in page.with_class("up")] == ["height:15%", "height:30%", "height:47.5%"]
    assert [one.attributes["style"] for one in page.with_class("down")] == ["height:40%", "height:20%", "height:5%"]


def test_shares_are_the_widths_of_the_stages() -> None:
    (grid,) = read(strip(three_stages())).with_class("tk-strip")
    assert "minmax(0,40fr) minmax(0,35fr) minmax(0,25fr)" in grid.attributes["style"]


def test_the_sentence_names_every_stage_with_seconds_that_add_up() -> None:
    said = sentence(three_stages())
    assert said.startswith("Program at 250 degrees, 210 seconds: 40 percent of the time, 84 s, air 30 percent")
    assert "74 s" in said
    assert "52 s" in said


def test_the_sentence_is_what_a_screen_reader_gets() -> None:
    for mark in (strip(three_stages()), large_strip(three_stages())):
        assert sentence(three_stages()) in read(mark).labels


@pytest.mark.parametrize("longest, width", [(420.0, 50), (210.0, 100), (100.0, 100), (None, 100)])
def test_a_shorter_program_is_drawn_shorter(longest: float | None, width: int) -> None:
    assert f"width:{width}%" in strip(three_stages(), longest_s=longest)


def test_the_large_strip_writes_share_seconds_and_both_levels_under_each_stage() -> None:
    text = read(large_strip(three_stages(), at_most_s=300)).text
    for words in ("40 % 84 s ▲ 30 ▼ 80", "35 % 74 s ▲ 60 ▼ 40", "25 % 52 s ▲ 95 ▼ 10", "brief: at most 5:00"):
        assert words in text


def test_the_headline_is_temperature_and_minutes() -> None:
    assert headline(program()) == "250 °C · 3:30"
