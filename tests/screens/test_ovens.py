from __future__ import annotations

from tests.example import oven
from tests.screens.desk import Desk, key_ending, markup, opened
from tuner.services import OvenRecord


def test_the_first_oven_is_asked_for(desk: Desk) -> None:
    desk.ovens = []
    assert "no oven yet" in markup(opened("ovens"))


def test_ovens_are_listed_with_what_they_can_set_and_cautions(desk: Desk) -> None:
    text = markup(opened("ovens"))
    for words in ("Test kitchen left", "not checked", "air 200 to 270 °C in steps of 5", "C5", "C7"):
        assert words in text


def test_a_new_oven_is_kept_with_its_steps(desk: Desk) -> None:
    app = opened("ovens")
    key_ending(app, "text_input", ".name").set_value("Harbour kitchen")
    key_ending(app, "text_input", ".microwave_rated_w").set_value("1,5 kW")
    app.run()
    key_ending(app, "button", ".save").click().run()
    made = desk.kept[-1][1]["oven"]
    assert (made.name, made.microwave_rated_w, made.max_stages, made.air_speed_pct.step) == ("Harbour kitchen", 1500.0, 5, 5.0)
    assert made.checks is None


def test_a_missing_name_is_told_and_nothing_is_kept(desk: Desk) -> None:
    app = opened("ovens")
    key_ending(app, "button", ".save").click().run()
    assert "Name is missing" in markup(app)
    assert desk.kept == []


def test_a_check_is_added_to_those_before(desk: Desk) -> None:
    desk.ovens = [OvenRecord("oven-1", oven(checks=[{"watts_w": 1300}]))]
    app = opened("ovens")
    app.selectbox(key="which-oven").set_value("oven-1").run()
    key_ending(app, "text_input", ".check.watts").set_value("1280").run()
    key_ending(app, "button", ".save").click().run()
    assert [check.watts_w for check in desk.kept[-1][1]["oven"].checks] == [1300.0, 1280.0]


def test_an_untouched_edit_is_the_same_oven(desk: Desk) -> None:
    app = opened("ovens")
    app.selectbox(key="which-oven").set_value("oven-1").run()
    key_ending(app, "button", ".save").click().run()
    assert desk.kept[-1][1]["oven"] == oven()


def test_a_rule_broken_by_the_oven_is_told_in_words(desk: Desk) -> None:
    app = opened("ovens")
    key_ending(app, "text_input", ".name").set_value("Harbour kitchen")
    key_ending(app, "text_input", ".share_step_pct").set_value("7")
    app.run()
    key_ending(app, "button", ".save").click().run()
    assert "does not divide 100" in markup(app)
