from __future__ import annotations

from typing import Any

import pytest

from tests.example import DROP, brief, cook
from tuner import safety


def status(brief_changes: dict[str, Any] | None = None, **cook_changes: Any) -> str:
    return safety.verdict(brief(**(brief_changes or {})), cook(**cook_changes)).status


def test_the_example_cook_is_safe_to_taste() -> None:
    found = safety.verdict(brief(), cook())
    assert found.status == "safe_to_taste"
    assert found.may_taste
    assert "76.4" in found.reasons[0]
    assert "role or initials" in found.reasons[0]


NEEDED = [
    ("a reading", {"core_temperature_c": [76.4, 77.0]}, "2 of 3 places"),
    ("all readings", {"core_temperature_c": DROP}, "0 of 3 places"),
    ("completion", {"completed": False}, "interrupted"),
    ("completion with cause", {"completed": False, "interrupted_by": "power cut"}, "power cut"),
    ("an uninterrupted cook", {"completed": DROP, "interrupted_by": "door opened"}, "door opened"),
    ("the rest", {"rest_s": DROP}, "Rest not noted"),
    ("a full rest", {"rest_s": 119}, "119 s is shorter than the 120 s"),
    ("the cover", {"rest_covered": DROP}, "covered"),
    ("a covered rest", {"rest_covered": False}, "covered"),
    ("the thermometer check", {"thermometer_checked_at": DROP}, "Thermometer check not noted"),
    ("a check before the cook", {"thermometer_checked_at": "2026-03-02T10:15:01Z"}, "after the cook"),
    ("a fresh check", {"thermometer_checked_at": "2026-03-01T10:14:59Z"}, "24 h"),
    ("the time of the cook", {"cooked_at": DROP}, "Time of the cook not noted"),
]


@pytest.mark.parametrize("changes, words", [case[1:] for case in NEEDED], ids=[case[0] for case in NEEDED])
def test_without_anything_needed_it_is_unknown_and_says_so(changes: dict[str, Any], words: str) -> None:
    found = safety.verdict(brief(), cook(**changes))
    assert found.status == "unknown"
    assert any(words in reason for reason in found.reasons)


@pytest.mark.parametrize("changes", [case[1] for case in NEEDED if "core_temperature_c" not in case[1]])
def test_a_low_reading_beats_everything_missing(changes: dict[str, Any]) -> None:
    found = safety.verdict(brief(critical_limit__approved_by=DROP), cook(core_temperature_c=[75.9], **changes))
    assert found.status == "not_safe"
    assert "75.9" in found.reasons[0]
    assert "76" in found.reasons[0]


def test_each_missing_thing_is_named() -> None:
    found = safety.verdict(
        brief(critical_limit__approved_by=DROP),
        cook(
            core_temperature_c=[80],
            rest_s=DROP,
            rest_covered=DROP,
            completed=False,
            thermometer_checked_at=DROP,
            cooked_at=DROP,
        ),
    )
    assert found.status == "unknown"
    assert len(found.reasons) == 7


@pytest.mark.parametrize(
    "limit, guard, reading, expected",
    [
        (74, 2, 76.0, "safe_to_taste"),
        (74, 2, 75.999, "not_safe"),
        (73.9, 2, 75.9, "safe_to_taste"),
        (70.1, 0.2, 70.3, "safe_to_taste"),
        (62.8, 1.1, 63.9, "safe_to_taste"),
        (62.8, 1.1, 63.89, "not_safe"),
        (74, 0, 74, "safe_to_taste"),
    ],
)
def test_a_reading_exactly_on_the_line_passes(limit: float, guard: float, reading: float, expected: str) -> None:
    limits = {"critical_limit__core_temperature_c": limit, "critical_limit__guard_c": guard}
    assert status(limits, core_temperature_c=[reading, 90, 90]) == expected


def test_the_thermometer_check_may_be_exactly_24_hours_old_or_at_the_cook() -> None:
    assert status(thermometer_checked_at="2026-03-01T10:15:00Z") == "safe_to_taste"
    assert status(thermometer_checked_at="2026-03-02T12:15:00+02:00") == "safe_to_taste"


def test_the_longer_rest_of_brief_and_limit_counts() -> None:
    assert status({"rest_s": 180}) == "unknown"
    assert status({"rest_s": 60}) == "safe_to_taste"
    assert status({"rest_s": 60, "critical_limit__rest_s": 0}, rest_s=60) == "safe_to_taste"


def test_without_an_approver_nothing_is_safe() -> None:
    assert status({"critical_limit__approved_by": DROP}) == "unknown"
    assert status({"critical_limit": DROP}) == "unknown"


def test_without_a_rule_a_limit_at_the_default_still_counts() -> None:
    assert status({"critical_limit__rule": DROP}) == "safe_to_taste"


def test_a_limit_below_the_default_counts_only_with_rule_and_approver() -> None:
    lower = {"critical_limit__core_temperature_c": 63}
    assert status(lower, core_temperature_c=[66, 67, 68]) == "safe_to_taste"
    for field in ("rule", "approved_by"):
        assert status({**lower, f"critical_limit__{field}": DROP}, core_temperature_c=[66, 67, 68]) == "not_safe"
        assert status({**lower, f"critical_limit__{field}": DROP}, core_temperature_c=[76, 77, 78]) == "unknown"


NONE = {"none": True, "rule": "crumb only, baked through", "approved_by": "food-safety lead"}


def test_an_approved_nothing_to_kill_is_safe_without_readings_unless_interrupted() -> None:
    bare = {"core_temperature_c": DROP, "rest_s": DROP, "cooked_at": DROP, "thermometer_checked_at": DROP, "completed": DROP}
    for food_class in ("bakery", "plant", "poultry"):
        assert status({"food_class": food_class, "critical_limit": NONE}, **bare) == "safe_to_taste"
    assert status({"food_class": "bakery", "critical_limit": NONE}, **{**bare, "completed": False}) == "unknown"


@pytest.mark.parametrize("missing", ["rule", "approved_by"])
def test_a_nothing_to_kill_that_lacks_rule_or_approver_is_not_approved(missing: str) -> None:
    part = {name: value for name, value in NONE.items() if name != missing}
    assert status({"food_class": "bakery", "critical_limit": part}, core_temperature_c=[20, 20, 20]) == "unknown"
    assert status({"food_class": "poultry", "critical_limit": part}, core_temperature_c=[60, 61, 62]) == "not_safe"


def test_bakery_without_a_limit_is_unknown_because_nobody_approved_that_nothing_needs_killing() -> None:
    found = safety.verdict(brief(food_class="bakery", critical_limit=DROP), cook())
    assert found.status == "unknown"
    assert "approve" in found.reasons[0]


def test_places_are_named_as_the_cook_named_them() -> None:
    found = safety.verdict(brief(), cook(core_temperature_c=[80, 70, 90], probe_places=["rim", "thick end", "middle"]))
    assert found.reasons[0].startswith("thick end: 70")


@pytest.mark.parametrize("blank", ["", "  "])
def test_a_blank_approver_is_none(blank: str) -> None:
    assert status({"critical_limit__approved_by": blank}) == "unknown"
    assert status({"critical_limit__approved_by": blank, "critical_limit__core_temperature_c": 60}) == "unknown"
    assert status({"critical_limit": {**NONE, "approved_by": blank}}, core_temperature_c=[60, 61, 62]) == "not_safe"


def test_numbered_places_are_told_by_number() -> None:
    found = safety.verdict(brief(), cook(core_temperature_c=[80, 70, 90], probe_places=[1, 5, "rim"]))
    assert found.reasons[0].startswith("place 5: 70")


def test_more_readings_than_places_all_count() -> None:
    assert status(core_temperature_c=[80, 80, 80, 75]) == "not_safe"
    assert status(core_temperature_c=[80, 80, 80, 76]) == "safe_to_taste"
