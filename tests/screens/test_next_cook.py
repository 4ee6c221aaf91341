from __future__ import annotations

import pytest

from tests.screens.desk import Desk, key_ending, markup, opened
from tests.screens.records import NASTY, PROGRAM, forecast, proposal, record, view
from tuner import services
from tuner.domain import NoLegalProgram, Proposal


def test_the_proposal_stands_with_forecast_reasons_and_buttons(desk: Desk) -> None:
    desk.add(view(record(1)))
    app = opened("next_cook", development="development-1")
    text = markup(app)
    for words in ("late air is low", "72", "inside every window at once", "cook 1, for comparison", "250 °C · 3:30"):
        assert words in text
    assert [button.label for button in app.button][:2] == ["Cook this", "Change it"]


def test_an_open_proposal_is_not_computed_again(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    def again(*_: object, **__: object) -> None:
        raise AssertionError("computed again")

    monkeypatch.setattr(services, "next_proposals", again)
    desk.add(view(record(1), proposals=(proposal(),)))
    assert "late air is low" in markup(opened("next_cook", development="development-1"))


def test_taking_it_is_kept_with_the_person_and_leads_to_the_log(desk: Desk) -> None:
    desk.add(view(record(1)))
    app = opened("next_cook", development="development-1")
    key_ending(app, "button", "take-proposal-1").click().run()
    what, given = desk.kept[0]
    assert (what, given["decision"], given["who"].name) == ("decision", "accept", "R. Osei")
    assert "Taken." in markup(app)


def test_a_refusal_needs_its_reason(desk: Desk) -> None:
    desk.add(view(record(1)))
    app = opened("next_cook", development="development-1")
    key_ending(app, "button", "refuse-proposal-1").click().run()
    assert desk.kept == []
    assert "The reason is missing" in markup(app)
    key_ending(app, "text_input", "refuse-reason-proposal-1").set_value("too slow").run()
    key_ending(app, "button", "refuse-proposal-1").click().run()
    assert desk.kept[0][1]["decision"] == "refuse"
    assert desk.kept[0][1]["reason"] == "too slow"


def test_changing_shows_the_editor_and_an_unchanged_program_is_not_kept_as_ones_own(desk: Desk) -> None:
    desk.add(view(record(1)))
    app = opened("next_cook", development="development-1")
    key_ending(app, "button", "change-proposal-1").click().run()
    assert "Your own program" in [one.value for one in app.subheader]
    assert "as proposed" in markup(app)
    key_ending(app, "button", "own-proposal-1").click().run()
    assert "Nothing was changed" in markup(app)
    assert desk.kept == []
    key_ending(app, "button", "back-proposal-1").click().run()
    assert "Your own program" not in [one.value for one in app.subheader]


def test_before_the_first_cook_a_first_day_can_be_planned(desk: Desk) -> None:
    desk.add(view())
    app = opened("next_cook", development="development-1")
    app.button(key="first-day").click().run()
    assert ("first day", {"count": 6}) in desk.kept


def test_a_first_day_has_six_cook_sheets_that_can_be_taken_together(desk: Desk) -> None:
    desk.add(view(proposals=tuple(proposal(number, kind="first_day") for number in range(1, 7))))
    app = opened("next_cook", development="development-1")
    assert len([one for one in app.subheader if one.value.startswith("Cook sheet")]) == 6
    app.button(key="take-all").click().run()
    assert [given["decision"] for _, given in desk.kept] == ["accept"] * 6
    assert len({given["client_id"] for _, given in desk.kept}) == 6


def test_what_was_taken_waits_to_be_cooked(desk: Desk) -> None:
    desk.add(view(record(1), proposals=(proposal(1, state="accepted"),)))
    app = opened("next_cook", development="development-1")
    assert "Taken, waiting to be cooked: 1 program" in [one.value for one in app.header]


def test_where_nothing_can_be_proposed_it_says_why(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    def none(*_: object, **__: object) -> None:
        raise NoLegalProgram("The window of 5 to 10 s lies below the oven's shortest 20 s. Widen it.")

    monkeypatch.setattr(services, "next_proposals", none)
    desk.add(view(record(1)))
    assert "Widen it" in markup(opened("next_cook", development="development-1"))


def test_nothing_is_proposed_for_a_closed_development(desk: Desk) -> None:
    desk.add(view(record(1), state="closed", state_reason="menu changed"))
    app = opened("next_cook", development="development-1")
    assert "nothing is proposed" in markup(app)
    assert not [button for button in app.button if button.label == "Cook this"]


def test_reasons_stay_words(desk: Desk) -> None:
    nasty = Proposal(program=PROGRAM, purpose="search", forecast=forecast(), reasons=(NASTY,))
    desk.add(view(record(1), proposals=(proposal(proposal=nasty),)))
    assert "&lt;img" in markup(opened("next_cook", development="development-1"))


def test_the_cautions_of_a_cook_sheet_are_there(desk: Desk) -> None:
    desk.add(view(record(1)))
    text = markup(opened("next_cook", development="development-1"))
    assert "C3" in text
    assert "C5" in text


def test_while_one_waits_another_is_proposed_only_on_request(desk: Desk) -> None:
    desk.add(view(record(1), proposals=(proposal(1, state="accepted"),)))
    app = opened("next_cook", development="development-1")
    assert not [button for button in app.button if button.label == "Cook this"]
    app.button(key="one-more").click().run()
    assert [button for button in app.button if button.label == "Cook this"]


def test_a_cook_sheet_is_made_as_a_link_and_withdrawn_with_a_reason(desk: Desk) -> None:
    desk.add(view(record(1), proposals=(proposal(1, state="accepted"),)))
    app = opened("next_cook", development="development-1")
    key_ending(app, "text_input", "sheet-cook-proposal-1").set_value(NASTY)
    key_ending(app, "button", "sheet-make-proposal-1").click().run()
    assert not app.exception
    assert (desk.kept[0][0], desk.kept[0][1]["proposal_id"], desk.kept[0][1]["language"]) == ("sheet", "proposal-1", "en")
    assert app.code[0].value.endswith("/oven/#sheet=sheet-1&s=abc")
    assert f"Sheet 1 for {NASTY}: ◐ made, not opened yet" in [one.value for one in app.text]
    assert key_ending(app, "button", "sheet-withdraw-sheet-1").disabled
    key_ending(app, "text_input", "sheet-reason-sheet-1").set_value("another program").run()
    key_ending(app, "button", "sheet-withdraw-sheet-1").click().run()
    assert desk.kept[1] == ("withdrawal", {"sheet_id": "sheet-1", "reason": "another program"})
    assert not app.code
