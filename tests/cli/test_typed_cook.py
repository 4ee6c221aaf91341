"""A cook typed as flags."""

from datetime import UTC, datetime

import pytest

from tuner.cli.arguments import build_parser
from tuner.cli.documents import read_program
from tuner.cli.typed_cook import cook_of_flags, flags_typed, read_marks, read_time
from tuner.domain import InvalidDocument, NeedsConfirmation

NOW = datetime(2026, 3, 2, 10, 20, tzinfo=UTC)
PROGRAM = read_program("250, 3:30, 40/30/80, 60/90/20")


def typed(*flags, purpose=None):
    arguments = build_parser().parse_args(["log", *flags])
    return cook_of_flags(arguments, program=PROGRAM, purpose=purpose, now=NOW)


def test_units_decimal_commas_and_clock_times_are_understood():
    cook = typed(
        "--mass", "6.4 oz", "--start", "40 °F", "--core", "76,4", "169 °F", "79.1", "--rest", "2:00", "--mass-out", "160,2"
    )
    assert cook.mass_g == pytest.approx(181.4, abs=0.1)
    assert cook.start_temperature_c == pytest.approx(4.44, abs=0.01)
    assert cook.core_temperature_c == pytest.approx((76.4, 76.11, 79.1), abs=0.01)
    assert (cook.rest_s, cook.mass_out_g) == (120, 160.2)


def test_a_reading_that_may_be_fahrenheit_is_asked_about_and_not_converted():
    with pytest.raises(NeedsConfirmation, match="°C or °F") as caught:
        typed("--core", "76.4", "169")
    assert caught.value.questions[0].code == "unit.core_temperature_c.2"


def test_what_was_not_typed_is_left_out():
    cook = typed("--mass", "183")
    assert cook.model_fields_set == {"program", "mass_g", "completed"}


def test_an_interrupted_cook_is_not_completed():
    cook = typed("--interrupted-by", "door opened")
    assert (cook.completed, cook.interrupted_by) == (False, "door opened")


def test_a_typed_purpose_wins_over_the_proposal_s():
    assert typed("--mass", "183", purpose="confirm").purpose == "confirm"
    assert typed("--mass", "183", "--purpose", "search", purpose="confirm").purpose == "search"


def test_covered_and_uncovered_rest_are_told_apart_from_not_said():
    assert typed("--covered").rest_covered is True
    assert typed("--no-covered").rest_covered is False
    assert typed("--rest", "60").rest_covered is None


def test_the_typed_flags_are_named_as_they_are_typed():
    arguments = build_parser().parse_args(["log", "--mass-out", "160", "--cooked-at", "now"])
    assert flags_typed(arguments) == ["--mass-out", "--cooked-at"]


def test_marks_of_one_taster_with_further_attributes():
    score = read_marks("A browning=2,5 moisture=3 crispness=4")
    assert (score.taster, score.browning, score.texture, score.moisture) == ("A", 2.5, None, 3)
    assert score.other == {"crispness": 4}


@pytest.mark.parametrize(
    "text", ["A", "browning=3", "A browning", "A browning=", "A =3", "A browning=3 browning=4", "A x=1 x=2"]
)
def test_marks_that_do_not_read_so_are_refused(text):
    with pytest.raises(InvalidDocument):
        read_marks(text)


@pytest.mark.parametrize("text", ["A browning=2.7", "A browning=6"])
def test_marks_off_the_scale_are_refused_with_the_rule(text):
    with pytest.raises(ValueError, match=r"browning"):
        read_marks(text)


def test_times_are_now_a_clock_time_of_today_or_have_their_zone():
    assert read_time("now", now=NOW, field="cooked_at") == NOW
    today = read_time("10:15", now=NOW, field="cooked_at")
    assert (today.hour, today.minute, today.tzinfo is not None) == (10, 15, True)
    assert read_time("2026-03-02T10:15:00Z", now=NOW, field="cooked_at") == datetime(2026, 3, 2, 10, 15, tzinfo=UTC)


@pytest.mark.parametrize("text", ["2026-03-02T10:15:00", "25:00", "yesterday", "1714000000", "2026-03-02"])
def test_a_time_without_zone_or_sense_is_refused(text):
    with pytest.raises(InvalidDocument, match="cooked_at"):
        read_time(text, now=NOW, field="cooked_at")
