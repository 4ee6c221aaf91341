"""What the parts of screens work out before anything is drawn."""

from __future__ import annotations

import pytest

from tests.example import brief, cook, oven
from tests.screens.records import PROGRAM, assessment, forecast, record, view
from tuner.domain import Conflict, InvalidDocument, NeedsConfirmation, Oven
from tuner.domain.plausibility import Question
from tuner.screens.door import sentences_of
from tuner.screens.parts.limit import limit_words
from tuner.screens.parts.rows import POINTS, forecast_rows, latest_scored, panel_rows, progress_columns, searched, window_of
from tuner.screens.parts.standing import facts
from tuner.screens.parts.tasting import names_in, usual_tasters
from tuner.screens.strip_edit import _read


def test_the_core_window_begins_at_limit_and_guard_where_that_is_higher() -> None:
    assert window_of(view(), "core_temperature_c") == (76.0, 84.0)
    wide = brief(targets__core_temperature_c={"low": 80, "high": 90})
    assert window_of(view(of=wide), "core_temperature_c") == (80.0, 90.0)


def test_without_a_core_window_the_limit_still_binds() -> None:
    open_core = brief(targets={"browning": {"low": 2.5, "high": 3.5}})
    assert window_of(view(of=open_core), "core_temperature_c") == (76.0, None)
    assert window_of(view(of=open_core), "texture") == (None, None)


def test_a_forecast_row_carries_the_latest_measurements_and_the_limit_of_the_core() -> None:
    cooks = [record(number, tested=cook(core_temperature_c=[70 + number, 80, 81])) for number in range(1, 10)]
    rows = {row.attribute: row for row in forecast_rows(view(*cooks), forecast(), before=forecast())}
    assert rows["core_temperature_c"].points == tuple(float(70 + number) for number in range(10 - POINTS, 10))
    assert rows["core_temperature_c"].limit == 74.0
    assert rows["browning"].limit is None
    assert rows["browning"].before == 2.9


def test_superseded_and_benchmark_cooks_are_no_search() -> None:
    cooks = [record(1, superseded=True), record(2, tested=cook(purpose="benchmark", program=None)), record(3)]
    assert [one.number for one in searched(view(*cooks))] == [3]


def test_the_worst_attribute_is_the_one_with_the_smallest_margin() -> None:
    pale = cook(scores=[{"taster": "A", "browning": 1.5, "texture": 3, "moisture": 3}])
    (column,) = progress_columns(view(record(1, tested=pale)))
    assert (column.worst, column.outcome, column.unsafe) == ("browning", "fail", False)
    assert column.margin == pytest.approx(-2.0)


def test_the_panel_shows_who_gave_what_of_the_latest_scored_cook() -> None:
    scored = latest_scored([record(1), record(2, tested=cook(scores=None))])
    assert scored is not None
    rows = {row.attribute: row for row in panel_rows(brief(), scored)}
    assert rows["moisture"].marks == (("A", 3.0), ("B", 3.5))
    assert (rows["moisture"].low, rows["moisture"].high) == (2.5, 3.5)


def test_the_limit_is_always_told_with_rule_edition_and_approver() -> None:
    words = limit_words(view())
    for part in (
        "74 °C in all places",
        "120 s of covered rest",
        "guard 2 K",
        "must read 76 °C",
        "which rule",
        "2022",
        "role or initials",
    ):
        assert part in words
    assert "not approved by anybody yet" in limit_words(view(of=brief(critical_limit=None)))


def test_a_reliable_candidate_is_not_called_proven() -> None:
    found = facts(view(assessment=assessment(chance_reliable=0.95)))
    assert ("inside", found[0][1]) not in found
    assert "not proven by that" in found[0][1]


def test_names_of_tasters_are_separated_by_commas_each_once() -> None:
    assert names_in(" A, B ,,A, C") == ["A", "B", "C"]


def test_those_who_scored_last_are_asked_again() -> None:
    assert usual_tasters(view(record(1))) == ["A", "B"]
    assert usual_tasters(view()) == ["A", "B", "C", "D"]


@pytest.mark.parametrize("sent", [None, "x", {}, {"air_temperature_c": 250}, {**PROGRAM.model_dump(), "stages": []}, [1]])
def test_what_comes_from_the_browser_and_is_no_program_is_not_taken(sent: object) -> None:
    assert _read(sent, PROGRAM) == PROGRAM


def test_a_program_from_the_browser_is_read() -> None:
    changed = PROGRAM.model_dump() | {"duration_s": 180}
    assert _read(changed, PROGRAM).duration_s == 180


def test_errors_of_the_tool_are_told_sentence_by_sentence_and_others_are_not() -> None:
    question = Question(code="a", field="mass_g", value=1.0, text="mass_g 1 g?")
    assert sentences_of(InvalidDocument(["one", "two"])) == ("one", "two")
    assert sentences_of(NeedsConfirmation([question])) == ("mass_g 1 g?",)
    assert sentences_of(Conflict("Somebody was faster.\nLoad the page again.")) == (
        "Somebody was faster.",
        "Load the page again.",
    )
    assert sentences_of(ValueError("inner detail")) is None


def test_problems_of_a_document_are_told_in_plain_words() -> None:
    with pytest.raises(ValueError) as caught:
        Oven.model_validate(oven().model_dump() | {"share_step_pct": 7})
    told = sentences_of(caught.value)
    assert told is not None
    assert "does not divide 100" in told[0]
