from __future__ import annotations

from dataclasses import replace

import pytest

from tests.screens.marks.markup import read
from tests.screens.records import NASTY
from tuner.screens.marks.progress import LOWEST, MANY, ProgressColumn, floor_of, progress

SHORT = ProgressColumn(1, "first guess", -1.2, "browning", "fail", unsafe=False)


def test_unsafe_and_a_missed_window_do_not_look_alike() -> None:
    unsafe = read(progress([replace(SHORT, unsafe=True, worst="core")]))
    missed = read(progress([SHORT]))
    assert unsafe.with_class("unsafe")
    assert "✕ core: not safe" in unsafe.text
    assert not missed.with_class("unsafe")
    assert "✕ browning" in missed.text


def test_each_outcome_has_its_own_glyph() -> None:
    columns = [replace(SHORT, margin=0.4, outcome="pass"), SHORT, replace(SHORT, margin=None, outcome="pending")]
    glyphs = [one for one in read(progress(columns)).text.split() if one in "●✕?"]
    assert glyphs == ["●", "✕", "?"]


def test_the_sentence_says_how_far_and_on_which_side() -> None:
    assert "Cook 1, first guess: worst was browning, 1.2 half-widths outside" in read(progress([SHORT])).labels


def test_a_cook_that_does_not_count_is_said_and_drawn_so() -> None:
    page = read(progress([replace(SHORT, counts=False)]))
    assert page.with_class("aside")
    assert any("does not count" in label for label in page.labels)


def test_margins_beyond_the_scale_end_at_its_end() -> None:
    page = read(progress([replace(SHORT, margin=-40.0), replace(SHORT, margin=25.0, outcome="pass")]))
    tips = [one.attributes["style"] for one in page.elements if one.tag == "b"]
    assert tips == ["top:100.0%", "top:0.0%"]


@pytest.mark.parametrize(
    "margin, floor", [(None, -1.4), (0.3, -1.4), (-1.3, -1.4), (-1.5, -2.2), (-2.5, LOWEST), (-9.0, LOWEST)]
)
def test_no_more_room_is_given_to_what_is_outside_than_needed(margin: float | None, floor: float) -> None:
    assert floor_of([replace(SHORT, margin=margin)]) == floor


def test_runs_of_one_purpose_share_one_word() -> None:
    columns = [SHORT, replace(SHORT, number=2, purpose="search"), replace(SHORT, number=3, purpose="search")]
    why = read(progress(columns)).with_class("why")[0]
    assert [one.attributes["style"] for one in why.children] == ["grid-column:span 1", "grid-column:span 2"]


def test_many_columns_turn_their_words_upright() -> None:
    assert read(progress([SHORT] * (MANY + 1))).with_class("many")
    assert not read(progress([SHORT] * MANY)).with_class("many")


def test_no_cook_is_said_in_words() -> None:
    assert read(progress([])).text == "No cook yet."


def test_words_of_people_stay_words() -> None:
    page = read(progress([replace(SHORT, worst=NASTY, purpose=NASTY)]))
    assert "img" not in page.tags
    assert NASTY in page.text
