from __future__ import annotations

from typing import Any

import pytest

from tests.example import DROP, brief
from tuner import safety


def limit_of(**changes: Any) -> safety.EffectiveLimit:
    return safety.effective_limit(brief(**changes))


@pytest.mark.parametrize("food_class", ["poultry", "ground_meat", "whole_muscle", "fish", "egg", "stuffed", "reheated"])
def test_left_out_the_microwave_rule_counts_unapproved(food_class: str) -> None:
    limit = limit_of(food_class=food_class, critical_limit=DROP)
    assert (limit.core_temperature_c, limit.hold_s, limit.rest_s, limit.covered, limit.guard_c) == (74, 0, 120, True, 2)
    assert limit.pass_line_c == 76
    assert limit.is_default
    assert not limit.approved


def test_left_out_plant_food_takes_57_or_cooked_before_eating_the_table() -> None:
    assert limit_of(food_class="plant", critical_limit=DROP).core_temperature_c == 57
    table = limit_of(food_class="plant", critical_limit=DROP, cook_before_eating=True)
    assert (table.core_temperature_c, table.hold_s) == (70, 120)


def test_left_out_bakery_has_nothing_to_kill_but_nobody_approved_it() -> None:
    limit = limit_of(food_class="bakery", critical_limit=DROP)
    assert limit.none
    assert limit.pass_line_c is None
    assert not limit.approved


@pytest.mark.parametrize(
    "food_class, market, expected_c",
    [
        ("reheated", "Scotland", 82),
        ("reheated", " scotland ", 82),
        ("reheated", "UK", 74),
        ("reheated", "US", 74),
        ("reheated", "Elsewhere", 74),
        ("poultry", "Scotland", 74),
        ("whole_muscle", "US", 74),
        ("plant", "US", 57),
        ("plant", "UK", 63),
        ("plant", "Australia", 60),
    ],
)
def test_a_market_with_stricter_rows_takes_the_strictest(food_class: str, market: str, expected_c: float) -> None:
    assert limit_of(food_class=food_class, market=market, critical_limit=DROP).core_temperature_c == expected_c


def test_a_market_never_makes_the_default_weaker() -> None:
    for food_class in ("poultry", "ground_meat", "whole_muscle", "fish", "egg", "stuffed", "reheated", "plant"):
        plain = limit_of(food_class=food_class, critical_limit=DROP)
        for market in ("US", "UK", "Scotland", "Australia", "Elsewhere"):
            here = limit_of(food_class=food_class, market=market, critical_limit=DROP)
            assert (here.core_temperature_c or 0) >= (plain.core_temperature_c or 1000)


def test_injected_or_tenderised_counts_as_ground() -> None:
    assert safety.limit_class(brief(food_class="whole_muscle", portion__intact=False)) == "ground_meat"
    assert safety.limit_class(brief(food_class="fish", portion__intact=False)) == "ground_meat"
    assert safety.limit_class(brief(food_class="whole_muscle", portion__intact=True)) == "whole_muscle"
    assert safety.limit_class(brief(food_class="poultry", portion__intact=False)) == "poultry"


BELOW = [
    {"critical_limit": {"core_temperature_c": 73.9}},
    {"critical_limit": {"none": True}},
    {"market": "Scotland", "food_class": "reheated", "critical_limit": {"core_temperature_c": 74}},
    {"food_class": "plant", "cook_before_eating": True, "critical_limit": {"core_temperature_c": 70, "hold_s": 119}},
]


@pytest.mark.parametrize("changes", BELOW)
def test_less_than_the_default_needs_rule_and_approver(changes: dict[str, Any]) -> None:
    default = limit_of(**{**changes, "critical_limit": DROP})
    for part in ({}, {"rule": "house rule"}, {"approved_by": "food-safety lead"}):
        own = {**changes["critical_limit"], **part}
        assert safety.is_below_default(brief(**{**changes, "critical_limit": own}))
        limit = limit_of(**{**changes, "critical_limit": own})
        assert limit.is_default
        assert (limit.core_temperature_c, limit.hold_s) == (default.core_temperature_c, default.hold_s)
        assert limit.approved_by is None
        assert "asks for less" in limit.why
    both = {**changes["critical_limit"], "rule": "house rule", "approved_by": "food-safety lead"}
    limit = limit_of(**{**changes, "critical_limit": both})
    assert not limit.is_default
    assert limit.approved
    assert limit.core_temperature_c == both.get("core_temperature_c")


@pytest.mark.parametrize("own", [{"core_temperature_c": 74}, {"core_temperature_c": 80, "guard_c": 1}])
def test_a_limit_at_or_above_the_default_stands_by_itself(own: dict[str, Any]) -> None:
    limit = limit_of(critical_limit=own)
    assert not limit.is_default
    assert limit.core_temperature_c == own["core_temperature_c"]
    assert limit.pass_line_c == own["core_temperature_c"] + own.get("guard_c", 2)


def test_bakery_takes_any_limit_of_its_own() -> None:
    assert limit_of(food_class="bakery", critical_limit={"core_temperature_c": 63}).core_temperature_c == 63


@pytest.mark.parametrize(
    "changes, expected",
    [
        ({}, (76, 84)),
        ({"targets__core_temperature_c": {"low": 78, "high": 84}}, (78, 84)),
        ({"targets__core_temperature_c": {"high": 84}}, (76, 84)),
        ({"targets__core_temperature_c": {"low": 70}}, (76, None)),
        ({"targets__core_temperature_c": DROP}, (76, None)),
        ({"targets__core_temperature_c": {"low": 60, "high": 70}}, (76, 70)),
        (
            {"targets__core_temperature_c": DROP, "critical_limit": {"none": True, "rule": "r", "approved_by": "a"}},
            (None, None),
        ),
        ({"critical_limit": {"none": True, "rule": "r", "approved_by": "a"}}, (74, 84)),
    ],
)
def test_the_usable_window_begins_at_the_higher_of_window_and_limit_plus_guard(
    changes: dict[str, Any], expected: tuple[float | None, float | None]
) -> None:
    assert safety.usable_core_window(brief(**changes)) == expected


def test_a_sum_that_binary_arithmetic_rounds_is_written_as_meant() -> None:
    assert limit_of(critical_limit={"core_temperature_c": 74.1, "guard_c": 2.2}).pass_line_c == 76.3
