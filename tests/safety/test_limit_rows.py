from __future__ import annotations

from datetime import date
from itertools import pairwise
from typing import get_args

import pytest

from tuner import safety
from tuner.domain import FoodClass
from tuner.safety.markets import markets_of


def test_every_row_names_its_rule_and_is_unapproved() -> None:
    for row in safety.SHIPPED_LIMITS:
        assert all((row.rule, row.authority, row.market, row.edition, row.food_classes))
        assert row.status == "unapproved"
        assert date.fromisoformat(row.review_by) > date(2026, 1, 1)


def test_codes_are_unique() -> None:
    codes = [row.code for row in safety.SHIPPED_LIMITS]
    assert len(codes) == len(set(codes))


@pytest.mark.parametrize("food_class", get_args(FoodClass))
def test_every_class_has_exactly_one_default_row(food_class: FoodClass) -> None:
    assert [row.use for row in safety.SHIPPED_LIMITS if food_class in row.food_classes].count("default") == 1


def test_tables_ask_for_less_time_at_higher_temperature() -> None:
    for row in safety.SHIPPED_LIMITS:
        for (colder, longer), (hotter, shorter) in pairwise(row.table):
            assert hotter > colder
            assert shorter <= longer
        if row.table:
            assert row.table[0] == (row.core_temperature_c, row.hold_s)


def test_meat_tables_are_never_offered_for_poultry() -> None:
    for row in safety.rows_for("poultry"):
        assert "meat" not in row.rule


def test_rows_of_a_market_come_strictest_first() -> None:
    rows = safety.rows_for("reheated", "Scotland")
    assert [row.core_temperature_c for row in rows] == [82, 70]
    assert safety.rows_for("poultry", "US")[0].core_temperature_c == 74
    assert safety.rows_for("poultry", "Elsewhere") == ()
    assert safety.rows_for("bakery", "Elsewhere")[0].core_temperature_c is None


@pytest.mark.parametrize("written, meant", [("usa", "US"), (" United States ", "US"), ("GB", "UK"), ("au", "Australia")])
def test_markets_are_known_by_their_usual_names(written: str, meant: str) -> None:
    assert meant in markets_of(written)


def test_an_unknown_market_has_no_rows() -> None:
    assert markets_of("Elsewhere") == ()
    assert markets_of(None) == ()
