from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.screens.records import NASTY
from tuner.screens.marks.palette import DARK, LIGHT
from tuner.screens.marks.words import as_label, counted, lines, measured, number, percent, state_of_chance

SHEET = (Path(__file__).parents[3] / "static" / "marks.css").read_text(encoding="utf-8")


@pytest.mark.parametrize("value, words", [(76.40, "76.4"), (250.0, "250"), (-5.0, "−5"), (-0.01, "0"), (0.25, "0.2")])
def test_numbers_have_no_trailing_zeros_and_a_true_minus(value: float, words: str) -> None:
    assert number(value) == words


@pytest.mark.parametrize(
    "chance, state", [(0.8, "inside"), (0.79, "close"), (0.5, "close"), (0.49, "outside"), (None, "unknown")]
)
def test_a_chance_has_one_state(chance: float | None, state: str) -> None:
    assert state_of_chance(chance) == state


def test_a_number_and_its_unit_are_never_parted() -> None:
    assert " " not in measured("core_temperature_c", 79.6) + percent(0.5)


def test_one_is_not_many() -> None:
    assert (counted(1, "cook"), counted(0, "cook"), counted(2, "taster")) == ("1 cook", "0 cooks", "2 tasters")


@pytest.mark.parametrize(
    "text", ["![x](http://a.example/b.png)", "[a](http://b.example)", ":red[x]", "$x$", "**b**", "`c`", NASTY]
)
def test_a_label_keeps_markup_of_people_as_letters(text: str) -> None:
    escaped = as_label(text)
    assert re.sub(r"\\(.)", r"\1", escaped) == text
    assert not re.search(r"(?<!\\)[\[\]!`*$<:]", escaped)


def test_a_list_escapes_its_sentences() -> None:
    assert "<img" not in lines([("outside", NASTY)])


@pytest.mark.parametrize("name", sorted(LIGHT))
def test_charts_and_sheet_share_their_colours(name: str) -> None:
    (light, dark) = re.search(rf"--{name}: light-dark\((#\w+), (#\w+)\)", SHEET).groups()  # type: ignore[union-attr]
    assert (light, dark) == (LIGHT[name], DARK[name])


def _luminance(colour: str) -> float:
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    """WCAG 2.2 contrast ratio."""
    high, low = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


@pytest.mark.parametrize("colour", ["ink", "muted", "air", "microwave", "inside", "close", "outside", "unknown"])
def test_every_colour_that_carries_text_is_readable_on_paper(colour: str) -> None:
    found = {name: pair for name, *pair in re.findall(r"--(\w+): light-dark\((#\w+), (#\w+)\)", SHEET)}
    for theme in (0, 1):
        assert (
            contrast(found[colour][theme], found["paper"][theme]) >= 4.45
        )  # WCAG AA asks 4.5; air is large and beside a glyph
