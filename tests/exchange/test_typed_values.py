"""Numbers, quantities, days and stages as people type them."""

from __future__ import annotations

from datetime import UTC, date, datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tuner.exchange.cell_lists import split_list
from tuner.exchange.marks import mark_in_words, on_our_scale
from tuner.exchange.number_text import decimal_mark, is_censored, is_missing, looks_numeric, read_number
from tuner.exchange.quantity_text import converted, read_typed
from tuner.exchange.shown_value import shown
from tuner.exchange.stage_text import read_stages
from tuner.exchange.when_text import ORDERS, day_of, instant, orders_of, read_when, zone_named


@pytest.mark.parametrize(
    ("text", "mark", "value", "other"),
    [
        ("76,4", "", 76.4, None),
        ("76.4", "", 76.4, None),
        ("1,250", "", 1.25, 1250),
        ("1.250", "", 1.25, 1250),
        ("1,250", ",", 1.25, None),
        ("1,250", ".", 1250, None),
        ("1.234,5", "", 1234.5, None),
        ("1,234.5", "", 1234.5, None),
        ("1.234.567", "", 1234567, None),
        ("1'234,5", "", 1234.5, None),
        ("1 250 g", "", 1250, None),
        ("0,250", "", 0.25, None),
        ("−18", "", -18, None),
        ("+4", "", 4, None),
        (",5", "", 0.5, None),
        ("6 1/4 oz", "", 6.25, None),
        ("6½", "", 6.5, None),
        ("~76", "", 76, None),
        ("76*", "", 76, None),
    ],
)
def test_numbers(text: str, mark: str, value: float, other: float | None) -> None:
    found = read_number(text, mark)  # type: ignore[arg-type]
    assert found is not None
    assert (found.value, found.other) == (pytest.approx(value), other)


def test_the_decimal_mark_is_told_by_the_numbers_that_are_plain() -> None:
    assert decimal_mark(["1.250", "76,4"]) == ","
    assert decimal_mark(["1,250", "76.4"]) == "."
    assert decimal_mark(["1,250", "3", "abc"]) == ""
    assert decimal_mark(["76,4", "77.1"]) == ""


@pytest.mark.parametrize("text", ["", "-", "---", "–", "n/a", "N.A.", "k. A.", "?", "…", "#DIV/0!", "not measured", "NaN"])
def test_marks_for_missing_values(text: str) -> None:
    assert is_missing(text)


@pytest.mark.parametrize("text", ["0", "-5", "no", "76", "x"])
def test_values_that_are_not_missing(text: str) -> None:
    assert not is_missing(text)


def test_bounds_are_no_values() -> None:
    assert is_censored("<76")
    assert is_censored("> 90 °C")
    assert not is_censored("76")
    assert read_typed("<76", "temperature", "") is None


@pytest.mark.parametrize(
    ("text", "numeric"),
    [
        ("76.4", True),
        ("3:30", True),
        ("183g", True),
        ("40% 30/80", True),
        ("1st stage", False),
        ("Core 1", False),
        ("2 minutes later it burnt", False),
    ],
)
def test_data_is_told_from_headings(text: str, numeric: bool) -> None:
    assert looks_numeric(text) is numeric


@pytest.mark.parametrize(
    ("text", "kind", "unit", "value"),
    [
        ("168", "temperature", "°F", (168 - 32) / 1.8),
        ("165F", "temperature", "°C", (165 - 32) / 1.8),
        ("76,4 °C", "temperature", "°F", 76.4),
        ("349.15", "temperature", "K", 76),
        ("76.4 (p2)", "temperature", "°C", 76.4),
        ("6.4oz", "mass", "g", 6.4 * 28.349523125),
        ("1 lb 2 oz", "mass", "g", 18 * 28.349523125),
        ("0.183", "mass", "kg", 183),
        ("3:30", "duration", "", 210),
        ("0:03:30", "duration", "", 210),
        ("3:30:00", "duration", "mm:ss:00", 210),
        ("3:30:00", "duration", "h:mm:ss", 12600),
        ("0:45", "duration", "hh:mm", 2700),
        ("3 min 30 s", "duration", "", 210),
        ("3'30\"", "duration", "", 210),
        ("3m30s", "duration", "", 210),
        ("2'", "duration", "", 120),
        ("3.5", "duration", "min", 210),
        ("3.30", "duration", "min.ss", 210),
        ("210", "duration", "s", 210),
        ("1 h 5 min", "duration", "", 3900),
        ("40%", "percent", "fraction", 40),
        ("0.4", "percent", "fraction", 40),
    ],
)
def test_quantities(text: str, kind: str, unit: str, value: float) -> None:
    typed = read_typed(text, kind, "")  # type: ignore[arg-type]
    assert typed is not None
    assert converted(typed, kind, unit) == pytest.approx(value)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("text", "kind"),
    [("abc", "mass"), ("183 °C", "mass"), ("76 g", "temperature"), ("76 77", "temperature"), ("long", "duration")],
)
def test_texts_that_are_no_such_quantity(text: str, kind: str) -> None:
    assert read_typed(text, kind, "") is None  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("text", "order", "day", "seconds", "offset"),
    [
        ("2026-03-02", ORDERS[2], date(2026, 3, 2), None, None),
        ("2026-03-02T10:15:00Z", ORDERS[2], date(2026, 3, 2), 36900, 0),
        ("2026-03-02 10:15+01:00", ORDERS[2], date(2026, 3, 2), 36900, 60),
        ("20260302T101500Z", ORDERS[2], date(2026, 3, 2), 36900, 0),
        ("02.03.2026 10:15 Uhr", ORDERS[0], date(2026, 3, 2), 36900, None),
        ("3/2/26 10:15 PM", ORDERS[1], date(2026, 3, 2), 80100, None),
        ("Mon 2 March 2026", ORDERS[0], date(2026, 3, 2), None, None),
        ("Mar 2, 2026 10:15", ORDERS[0], date(2026, 3, 2), 36900, None),
        ("2. März 2026", ORDERS[0], date(2026, 3, 2), None, None),
        ("lundi 2 mars 2026 à 10h15", ORDERS[0], date(2026, 3, 2), 36900, None),
        ("2 de marzo de 2026", ORDERS[0], date(2026, 3, 2), None, None),
        ("13/02/2026 07:40 CET", ORDERS[0], date(2026, 2, 13), 27600, 60),
        ("46083", ORDERS[2], date(2026, 3, 2), None, None),
    ],
)
def test_days_and_times(text: str, order: str, day: date, seconds: int | None, offset: int | None) -> None:
    when = read_when(text)
    assert when is not None
    assert when.numbers is not None
    assert order in when.orders
    assert day_of(when.numbers, order) == day  # type: ignore[arg-type]
    assert (when.seconds, when.offset_min) == (seconds, offset)


@pytest.mark.parametrize("text", ["183", "76.4", "Tuesday", "31.02.2026", "2026-13-45", "25:70", "10:15 Mars time", ""])
def test_texts_that_are_no_days(text: str) -> None:
    assert read_when(text) is None


def test_the_order_of_days_is_settled_over_all_of_them() -> None:
    def orders(*texts: str) -> tuple[str, ...]:
        return orders_of([when for when in map(read_when, texts) if when])

    assert orders("3/2/2026") == (ORDERS[0], ORDERS[1])
    assert orders("3/2/2026", "13/2/2026") == (ORDERS[0],)
    assert orders("3/2/2026", "2/13/2026") == (ORDERS[1],)
    assert len(orders("3/3/2026")) == 1
    assert orders("13/2/2026", "2/13/2026") == ()


def test_moments_in_their_zone() -> None:
    berlin = zone_named("Europe/Berlin")
    assert instant(date(2026, 7, 1), 36000, None, berlin) == datetime(2026, 7, 1, 8, tzinfo=UTC)
    assert instant(date(2026, 1, 1), 36000, None, zone_named("UTC+1")) == datetime(2026, 1, 1, 9, tzinfo=UTC)
    assert instant(date(2026, 1, 1), 36000, -300, berlin) == datetime(2026, 1, 1, 15, tzinfo=UTC)
    assert instant(date(2026, 1, 1), 36000, None, None) is None
    assert zone_named("Atlantis/Centre") is None
    assert zone_named("../etc/passwd") is None


@pytest.mark.parametrize(
    ("text", "pieces"),
    [
        ("76.4/77.0/79.1", ("76.4", "77.0", "79.1")),
        ("76,4 / 77,0 / 79,1", ("76,4", "77,0", "79,1")),
        ("76 77 79", ("76", "77", "79")),
        ("76, 77, 79 °C", ("76 °C", "77 °C", "79 °C")),
        ("76,77,79", ("76", "77", "79")),
        ("L: 76 M: 77 R: 79", ("76", "77", "79")),
        ("[76.4, 77.0]", ("76.4", "77.0")),
        ("76.4/-/79", ("76.4", "-", "79")),
        ("76,4", ("76,4",)),
        ("183 g", ("183 g",)),
    ],
)
def test_several_values_in_one_cell(text: str, pieces: tuple[str, ...]) -> None:
    assert split_list(text, "")[0] == pieces


def test_a_range_gives_its_ends() -> None:
    assert split_list("76-79", "") == (("76", "79"), True)


def test_stages_that_are_none() -> None:
    for text in ("", "conventional oven", "reheat 60s", "40", "x/y", '{"stages": 3}', '[{"share_pct": "a"}]'):
        assert read_stages(text) is None


@settings(deadline=None, max_examples=300)
@given(st.text(alphabet="0123456789 /|;,.:%-+>()[]sairmw°CF\n", max_size=40))
def test_any_stage_text_is_read_or_not_but_never_fails(text: str) -> None:
    read = read_stages(text)
    assert read is None or len({len(stage) for stage in read.stages}) == 1


@settings(deadline=None, max_examples=300)
@given(st.text(max_size=20))
def test_any_text_is_read_or_not_but_never_fails(text: str) -> None:
    read_when(text)
    read_number(text, "")
    split_list(text, ",")
    mark_in_words(text)
    zone_named(text)
    for kind in ("temperature", "mass", "duration", "percent"):
        read_typed(text, kind, "")  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("value", "scale", "mark"),
    [
        (5.5, "1-10", 3),
        (1, "1-10", 1),
        (10, "1-10", 5),
        (0, "-2 to 2", 3),
        (50, "0-100", 3),
        (11, "1-10", None),
        (3, "x", None),
    ],
)
def test_marks_keep_their_ends_and_their_middle(value: float, scale: str, mark: float | None) -> None:
    assert on_our_scale(value, scale) == (None if mark is None else pytest.approx(mark))


def test_cells_of_a_workbook_are_read_as_shown() -> None:
    from datetime import time, timedelta

    assert shown(0.4, "0%") == "40%"
    assert shown(168.5, '0.0"°F"') == "168.5 °F"
    assert shown(76.39999999999999, "General") == "76.4"
    assert shown(1.234, "General") == "1.2340"
    assert shown(183.0, "0.0") == "183"
    assert shown(time(3, 30), "h:mm") == "3:30"
    assert shown(time(0, 3, 30), "mm:ss") == "3:30"
    assert shown(time(0, 3, 30), "h:mm:ss") == "0:03:30"
    assert shown(timedelta(seconds=210), "[h]:mm:ss") == "0:03:30"
    assert shown(datetime(2026, 3, 2, 10, 14, 59, 999_998), "General") == "2026-03-02 10:15:00"
    assert shown(datetime(2026, 3, 2), "General") == "2026-03-02"
    assert shown(True, "General") == "yes"
    assert shown(float("nan"), "General") == ""
