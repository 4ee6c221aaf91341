from __future__ import annotations

import pytest

from tests.example import brief, cook
from tests.screens.desk import Desk, key_ending, markup, opened
from tests.screens.records import NASTY, assessment, decided, proposal, record, summary, view
from tuner.domain import Confirmations
from tuner.services import DevelopmentView


def shown(desk: Desk, one: DevelopmentView) -> str:
    desk.add(one)
    app = opened("development", development=one.id)
    assert not app.exception
    return markup(app)


def test_one_story_stands_on_the_page(desk: Desk) -> None:
    text = shown(desk, view(record(1), proposals=(decided(),)))
    for words in ("Duck and plum parcel", "1 cook so far", "No cook has passed yet", "Cook 1", "too slow", "Food class"):
        assert words in text


@pytest.mark.parametrize(
    "status, passed, words",
    [
        ("gathering", 0, "No cook has passed yet: 1 cook so far"),
        ("candidate", 0, "A candidate: one cook passed, 3 confirmations to go"),
        ("confirming", 2, "Not proven yet: 2 of 3 confirmations"),
        ("stalled", 0, "Stalled"),
    ],
)
def test_before_the_proof_nothing_reassuring_heads_the_page(desk: Desk, status: str, passed: int, words: str) -> None:
    found = assessment(status=status, confirmations=Confirmations(passed=passed, needed=3))
    text = shown(desk, view(record(1), assessment=found))
    assert words in text
    assert "tk-standing proven" not in text


def test_proven_is_said_with_what_it_is_not(desk: Desk) -> None:
    text = shown(desk, view(record(1), assessment=assessment(status="proven", chance_reliable=0.9)))
    assert "tk-standing proven" in text
    assert "no food-safety claim" in text


def test_without_a_cook_there_is_neither_progress_nor_panel(desk: Desk) -> None:
    text = shown(desk, view(assessment=assessment(best_program=None)))
    assert "No cook yet" in text
    assert "tk-progress" not in text


def test_the_demo_says_that_its_data_are_invented(desk: Desk) -> None:
    assert "is invented" in shown(desk, view(record(1), customer="Customer Vale (invented)"))
    assert "is invented" not in shown(desk, view(record(1), customer="Vale"))


def test_a_taken_proposal_leads_to_the_log(desk: Desk) -> None:
    desk.add(view(record(1), proposals=(proposal(state="accepted"),)))
    app = opened("development", development="development-1")
    assert app.button(key="step-log").label == "Log a cook"


def test_a_closed_development_offers_no_next_step_but_reopening(desk: Desk) -> None:
    desk.add(view(record(1), state="closed", state_reason="menu changed"))
    app = opened("development", development="development-1")
    assert "closed: menu changed" in markup(app)
    labels = [button.label for button in app.button]
    assert "Next cook" not in labels
    assert "Reopen" in labels


def test_closing_needs_a_reason(desk: Desk) -> None:
    desk.add(view(record(1)))
    app = opened("development", development="development-1")
    app.button(key="close-development-1").click().run()
    assert "A reason is missing" in markup(app)
    assert desk.kept == []
    key_ending(app, "text_input", "state-reason-development-1").set_value("menu changed").run()
    app.button(key="close-development-1").click().run()
    assert desk.kept == [("state", {"development_id": "development-1", "reason": "menu changed"})]


def test_an_address_that_leads_nowhere_says_so(desk: Desk) -> None:
    app = opened("development", development="gone")
    assert "Choose one from the list" in markup(app)
    assert not app.exception


def test_without_an_address_a_dish_can_be_chosen(desk: Desk) -> None:
    desk.add(view(record(1)))
    desk.summaries = [summary(1, dish="Duck and plum parcel", customer="Vale")]
    app = opened("development")
    app.selectbox(key="choose").set_value("development-1").run()
    assert "Cook 1" in markup(app)
    assert app.query_params["development"] == "development-1"


def test_a_traced_cook_is_drawn(desk: Desk) -> None:
    traced = cook(trace=[{"place": 1, "time_s": [0, 100, 330], "temperature_c": [4, 60, 76.4]}])
    desk.add(view(record(1, tested=traced)))
    app = opened("development", development="development-1")
    assert len(app.get("vega_lite_chart")) == 1


def test_many_cooks_are_shown_in_part_until_one_asks(desk: Desk) -> None:
    desk.add(view(*(record(number) for number in range(1, 61))))
    app = opened("development", development="development-1")
    assert "<b>Cook 20</b>" not in markup(app)
    app.toggle(key="all-cooks").set_value(True).run()
    assert "<b>Cook 1</b>" in markup(app)


def test_what_people_wrote_stays_words(desk: Desk) -> None:
    nasty = brief(dish=NASTY, customer=NASTY, allergens=[NASTY], conventional__method=NASTY)
    text = shown(desk, view(record(1, of=nasty), of=nasty, proposals=(decided(reason=NASTY),)))
    assert "<img" not in text
    assert text.count("&lt;img") >= 4
