from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from tests.example import DROP, brief
from tuner import safety


def codes(today: date | None = None, **changes: Any) -> set[str]:
    return {question.code for question in safety.questions_about_limit(brief(**changes), today=today)}


ANSWERED = {"critical_limit__moved": "stopped and turned", "targets__core_temperature_c": {"low": 76, "high": 84}}


def test_a_brief_that_answers_everything_is_asked_nothing() -> None:
    assert codes(**ANSWERED) == set()


@pytest.mark.parametrize(
    "changes, code",
    [
        ({"critical_limit__approved_by": DROP}, "critical_limit.approved_by"),
        ({"critical_limit": DROP}, "critical_limit.approved_by"),
        ({"critical_limit__core_temperature_c": 63}, "critical_limit.below_default"),
        ({"critical_limit__core_temperature_c": 63, "eaters": "vulnerable"}, "eaters"),
        ({"critical_limit__rest_s": 0}, "critical_limit.rest_s"),
        ({"critical_limit__covered": False}, "critical_limit.rest_s"),
        ({"critical_limit__moved": DROP}, "critical_limit.moved"),
        ({"food_class": "whole_muscle"}, "portion.intact"),
        ({"food_class": "bakery", "critical_limit": DROP}, "food_class"),
        ({"food_class": "plant", "critical_limit": DROP}, "cook_before_eating"),
        ({"market": "Elsewhere"}, "market"),
        ({"targets__core_temperature_c": {"low": 74, "high": 84}}, "targets.core_temperature_c.low=74"),
        ({"targets__core_temperature_c": {"low": 60, "high": 76}}, "targets.core_temperature_c.high=76"),
    ],
)
def test_each_open_question_is_asked_and_can_be_confirmed(changes: dict[str, Any], code: str) -> None:
    wanted: dict[str, Any] = {**ANSWERED, **changes}
    if changes.get("critical_limit") is DROP:
        wanted.pop("critical_limit__moved")
    if changes.get("critical_limit__moved") is DROP:
        wanted.pop("critical_limit__moved")
    assert code in codes(**wanted)
    assert code not in codes(**wanted, confirmed=[code])


def test_a_shipped_row_past_its_review_date_is_asked_about() -> None:
    assert "critical_limit.review" in codes(date(2035, 1, 1), critical_limit=DROP)
    assert "critical_limit.review" not in codes(date(2026, 3, 2), critical_limit=DROP)
    assert "critical_limit.review" not in codes(date(2035, 1, 1), **ANSWERED)
