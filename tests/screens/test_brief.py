from __future__ import annotations

from typing import Any

from streamlit.testing.v1 import AppTest

from tests.example import brief
from tests.screens.desk import Desk, key_ending, markup, opened
from tests.screens.records import record, view

WHOLE: dict[str, str] = {
    "dish": "Duck and plum parcel", "mass_g": "180", "thickness_mm": "28", "water": "70", "fat": "8", "protein": "19",
    "carbohydrate": "2", "ash": "1", "start_temperature_c": "4", "core_temperature_c.high": "84", "duration_s.high": "5:00",
}  # fmt: skip


def enter(app: AppTest, typed: dict[str, str]) -> AppTest:
    for name, text in typed.items():
        key_ending(app, "text_input", f".{name}").set_value(text)
    return app.run()


def whole(app: AppTest) -> AppTest:
    for name, value in (("food_class", "poultry"), ("shape", "slab"), ("start_state", "chilled")):
        key_ending(app, "selectbox", f".{name}").set_value(value)
    return enter(app, WHOLE)


def kept(desk: Desk) -> Any:
    return desk.kept[-1][1]["brief"]


def save(app: AppTest) -> AppTest:
    return key_ending(app, "button", ".save").click().run()  # type: ignore[no-any-return]


def test_an_empty_brief_says_everything_that_is_missing_and_can_not_be_kept(desk: Desk) -> None:
    app = opened("brief", new="yes")
    text = markup(app)
    for words in ("Dish is missing", "Food class is missing", "Mass is missing", "Shape is missing", "Water is missing"):
        assert words in text
    assert not [button for button in app.button if button.label == "Start the development"]


def test_a_whole_brief_is_answered_before_anything_is_kept(desk: Desk) -> None:
    text = markup(whole(opened("brief", new="yes")))
    for words in (
        "It is doubtful",
        "A perfect program would pass one cook",
        "Allow 30 s more",
        "who eats it",
        "not approved by anybody",
    ):
        assert words in text
    assert desk.kept == []


def test_the_brief_is_kept_as_it_was_entered(desk: Desk) -> None:
    save(whole(opened("brief", new="yes")))
    made = kept(desk)
    assert (made.dish, made.food_class, made.portion.water, made.portion.mass_g) == (WHOLE["dish"], "poultry", 0.7, 180.0)
    assert made.targets.duration_s.high == 300
    assert (made.targets.browning.low, made.targets.browning.high) == (2.5, 3.5)
    assert made.targets.cook_loss_pct is None
    assert made.critical_limit is None
    assert made.allergens is None
    assert desk.kept[-1][1]["client_id"]


def test_no_allergens_is_another_answer_than_not_known(desk: Desk) -> None:
    app = whole(opened("brief", new="yes"))
    key_ending(app, "segmented_control", ".allergens").set_value("none").run()
    save(app)
    assert kept(desk).allergens == ()


def test_a_stated_limit_begins_with_the_default_of_the_class(desk: Desk) -> None:
    app = whole(opened("brief", new="yes"))
    key_ending(app, "segmented_control", ".limit").set_value("stated").run()
    assert key_ending(app, "text_input", ".limit_c").value == "74"
    enter(app, {"approved_by": "M. Ahn, food safety"})
    save(app)
    limit = kept(desk).critical_limit
    assert (limit.core_temperature_c, limit.covered, limit.rest_s, limit.approved_by) == (
        74.0,
        True,
        120.0,
        "M. Ahn, food safety",
    )


def test_unlikely_values_must_be_confirmed_first(desk: Desk) -> None:
    app = enter(whole(opened("brief", new="yes")), {"mass_g": "1600"})
    save(app)
    assert desk.kept == []
    assert "Please confirm or correct" in markup(app)
    next(one for one in app.checkbox if "1600" in one.label).check().run()
    save(app)
    assert kept(desk).confirmed == ("portion.mass_g=1600",)


def test_an_edit_says_what_changes_and_names_the_version_it_was_made_from(desk: Desk) -> None:
    desk.add(view(record(1)))
    app = opened("brief", development="development-1")
    assert "nothing yet" in markup(app)
    enter(app, {"customer": "Vale"})
    assert "customer changed" in markup(app)
    save(app)
    assert desk.kept[-1][1]["expected_version"] == 1


def test_an_untouched_edit_is_the_same_brief(desk: Desk) -> None:
    one = desk.add(view(record(1)))
    save(opened("brief", development="development-1"))
    assert kept(desk) == one.brief


def test_without_an_oven_the_way_leads_to_the_ovens(desk: Desk) -> None:
    desk.ovens = []
    app = opened("brief", new="yes")
    assert "needs an oven" in markup(app)
    assert [one.label for one in app.get("page_link")] == ["Add an oven"]


def test_steps_of_preparation_stay_steps_until_they_are_typed_anew(desk: Desk) -> None:
    steps = brief(preparation=["brine", "sear"], portion__water=0.7012345)
    desk.add(view(record(1, of=steps), of=steps))
    app = opened("brief", development="development-1")
    save(app)
    assert kept(desk) == steps


def test_windows_that_can_not_be_are_told_beside_the_form(desk: Desk) -> None:
    app = enter(whole(opened("brief", new="yes")), {"browning.low": "4", "browning.high": "3"})
    assert "low must not exceed high" in markup(app)
    assert not [button for button in app.button if button.label == "Start the development"]
