from __future__ import annotations

import pytest

from tests.example import brief, cook
from tests.screens.marks.markup import read
from tests.screens.records import NASTY
from tuner import safety
from tuner.domain import Caution, Verdict
from tuner.screens.marks.verdict import caution_lines, standing, verdict_block, verdict_word


@pytest.mark.parametrize(
    "changes, head",
    [
        ({}, "● Safe to taste"),
        ({"core_temperature_c": [75.9, 77, 79]}, "✕ Not hot enough. Do not taste."),
        ({"completed": False}, "? Not known to be safe. Treat as not safe."),
    ],
)
def test_each_verdict_has_its_words_and_its_glyph(changes: dict[str, object], head: str) -> None:
    verdict = safety.verdict(brief(), cook(**changes))
    page = read(verdict_block(verdict))
    assert head in page.text
    assert page.with_class(verdict.status)
    for reason in verdict.reasons:
        assert " ".join(reason.split()) in page.text


def test_only_unsafe_is_a_filled_block_in_a_table() -> None:
    filled = {status: bool(read(verdict_word(Verdict(status=status, reasons=()))).with_class("tk-unsafe")) for status in WORDS}
    assert filled == {"safe_to_taste": False, "unknown": False, "not_safe": True}


WORDS = ("safe_to_taste", "unknown", "not_safe")


def test_a_verdict_is_announced_as_it_changes() -> None:
    (block,) = read(verdict_block(Verdict(status="unknown", reasons=()))).with_class("tk-verdict")
    assert block.attributes["role"] == "status"


def test_nothing_reassuring_is_drawn_before_it_is_proven() -> None:
    facts = [("unknown", "None below so far: that says nothing about the cooks to come.")]
    assert not read(standing("Not proven yet: 2 of 3", facts)).with_class("tk-inside")
    assert read(standing("Proven", [], proven=True)).with_class("tk-inside")


def test_cautions_are_listed_with_their_codes() -> None:
    shown = read(caution_lines(safety.cautions("cook sheet")))
    assert "C4" in shown.text
    assert caution_lines(()) == ""


def test_reasons_and_cautions_stay_words() -> None:
    verdict = Verdict(status="unknown", reasons=(NASTY,))
    for mark in (
        verdict_block(verdict),
        caution_lines([Caution(code=NASTY, text=NASTY, places=())]),
        standing(NASTY, [("", NASTY)]),
    ):
        page = read(mark)
        assert "img" not in page.tags
        assert NASTY in page.text
