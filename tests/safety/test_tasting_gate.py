from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.example import DROP, brief, cook
from tuner import safety
from tuner.domain import Score

YES = {"A": True, "B": True}


def gate(may_taste: dict[str, bool] | None, brief_changes: dict[str, Any] | None = None, **cook_changes: Any) -> safety.Gate:
    return safety.eat_gate(brief(**(brief_changes or {})), cook(**cook_changes), may_taste)


def test_a_safe_cook_with_known_allergens_and_willing_tasters_may_be_tasted() -> None:
    assert gate(YES) == safety.Gate(allowed=True, reasons=())
    assert gate(YES, {"allergens": []}).allowed


@pytest.mark.parametrize(
    "changes, words",
    [
        ({"core_temperature_c": [75.9, 80, 80]}, "Not safe"),
        ({"completed": False}, "Unknown counts as not safe"),
        ({"rest_covered": DROP}, "covered"),
    ],
)
def test_what_is_not_safe_is_tasted_by_nobody(changes: dict[str, Any], words: str) -> None:
    answer = gate(YES, **changes)
    assert not answer.allowed
    assert any(words in reason for reason in answer.reasons)


def test_unknown_allergens_block() -> None:
    answer = gate(YES, {"allergens": DROP})
    assert not answer.allowed
    assert "unknown is not none" in answer.reasons[0]


def test_an_ingredient_with_an_allergen_that_the_list_lacks_blocks() -> None:
    crumb = {"name": "Crumb", "allergens": ["Milk", "gluten"]}
    answer = gate(YES, {"ingredients": ["Plum", crumb]})
    assert not answer.allowed
    assert "Crumb contains gluten" in answer.reasons[0]
    assert gate(YES, {"ingredients": ["Plum", crumb], "allergens": ["gluten", "milk"]}).allowed


@pytest.mark.parametrize("asked", [None, {}, {"A": True}, {"A": True, "B": False}])
def test_each_taster_who_ate_must_have_said_yes(asked: dict[str, bool] | None) -> None:
    assert not gate(asked).allowed


def test_before_anyone_scored_everyone_asked_must_have_said_yes() -> None:
    assert gate({"A": True}, scores=DROP).allowed
    assert not gate({"A": True, "C": False}, scores=DROP).allowed


def test_a_taster_who_only_looked_need_not_be_asked() -> None:
    scores = [{"taster": "A", "texture": 3}, {"taster": "Z", "browning": 3}]
    assert gate({"A": True}, scores=scores).allowed


def test_every_reason_is_told_at_once() -> None:
    answer = gate({"A": False}, {"allergens": DROP}, core_temperature_c=[60, 60, 60])
    assert len(answer.reasons) >= 6


@pytest.mark.parametrize(
    "score, ate",
    [
        ({"browning": 3}, False),
        ({"texture": 3}, True),
        ({"moisture": 3}, True),
        ({"other": {"liking": 4}}, True),
        ({"other": {}}, False),
    ],
)
def test_browning_is_judged_by_eye_and_everything_else_by_eating(score: dict[str, Any], ate: bool) -> None:
    assert safety.tasted(Score.model_validate({"taster": "A", **score})) is ate


@settings(deadline=None, max_examples=200)
@given(
    st.lists(st.floats(70, 82).map(lambda value: round(value, 1)), min_size=2, max_size=4),
    st.sampled_from([True, False, None]),
    st.sampled_from([None, [], ["milk"]]),
    st.dictionaries(st.sampled_from("ABC"), st.booleans()),
)
def test_nothing_opens_the_gate_but_all_three_together(
    readings: list[float], covered: bool | None, allergens: list[str] | None, may_taste: dict[str, bool]
) -> None:
    wanted, made = brief(allergens=allergens), cook(core_temperature_c=readings, rest_covered=covered)
    safe = safety.verdict(wanted, made).may_taste
    willing = may_taste.get("A") is True and may_taste.get("B") is True
    answer = safety.eat_gate(wanted, made, may_taste)
    assert answer.allowed == (safe and allergens is not None and willing)
    assert answer.allowed == (not answer.reasons)
