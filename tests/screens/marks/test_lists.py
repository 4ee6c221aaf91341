"""Cards, tables, decisions, facts, notices, ovens, imports: everything that lists what people wrote."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from types import SimpleNamespace
from typing import Any

import pytest

from tests.example import cook, oven
from tests.screens.marks.markup import left_of, read
from tests.screens.records import NASTY, PROGRAM, decided, record, summary
from tuner.screens.marks.card import card, cooks_left
from tuner.screens.marks.cooks import cooks_table
from tuner.screens.marks.decisions import decisions_list
from tuner.screens.marks.facts import facts_table
from tuner.screens.marks.imported import column_block, cooks_found, rows_not_taken
from tuner.screens.marks.notice import demo_banner, dish_head, done_block, field_note, problem_block
from tuner.screens.marks.ovens import STALE_DAYS, age_days, last_check, oven_row, top_of

NOW = datetime(2026, 3, 20, tzinfo=UTC)


def test_a_card_says_who_waits_for_what_the_state_and_the_age() -> None:
    text = read(card(summary(status="confirming", idle_days=9, customer="Vale"))).text
    for words in ("you: log cook 2", "◐ confirming", "9 days idle", "Vale", "1 cook"):
        assert words in text


@pytest.mark.parametrize("days, words", [(0, "moved today"), (1, "1 day idle"), (9, "9 days idle")])
def test_age_is_told_in_words(days: int, words: str) -> None:
    assert words in read(card(summary(idle_days=days))).text


def test_cooks_left_come_with_their_range_and_end_with_the_proof() -> None:
    assert cooks_left(summary()) == "about 4 cooks left (3 to 7)"
    assert cooks_left(summary(status="proven")) == ""
    assert cooks_left(summary(cooks_left_estimate=None)) == ""


def test_a_development_without_a_program_says_so() -> None:
    assert "no program yet" in read(card(summary(best_program=None))).text


def test_the_table_shows_newest_first_and_strikes_out_what_was_corrected() -> None:
    rows = read(cooks_table([record(1, superseded=True), record(2, corrects="cook-1", reason="typing error")]))
    text = rows.text
    assert text.index("Cook 2") < text.index("Cook 1")
    assert len(rows.with_class("past")) == 1
    assert "corrected: typing error" in text


def test_what_lies_outside_its_window_carries_the_glyph() -> None:
    pale = cook(scores=[{"taster": "A", "browning": 1.5, "texture": 3, "moisture": 3}])
    text = read(cooks_table([record(1, tested=pale)])).text
    assert "✕ 1.5" in text
    assert "✕ fails browning" in text


def test_what_is_missing_is_named() -> None:
    unscored = cook(scores=None)
    assert "? open missing: browning, texture, moisture" in read(cooks_table([record(1, tested=unscored)])).text


def test_an_unsafe_cook_is_a_filled_word_in_the_table() -> None:
    cold = cook(core_temperature_c=[60, 62, 65])
    page = read(cooks_table([record(1, tested=cold)]))
    assert [one.tag for one in page.with_class("tk-unsafe")] == ["span"]


def test_a_benchmark_is_neither_pass_nor_fail() -> None:
    text = read(cooks_table([record(1, tested=cook(purpose="benchmark", program=None))])).text
    assert "conventional method" in text
    assert "passes" not in text


def test_decisions_keep_reason_person_and_the_forecast_of_then() -> None:
    text = read(decisions_list([decided(3, reason="too slow")])).text
    for words in ("Proposal 3", "✕ refused", "too slow", "R. Osei", "72 % inside", "97 % safe"):
        assert words in text


def checked(days_ago: int) -> dict[str, Any]:
    return {"watts_w": 1300, "standard_error_w": 10, "checked_at": (NOW - timedelta(days=days_ago)).isoformat()}


@pytest.mark.parametrize("days, css", [(6, "tk-inside"), (STALE_DAYS + 1, "tk-unknown")])
def test_an_old_check_is_unknown(days: int, css: str) -> None:
    page = read(oven_row(oven(checks=[checked(days)]), now=NOW, top_w=1650))
    assert page.with_class(css)


def test_an_oven_nobody_checked_is_unknown_and_says_so() -> None:
    assert "? not checked" in read(oven_row(oven(), now=NOW, top_w=1650)).text


def test_the_newest_check_counts() -> None:
    found = last_check(oven(checks=[checked(3), checked(40), {"h_w_m2k": 90}]))
    assert found is not None
    assert age_days(found, NOW) == 3


def test_ovens_share_one_scale_of_watts() -> None:
    weak, strong = oven(checks=[checked(2) | {"watts_w": 650}]), oven(microwave_rated_w=2000)
    top = top_of([weak, strong])
    (dot,) = read(oven_row(weak, now=NOW, top_w=top)).with_class("dot")
    assert left_of(dot) == pytest.approx(100 * 650 / 2200, abs=0.1)


def preview(*cooks: Any) -> Any:
    return SimpleNamespace(result=SimpleNamespace(cooks=cooks))


def imported(line: int, label: str = "7", remarks: tuple[str, ...] = ()) -> Any:
    return SimpleNamespace(line=line, label=label, cook=cook(), remarks=remarks)


def test_cooks_of_a_file_are_shown_with_line_values_and_remarks() -> None:
    text = read(cooks_found(preview(imported(12, remarks=("rest worked out",))))).text
    for words in ("line 12", "core 76.4 °C", "rest worked out"):
        assert words in text


def test_a_long_file_is_counted_beyond_what_is_shown() -> None:
    assert "and 5 more cooks" in read(cooks_found(preview(*(imported(line) for line in range(35))))).text


def test_rows_not_taken_carry_line_and_reason() -> None:
    assert "line 4 no program" in read(rows_not_taken([(4, "no program")], what="Why")).text


MARKS = {
    "card": card(summary(customer=NASTY, waits_for=NASTY, oven_name=NASTY, status=NASTY)),
    "cooks": cooks_table([record(1, corrects="x", reason=NASTY)]),
    "decisions": decisions_list([decided(reason=NASTY)]),
    "facts": facts_table([(NASTY, NASTY)]),
    "problem": problem_block(NASTY, [NASTY]),
    "done": done_block(NASTY),
    "note": field_note(NASTY, problem=True),
    "head": dish_head(NASTY, NASTY),
    "oven": oven_row(oven(name=NASTY, serial=NASTY), now=NOW, top_w=1000),
    "column": column_block(NASTY, NASTY, [NASTY], NASTY),
    "found": cooks_found(preview(imported(1, NASTY, (NASTY,)))),
    "refused": rows_not_taken([(1, NASTY)], what=NASTY),
}


@pytest.mark.parametrize("mark", MARKS.values(), ids=MARKS.keys())
def test_words_of_people_stay_words(mark: str) -> None:
    page = read(mark)
    assert "img" not in page.tags
    assert NASTY in page.text


def test_the_banner_says_that_the_data_are_invented() -> None:
    assert "invented" in read(demo_banner()).text


def test_the_strip_of_a_card_is_the_best_program() -> None:
    assert any("210 seconds" in label for label in read(card(summary(best_program=PROGRAM))).labels)
