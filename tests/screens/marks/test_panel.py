from __future__ import annotations

from tests.screens.marks.markup import read
from tests.screens.records import NASTY
from tuner.screens.marks.panel import PanelRow, panel

ROW = PanelRow("browning", (("A", 2.5), ("B", 3.0), ("C", 2.5)), 2.5, 3.5)


def test_each_taster_stands_in_the_column_of_the_mark_given() -> None:
    (cells,) = read(panel([ROW])).with_class("tk-cells")
    letters = [len(cell.children) for cell in cells.children if cell.tag == "span"]
    assert letters == [0, 0, 0, 2, 1, 0, 0, 0, 0]


def test_the_window_is_the_tinted_middle() -> None:
    page = read(panel([ROW]))
    assert len(page.with_class("in")) == 3
    assert len(page.with_class("middle")) == 1


def test_a_mean_that_hides_a_disagreement_says_split() -> None:
    assert "split" in read(panel([PanelRow("texture", (("A", 2.0), ("B", 4.0)), 2.5, 3.5)])).text
    assert "split" not in read(panel([ROW])).text


def test_both_poles_are_written() -> None:
    assert "too pale … too dark" in read(panel([ROW])).text


def test_the_sentence_names_mean_and_every_mark() -> None:
    assert read(panel([ROW])).labels == ["Browning: mean 2.7 of 5, 3 is right; A 2.5, B 3, C 2.5"]


def test_without_a_window_nothing_is_called_inside() -> None:
    page = read(panel([PanelRow("moisture", (("A", 3.0),))]))
    assert not page.with_class("tk-inside")
    assert not page.with_class("in")


def test_what_nobody_scored_is_left_out() -> None:
    assert read(panel([PanelRow("moisture", ())])).with_class("tk-row") == []


def test_names_of_tasters_stay_words() -> None:
    page = read(panel([PanelRow("browning", ((NASTY, 3.0),), 2.5, 3.5)]))
    assert "img" not in page.tags
    assert any(NASTY in label for label in page.labels)
