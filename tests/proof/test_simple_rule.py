from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.example import DROP, brief, cook
from tuner import proof


def outcome(brief_changes: dict[str, Any] | None = None, **cook_changes: Any) -> proof.Outcome:
    return proof.judge(brief(**(brief_changes or {})), cook(**cook_changes))


def test_the_example_cook_passes() -> None:
    assert outcome() == proof.Outcome("pass", (), ())


@pytest.mark.parametrize(
    "changes, attribute",
    [
        ({"core_temperature_c": [75.9, 77, 79]}, "core_temperature_c"),
        ({"core_temperature_c": [80, 85, 88]}, "core_temperature_c"),
        ({"core_temperature_c": [60]}, "core_temperature_c"),
        ({"scores": [{"taster": "A", "browning": 2, "texture": 3, "moisture": 3}]}, "browning"),
        ({"scores": [{"taster": "A", "browning": 3, "texture": 4, "moisture": 3}]}, "texture"),
        ({"scores": [{"taster": "A", "browning": 3, "texture": 3, "moisture": 2}]}, "moisture"),
        ({"mass_out_g": 150}, "cook_loss_pct"),
        ({"mass_out_g": 190}, "cook_loss_pct"),
    ],
)
def test_one_measured_value_outside_fails(changes: dict[str, Any], attribute: str) -> None:
    found = outcome(**changes)
    assert found.result == "fail"
    assert found.outside == (attribute,)


@pytest.mark.parametrize(
    "changes, missing",
    [
        ({"core_temperature_c": DROP}, "core_temperature_c"),
        ({"core_temperature_c": [77, 78]}, "core_temperature_c"),
        ({"scores": DROP}, "texture"),
        ({"scores": [{"taster": "A", "browning": 3, "texture": 3}]}, "moisture"),
        ({"mass_out_g": DROP}, "cook_loss_pct"),
        ({"rest_s": 60}, "rest_s"),
        ({"rest_s": DROP}, "rest_s"),
        ({"mass_g": DROP}, "mass_g"),
        ({"start_temperature_c": DROP}, "start_temperature_c"),
    ],
)
def test_with_something_missing_it_waits_and_fails_as_soon_as_another_value_is_outside(
    changes: dict[str, Any], missing: str
) -> None:
    found = outcome(**changes)
    assert found.result == "pending"
    assert missing in found.missing
    bad = {**changes, "core_temperature_c": [60, 61, 62]}
    assert outcome(**bad).result == "fail"


def test_edges_belong_to_the_window() -> None:
    scores = [{"taster": "A", "browning": 2.5, "texture": 3.5, "moisture": 2.5}]
    assert outcome(core_temperature_c=[76, 84, 92], scores=scores).result == "pass"
    # 100 (180 - 147.6) / 180 is 18 but for the last binary digit.
    assert outcome(mass_g=180, mass_out_g=147.6).result == "pass"
    assert outcome(mass_g=180, mass_out_g=180).result == "pass"
    assert (
        outcome(
            {"critical_limit__core_temperature_c": 74.1, "critical_limit__guard_c": 2.2}, core_temperature_c=[76.3, 80, 80]
        ).result
        == "pass"
    )


def test_the_mean_is_held_against_the_high_edge_not_the_highest() -> None:
    assert outcome(core_temperature_c=[77, 80, 94]).result == "pass"
    assert outcome(core_temperature_c=[77, 82, 94]).result == "fail"


def test_the_plain_mean_of_the_tasters_present_counts() -> None:
    scores = [{"taster": "A", "browning": 2, "texture": 3, "moisture": 3}, {"taster": "B", "browning": 4}]
    assert outcome(scores=scores).result == "pass"


def test_without_a_core_window_the_limit_still_binds_the_low_edge() -> None:
    assert outcome({"targets__core_temperature_c": DROP}, core_temperature_c=[75, 80, 80]).outside == ("core_temperature_c",)
    assert outcome({"targets__core_temperature_c": DROP}, core_temperature_c=[99, 99, 99]).result == "pass"


def test_where_nothing_needs_killing_and_no_window_asks_the_core_is_not_needed() -> None:
    none = {"none": True, "rule": "crumb", "approved_by": "lead"}
    plain = {"food_class": "bakery", "critical_limit": none, "targets__core_temperature_c": DROP}
    assert outcome(plain, core_temperature_c=DROP).result == "pass"
    assert outcome(plain, core_temperature_c=[20, 20, 20]).result == "pass"


def test_a_limit_that_may_not_stand_is_replaced_by_the_default_here_too() -> None:
    assert outcome({"critical_limit": {"core_temperature_c": 60}}, core_temperature_c=[70, 71, 72]).result == "fail"


def test_what_has_no_window_is_not_asked_for() -> None:
    assert outcome({"targets__texture": DROP}, scores=[{"taster": "A", "browning": 3, "moisture": 3}]).result == "pass"


def test_a_taken_up_mass_is_legal_where_the_window_allows_it() -> None:
    assert outcome({"targets__cook_loss_pct": {"low": -5, "high": 5}}, mass_out_g=190).result == "pass"


READINGS = st.lists(st.floats(60, 95), min_size=0, max_size=5)
MARKS = st.one_of(st.none(), st.sampled_from([1.0, 2.0, 2.5, 3.0, 3.5, 4.0]))


@settings(deadline=None, max_examples=300)
@given(READINGS, MARKS, MARKS, st.one_of(st.none(), st.floats(120, 190)), st.booleans())
def test_margins_are_negative_exactly_where_the_rule_finds_a_value_outside(
    readings: list[float], browning: float | None, texture: float | None, mass_out: float | None, rested: bool
) -> None:
    marks = {"browning": browning, "texture": texture}
    score = {"taster": "A", **{name: mark for name, mark in marks.items() if mark is not None}}
    made = cook(core_temperature_c=readings, scores=[score], mass_out_g=mass_out, rest_s=120 if rested else 30)
    found, margins = proof.judge(brief(), made), proof.margins(brief(), made)
    assert found.result == ("fail" if found.outside else "pending" if found.missing else "pass")
    for attribute, margin in margins.items():
        assert (attribute in found.outside) == (margin is not None and margin < -1e-9)
        if margin is None:
            assert attribute in found.missing
