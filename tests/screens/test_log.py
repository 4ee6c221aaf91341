from __future__ import annotations

from datetime import time
from typing import Any

import pytest
from streamlit.testing.v1 import AppTest

from tests.example import brief, cook
from tests.screens.desk import Desk, key_ending, markup, opened
from tests.screens.records import proposal, record, view
from tuner import services
from tuner.domain import NotAllowed, TestCook
from tuner.domain.brief import Brief


def logging(desk: Desk, *, of: Brief | None = None, **ids: str) -> AppTest:
    made = view(record(1, of=of), of=of, proposals=(proposal(7, state="accepted"),))
    desk.add(made)
    return opened("log", development=made.id, **ids)


def enter(app: AppTest, **typed: str) -> AppTest:
    for name, text in typed.items():
        key_ending(app, "text_input", f".{name.replace('__', '.')}").set_value(text)
    return app.run()


def choose(app: AppTest, **chosen: str) -> AppTest:
    for name, value in chosen.items():
        key_ending(app, "segmented_control", f".{name}").set_value(value)
    return app.run()


def safe_cook(app: AppTest) -> AppTest:
    """All that the rule asks of a cook that may be tasted."""
    key_ending(app, "time_input", ".time").set_value(time(10, 15))
    key_ending(app, "time_input", ".checked").set_value(time(7, 40))
    choose(app, completed="yes", rest_covered="covered")
    return enter(app, mass_g="183", start_temperature_c="4.6", rest_s="2:00", core__0="76,4", core__1="77", core__2="79.1")


def labels(app: AppTest, kind: str) -> list[str]:
    return [one.label for one in getattr(app, kind)]


def save(app: AppTest) -> AppTest:
    return key_ending(app, "button", ".save").click().run()  # type: ignore[no-any-return]


def test_before_a_reading_is_in_there_is_neither_verdict_nor_score(desk: Desk) -> None:
    app = logging(desk)
    assert "as soon as a reading is in" in markup(app)
    assert not [label for label in labels(app, "segmented_control") if "Browning" in label]


def test_a_low_reading_is_not_safe_at_once_and_no_tasting_is_asked(desk: Desk) -> None:
    app = enter(logging(desk), core__0="75.9")
    text = markup(app)
    assert "Not hot enough. Do not taste." in text
    assert "C1" in text
    asked = labels(app, "segmented_control")
    assert any("Browning" in label for label in asked)
    assert not any("Texture" in label or "Moisture" in label for label in asked)
    assert not labels(app, "checkbox")


def test_what_is_missing_makes_it_unknown_and_no_tasting_is_asked(desk: Desk) -> None:
    app = enter(logging(desk), core__0="80", core__1="80", core__2="80")
    assert "Treat as not safe." in markup(app)
    assert not any("Texture" in label for label in labels(app, "segmented_control"))


def test_a_safe_cook_asks_each_taster_and_only_a_yes_opens_the_tasting(desk: Desk) -> None:
    app = safe_cook(logging(desk))
    assert "Safe to taste" in markup(app)
    asked = labels(app, "checkbox")
    assert asked == ["Taster A says: I may taste today", "Taster B says: I may taste today"]
    assert not any("Texture" in label for label in labels(app, "segmented_control"))
    key_ending(app, "checkbox", ".may.A").check().run()
    assert sum("Texture" in label for label in labels(app, "segmented_control")) == 1


def test_unknown_allergens_keep_the_tasting_shut(desk: Desk) -> None:
    app = safe_cook(logging(desk, of=Brief.model_validate(brief().model_dump(exclude_unset=True) | {"allergens": None})))
    assert "Allergens are unknown" in markup(app)
    assert not labels(app, "checkbox")


def test_the_cook_is_kept_as_it_was_entered_under_one_id(desk: Desk) -> None:
    app = safe_cook(logging(desk))
    key_ending(app, "checkbox", ".may.A").check().run()
    choose(app, **{"texture.A": 3.0, "browning.A": 2.5})  # type: ignore[arg-type]
    enter(app, mass_out_g="160.2", note="late rise")
    save(app)
    what, given = desk.kept[-1]
    kept: TestCook = given["cook"]
    assert what == "cook"
    assert kept.readings_c == (76.4, 77.0, 79.1)
    assert (kept.mass_g, kept.mass_out_g, kept.rest_s, kept.rest_covered) == (183.0, 160.2, 120.0, True)
    assert (kept.cook, kept.note, kept.purpose) == ("R. Osei", "late rise", "search")
    assert kept.scores is not None
    assert (kept.scores[0].taster, kept.scores[0].browning, kept.scores[0].texture) == ("A", 2.5, 3.0)
    assert given["may_taste"] == {"A": True, "B": False}
    assert given["client_id"]
    assert "Saved as cook 2" in markup(app)


def test_a_refused_save_keeps_its_id_so_that_pressing_again_saves_once(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    seen: list[str] = []

    def refuse(*_: Any, client_id: str, **__: Any) -> None:
        seen.append(client_id)
        raise NotAllowed("The store is closed for the night. Try again tomorrow.")

    app = safe_cook(logging(desk))
    monkeypatch.setattr(services, "log_cook", refuse)
    save(app)
    save(app)
    assert "closed for the night" in markup(app)
    assert len(set(seen)) == 1
    assert len(seen) == 2


def test_fahrenheit_is_asked_aloud_and_the_answer_is_used(desk: Desk) -> None:
    app = enter(logging(desk), core__0="168.8")
    question = next(one for one in app.segmented_control if "in °F that would be 76.0 °C" in one.label)
    assert "Not hot enough" not in markup(app)
    question.set_value("°F").run()
    assert "understood as 76 °C" in markup(app)
    enter(app, core__0="170")
    assert "understood as" not in markup(app)


def test_what_is_no_number_is_answered_beside_its_field_and_not_saved(desk: Desk) -> None:
    app = enter(logging(desk), mass_g="heavy")
    assert "is not a mass" in markup(app)
    save(app)
    assert desk.kept == []


def test_unlikely_values_are_asked_and_kept_as_confirmed(desk: Desk) -> None:
    app = enter(safe_cook(logging(desk)), mass_g="260")
    save(app)
    assert desk.kept == []
    assert "The brief asks for 180 g" in markup(app)
    next(one for one in app.checkbox if "260" in one.label).check().run()
    save(app)
    assert desk.kept[-1][1]["cook"].confirmed == ("mass_g=260",)


def test_the_program_that_was_taken_is_the_one_logged(desk: Desk) -> None:
    app = safe_cook(logging(desk, proposal="proposal-7"))
    assert app.selectbox[0].value == "proposal:proposal-7"
    save(app)
    assert desk.kept[-1][1]["cook"].program == proposal(7).program


def test_a_benchmark_has_no_program(desk: Desk) -> None:
    app = logging(desk)
    app.selectbox[0].set_value("benchmark").run()
    save(safe_cook(app))
    kept = desk.kept[-1][1]["cook"]
    assert (kept.purpose, kept.program) == ("benchmark", None)


def test_a_correction_begins_with_what_was_kept_and_needs_its_reason(desk: Desk) -> None:
    app = logging(desk, cook="cook-1")
    assert key_ending(app, "text_input", ".mass_g").value == "183"
    enter(app, mass_g="181")
    save(app)
    assert desk.kept == []
    enter(app, reason="typing error")
    save(app)
    what, given = desk.kept[-1]
    assert (what, given["cook_id"], given["reason"], given["cook"].mass_g) == ("correction", "cook-1", "typing error", 181.0)


def test_a_correction_leaves_scores_and_everything_else_as_they_were(desk: Desk) -> None:
    old = cook()
    app = logging(desk, cook="cook-1")
    enter(app, mass_out_g="159", reason="scale read wrong")
    save(app)
    kept = desk.kept[-1][1]["cook"]
    assert kept.scores == old.scores
    assert kept.program == old.program
    assert kept.cooked_at == old.cooked_at
    assert kept.thermometer_checked_at == old.thermometer_checked_at


def test_a_check_later_on_the_clock_was_made_the_day_before(desk: Desk) -> None:
    app = safe_cook(logging(desk))
    key_ending(app, "time_input", ".checked").set_value(time(20, 0)).run()
    save(app)
    kept = desk.kept[-1][1]["cook"]
    assert 0 < (kept.cooked_at - kept.thermometer_checked_at).total_seconds() < 24 * 3600


def test_nothing_is_logged_for_a_closed_development(desk: Desk) -> None:
    desk.add(view(record(1), state="closed", state_reason="menu changed"))
    assert "no cook is logged" in markup(opened("log", development="development-1"))


def test_a_correction_does_not_make_an_old_check_of_the_thermometer_younger(desk: Desk) -> None:
    stale = cook(thermometer_checked_at="2026-02-27T09:12:34Z")
    desk.add(view(record(1, tested=stale)))
    app = opened("log", development="development-1", cook="cook-1")
    enter(app, mass_g="181", reason="typing error")
    save(app)
    kept = desk.kept[-1][1]["cook"]
    assert kept.thermometer_checked_at == stale.thermometer_checked_at
    assert kept.cooked_at == stale.cooked_at


def test_a_cook_kept_without_its_time_does_not_get_one_by_being_corrected(desk: Desk) -> None:
    desk.add(view(record(1, tested=cook(cooked_at=None))))
    app = opened("log", development="development-1", cook="cook-1")
    enter(app, mass_g="181", reason="typing error")
    save(app)
    assert desk.kept[-1][1]["cook"].cooked_at is None


def test_what_can_not_be_is_told_and_not_saved(desk: Desk) -> None:
    app = enter(logging(desk), mass_g="183", mass_out_g="500")
    assert "Mass out must be 0.1 to 1.2 of mass in" in markup(app)
    assert not [button for button in app.button if button.label == "Save this cook"]
