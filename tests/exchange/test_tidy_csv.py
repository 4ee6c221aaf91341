"""The tidy CSV: every column explained, formulas defused, and read back as the cooks it was written from."""

from __future__ import annotations

import csv
import io
import re
from typing import Any

import pytest
from hypothesis import given, settings

from tests.exchange.importing import ONE_STAGE, TWO_STAGES, document, imported, marks
from tests.exchange.invented import OVEN, brief_document
from tests.exchange.snapshots import snapshots
from tuner.domain import Snapshot
from tuner.exchange import DATA_DICTIONARY, write_dictionary_csv, write_tidy_csv

_AT = "2026-03-02T12:00:00Z"


def snapshot(*cooks: dict[str, Any], corrects: dict[int, int] | None = None) -> Snapshot:
    """A state with one development of some cooks."""
    entries: list[dict[str, Any]] = [
        {"id": f"c{number}", "number": number, "cook": cook, "by": "mk", "at": _AT}
        for number, cook in enumerate(cooks, start=1)
    ]
    for number, first in (corrects or {}).items():
        entries[number - 1] |= {"corrects": f"c{first}", "number": first, "reason": "scale"}
    development = {
        "id": "d1",
        "oven_id": "o1",
        "brief_versions": [{"number": 1, "brief": brief_document(), "by": "mk", "at": _AT}],
        "cooks": entries,
    }
    ovens = [{"id": "o1", "versions": [{"number": 1, "oven": OVEN, "by": "mk", "at": _AT}]}]
    return Snapshot.model_validate({"format": "test-cook-tuner/1", "ovens": ovens, "developments": [development]})


def rows(data: bytes) -> list[dict[str, str]]:
    """Rows by column."""
    return list(csv.DictReader(io.StringIO(data.decode("utf-8"), newline="")))


FULL: dict[str, Any] = {
    "program": TWO_STAGES,
    "mass_g": 183.0,
    "start_temperature_c": -5,
    "core_temperature_c": [76.4, 77.0, 79.1],
    "probe_places": ["left", "centre", "right"],
    "rest_s": 120,
    "rest_covered": True,
    "completed": True,
    "mass_out_g": 160.2,
    "scores": marks(A=(2.5, 3, 3), B=(3, 3, 3.5)),
    "purpose": "confirm",
    "cooked_at": "2026-03-02T10:15:00Z",
    "thermometer_checked_at": "2026-03-02T07:40:00Z",
    "cook": "R. Osei",
    "note": "=1+1; a, b",
    "lot": "007",
    "load": 2,
    "oven_serial": "1e5",
    "serving_age_s": 60,
    "seconds_since_last_cook": 600,
}


def test_every_column_is_in_the_dictionary_and_the_dictionary_is_a_table_itself() -> None:
    [row] = rows(write_tidy_csv(snapshot(FULL)))
    patterns = [re.escape(entry.name).replace("<n>", r"\d+") for entry in DATA_DICTIONARY]
    assert all(any(re.fullmatch(pattern, name) for pattern in patterns) for name in row)
    listed = rows(write_dictionary_csv())
    assert [entry["column"] for entry in listed] == [entry.name for entry in DATA_DICTIONARY]
    assert all(entry["meaning"] for entry in listed)


def test_formulas_are_defused_where_text_stands_and_numbers_stay_numbers() -> None:
    [row] = rows(write_tidy_csv(snapshot(FULL)))
    assert row["note"] == "'=1+1; a, b"
    assert row["start_temperature_c"] == "-5"
    assert row["lot"] == "007"
    assert row["cook_loss_pct"].startswith("12.459")


def test_the_tidy_csv_reads_back_as_the_cooks_it_was_written_from() -> None:
    other = {
        "program": ONE_STAGE,
        "mass_g": 181,
        "core_temperature_c": [58.0],
        "completed": False,
        "interrupted_by": "power cut",
    }
    result = imported(write_tidy_csv(snapshot(FULL, other)))
    assert result.questions == ()
    assert result.refused == ()
    assert [document(one.cook) for one in result.cooks] == [FULL, {**other, "purpose": "search"}]


def test_corrected_entries_stay_and_are_marked() -> None:
    data = rows(write_tidy_csv(snapshot({"program": ONE_STAGE}, {"program": ONE_STAGE, "mass_g": 181}, corrects={2: 1})))
    assert [(row["cook_number"], row["superseded"], row["corrects_entry"]) for row in data] == [
        ("1", "yes", ""),
        ("1", "no", "c1"),
    ]
    again = imported(write_tidy_csv(snapshot({"program": ONE_STAGE}, {"program": ONE_STAGE, "mass_g": 181}, corrects={2: 1})))
    assert [one.cook.mass_g for one in again.cooks] == [181]


def test_what_has_no_column_of_its_own_is_there_as_json() -> None:
    cook = {
        "program": ONE_STAGE,
        "program_set": TWO_STAGES,
        "scores": [{"taster": "A", "other": {"crispness": 4}}],
        "trace": [{"place": 1, "time_s": [0, 1], "temperature_c": [4, 5]}],
    }
    [row] = rows(write_tidy_csv(snapshot(cook)))
    assert '"duration_s": 210' in row["program_set"]
    assert row["further_scores"] == '{"A": {"crispness": 4.0}}'
    assert row["trace_samples"] == "2"
    [one] = imported(write_tidy_csv(snapshot({key: value for key, value in cook.items() if key != "trace"}))).cooks
    assert document(one.cook) == {**{key: value for key, value in cook.items() if key != "trace"}, "purpose": "search"}


@settings(deadline=None, max_examples=30)
@given(snapshots())
def test_any_state_gives_a_rectangular_table_and_the_same_bytes_again(state: Snapshot) -> None:
    data = write_tidy_csv(state)
    assert write_tidy_csv(Snapshot.model_validate(state.model_dump())) == data
    table = list(csv.reader(io.StringIO(data.decode("utf-8"), newline="")))
    assert {len(line) for line in table} == {len(table[0])}
    assert len(table) == 1 + sum(len(development.cooks) for development in state.developments)


@pytest.mark.parametrize("text", ["=cmd()", "+1", "-x", "@sum", "\t=1"])
def test_text_that_a_spreadsheet_would_run_is_defused(text: str) -> None:
    [row] = rows(write_tidy_csv(snapshot({"program": ONE_STAGE, "note": text})))
    assert row["note"] == f"'{text}"
