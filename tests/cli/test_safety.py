"""No way around the verdict on the command line."""

import json

import pytest

PROGRAM = "260, 3:30, 30/20/100, 10/30/60, 60/100/10"
CHECKED = ("--thermometer-checked-at", "now", "--cooked-at", "now", "--rest", "2:00", "--covered")
SAFE = ("--core", "78", "79", "80", *CHECKED)
COLD = ("--core", "75.9", "79", "80", *CHECKED)
MARKS = ("--score", "A browning=3 texture=3 moisture=3", "--may-taste", "A")


@pytest.fixture
def log(demo):
    return ("log", "-d", "kofta", "--program", PROGRAM, "--mass", "120")


def test_a_cook_below_the_limit_is_not_safe_and_says_so_loudly(log, tuner):
    heard = tuner(*log, *COLD)
    assert heard.code == 0
    assert "✕ NOT SAFE: do not taste" in heard.out
    assert "C1" in heard.out


@pytest.mark.parametrize(
    "readings", [COLD, SAFE[:4], (*SAFE, "--interrupted-by", "power lost")], ids=["cold", "unchecked", "cut"]
)
def test_marks_of_a_cook_that_is_not_known_to_be_safe_are_refused(log, refusal, rows, readings):
    before = rows()
    error = refusal(*log, *readings, *MARKS)
    assert (error["kind"], error["exit_code"]) == ("NotAllowed", 1)
    assert rows() == before


def test_marks_cannot_be_added_afterwards_either(log, answer, refusal):
    cook = answer(*log, *COLD)
    assert refusal("score", cook["number"], "-d", "kofta", *MARKS)["kind"] == "NotAllowed"


def test_a_correction_is_no_way_round(demo, log, answer, refusal):
    cook = answer(*log, *COLD)
    with_marks = {**cook["cook"], "scores": [{"taster": "A", "texture": 3}]}
    (demo / "again.json").write_text(json.dumps(with_marks))
    typed = ("correct", cook["number"], "again.json", "-d", "kofta", "--reason", "tasted anyway", "--may-taste", "A")
    assert refusal(*typed)["kind"] == "NotAllowed"


def test_nobody_tastes_who_did_not_say_that_they_may(log, answer, refusal):
    cook = answer(*log, *SAFE)
    assert cook["verdict"]["status"] == "safe_to_taste"
    assert refusal("score", cook["number"], "-d", "kofta", *MARKS[:2])["kind"] == "NotAllowed"
    assert answer("score", cook["number"], "-d", "kofta", *MARKS)["cook"]["scores"][0]["texture"] == 3


def test_browning_by_eye_needs_no_tasting(log, answer):
    cook = answer(*log, *COLD, "--score", "A browning=2.5")
    assert cook["cook"]["scores"] == [{"taster": "A", "browning": 2.5}]


def test_a_preview_says_all_of_it_and_saves_nothing(log, answer, tuner, rows):
    before = rows()
    found = answer(*log, *COLD, *MARKS, "--preview")
    assert found["verdict"]["status"] == "not_safe"
    assert found["gate"]["allowed"] is False
    assert found["problems"]
    assert "Preview, nothing is saved" in tuner(*log, *COLD, *MARKS, "--preview").out
    assert rows() == before


def test_an_unlikely_reading_is_asked_about_before_it_is_kept(log, answer, refusal):
    hot = ("--core", "104", "79", "80", *CHECKED)
    error = refusal(*log, *hot)
    assert (error["kind"], error["exit_code"]) == ("NeedsConfirmation", 3)
    code = error["questions"][0]["code"]
    cook = answer(*log, *hot, *(word for question in error["questions"] for word in ("--confirm", question["code"])))
    assert code in cook["cook"]["confirmed"]


def test_a_reading_without_unit_that_may_be_fahrenheit_is_asked_about(log, refusal, answer):
    error = refusal(*log, "--core", "172", "79", "80", *CHECKED)
    assert error["questions"][0]["code"] == "unit.core_temperature_c.1"
    assert answer(*log, "--core", "172 °F", "79", "80", *CHECKED)["cook"]["core_temperature_c"][0] == 77.78


def test_a_doubtful_unit_is_not_waved_through_by_confirming_everything(log, refusal):
    error = refusal(*log, "--core", "172", "79", "80", *CHECKED, "--confirm", "all")
    assert error["questions"][0]["code"] == "unit.core_temperature_c.1"


def test_a_cook_sent_twice_is_kept_once_and_other_content_is_refused(demo, answer, refusal):
    typed = ("log", "-d", "kofta", "--program", PROGRAM, "--core", "78", "79", "80", "--client-id", "phone-17")
    first = answer(*typed, "--mass", "120")
    assert answer(*typed, "--mass", "120")["id"] == first["id"]
    assert refusal(*typed, "--mass", "121")["kind"] == "Conflict"
