from __future__ import annotations

import pytest

from tests.screens.desk import Desk, markup, opened
from tests.screens.records import NASTY, summary
from tuner import services
from tuner.domain import StoreProblem
from tuner.screens.who_waits import in_order


def dishes(app: object) -> list[str]:
    return [link.label for link in app.get("page_link")]  # type: ignore[attr-defined]


def test_an_empty_list_offers_a_brief_and_the_demo(desk: Desk) -> None:
    app = opened()
    assert "no development yet" in markup(app)
    assert [button.label for button in app.button] == ["Write a brief", "Load the demo"]


def test_the_demo_is_loaded_on_request(desk: Desk) -> None:
    app = opened()
    app.button(key="load_demo").click().run()
    assert desk.kept == [("demo", {})]


def test_my_turn_comes_first_then_the_longest_idle_and_closed_ones_last() -> None:
    given = [
        summary(1, my_turn=False, idle_days=30),
        summary(2, idle_days=2),
        summary(3, idle_days=9),
        summary(4, status="closed", idle_days=99),
    ]
    assert [one.id for one in in_order(given)] == ["development-3", "development-2", "development-1", "development-4"]


def test_the_chips_keep_whose_turn_it_is(desk: Desk) -> None:
    desk.summaries = [summary(1), summary(2, my_turn=False)]
    app = opened()
    app.segmented_control(key="turn").set_value("Waits for others").run()
    assert dishes(app) == ["Dish 2"]


def test_customers_can_be_chosen(desk: Desk) -> None:
    desk.summaries = [summary(1, customer="Vale"), summary(2, customer="North")]
    app = opened()
    app.selectbox(key="whose").set_value("North").run()
    assert dishes(app) == ["Dish 2"]


def test_fifty_developments_are_all_there_and_can_be_searched(desk: Desk) -> None:
    desk.summaries = [summary(number) for number in range(50)]
    app = opened()
    assert len(dishes(app)) == 50
    app.text_input(key="dish").set_value("dish 4").run()
    assert len(dishes(app)) == 11
    app.text_input(key="dish").set_value("no such dish").run()
    assert "No development fits" in markup(app)


def test_names_of_dishes_stay_words(desk: Desk) -> None:
    desk.summaries = [summary(1, dish=f"{NASTY} ![x](http://a.example/b.png)")]
    (label,) = dishes(opened())
    assert "\\!\\[x\\]" in label
    assert "\\<img" in label


def test_trouble_with_the_store_is_told_in_its_own_words(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object, **__: object) -> None:
        raise StoreProblem("The database is locked. Nothing was half written. Try again in a moment.")

    monkeypatch.setattr(services, "list_developments", broken)
    app = opened()
    assert "The database is locked" in markup(app)
    assert not app.exception


def test_an_error_nobody_foresaw_is_an_apology_with_a_number_and_no_trace(
    desk: Desk, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    def broken(*_: object, **__: object) -> None:
        raise ZeroDivisionError("secret inside")

    monkeypatch.setattr(services, "list_developments", broken)
    app = opened()
    shown = markup(app)
    assert "Something went wrong" in shown
    assert "secret inside" not in shown
    assert "Traceback" not in shown
    assert not app.exception
    (number,) = [entry.getMessage().split()[-1] for entry in caplog.records if entry.name == "tuner.screens"]
    assert number in shown


def test_the_name_at_the_desk_begins_with_the_one_given_by_the_system(desk: Desk) -> None:
    desk.summaries = [summary()]
    assert opened().text_input(key="desk_name").value == "R. Osei"


def test_the_list_says_where_developments_are_invented(desk: Desk) -> None:
    desk.summaries = [summary(1, customer="Customer Vale (invented)")]
    assert "is invented" in markup(opened())
    desk.summaries = [summary(1, customer="Vale")]
    assert "is invented" not in markup(opened())
