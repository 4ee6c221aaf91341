"""Answers as plain JSON values."""

import json
from dataclasses import dataclass
from datetime import UTC, datetime

import pytest

from tuner.cli.plain import plain
from tuner.cli.words import chance, measured, window_words
from tuner.domain import Feasibility, Program, Window

DOCUMENT = {
    "air_temperature_c": 250,
    "duration_s": 210,
    "stages": [{"share_pct": 100, "air_speed_pct": 30, "microwave_pct": 80}],
}


@dataclass(frozen=True)
class Answer:
    program: Program
    at: datetime
    names: tuple[str, ...]
    notes: dict[str, float | None]


def test_records_documents_times_and_mappings_become_json():
    answer = Answer(Program.model_validate(DOCUMENT), datetime(2026, 3, 2, 10, 15, tzinfo=UTC), ("a",), {"x": None})
    expected = {"program": DOCUMENT, "at": "2026-03-02T10:15:00Z", "names": ["a"], "notes": {"x": None}}
    assert json.loads(json.dumps(plain(answer))) == expected


def test_results_are_written_in_full():
    assert plain(Feasibility(possible="yes", pass_chance=0.9))["obstacles"] == []


def test_what_has_no_json_form_is_refused_by_name():
    with pytest.raises(TypeError, match="bytes"):
        plain({"data": b"1"})


@pytest.mark.parametrize(
    ("value", "words"), [(None, "–"), (0.0, "0 %"), (1.0, "100 %"), (0.9999, "> 99 %"), (0.001, "< 1 %"), (0.715, "72 %")]
)
def test_a_chance_is_never_rounded_to_certainty(value, words):
    assert chance(value) == words


def test_values_carry_their_unit():
    assert measured("core_temperature_c", 76.44) == "76.4 °C"
    assert measured("browning", 2.666) == "2.67"
    assert measured("cook_loss_pct", None) == "–"


def test_a_window_is_told_with_the_edge_that_counts():
    core = Window(low=74.0, high=84.0)
    assert window_words("core_temperature_c", core, usable_low=76.0) == "76 to 84 °C"
    assert window_words("cook_loss_pct", Window(high=18.0)) == "up to 18 %"
    assert window_words("core_temperature_c", None, usable_low=76.0) == "from 76 °C"
    assert window_words("moisture", None) == "–"
