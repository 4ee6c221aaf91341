from __future__ import annotations

from typing import Any

import pytest

from tests.example import DROP, brief, cook
from tuner import safety

HOLD = {"critical_limit__hold_s": 30}
MINUTES = {"critical_limit__z_c": 7.5, "critical_limit__reference_c": 70, "critical_limit__required_min": 2}


def run(place: str, *samples: tuple[float, float]) -> dict[str, Any]:
    return {"place": place, "time_s": [time for time, _ in samples], "temperature_c": [value for _, value in samples]}


def found(limit: dict[str, Any], **changes: Any) -> safety.EffectiveLimit | Any:
    return safety.verdict(brief(**limit), cook(**changes))


def test_a_hold_needs_a_trace_or_a_noted_time() -> None:
    assert found(HOLD).status == "unknown"
    assert found(HOLD, held_s=29).status == "unknown"
    assert found(HOLD, held_s=30).status == "safe_to_taste"


def test_a_trace_shows_the_hold_above_limit_and_guard_between_its_samples() -> None:
    # From 66 to 86 °C in 20 s and back: at or above 76 °C from 10 s to 40 s, exactly the 30 s.
    long_enough = run("centre", (0, 66), (20, 86), (30, 86), (50, 66))
    assert found(HOLD, trace=[long_enough]).status == "safe_to_taste"
    too_short = run("centre", (0, 66), (20, 86), (29, 86), (49, 66))
    answer = found(HOLD, trace=[too_short])
    assert answer.status == "unknown"
    assert "29 s" in answer.reasons[0]


def test_a_hold_is_unbroken() -> None:
    broken = run("centre", (0, 80), (20, 80), (25, 70), (30, 80), (50, 80), (60, 60))
    assert found(HOLD, trace=[broken]).status == "unknown"


def test_a_trace_that_ends_too_early_shows_nothing_yet() -> None:
    early = run("centre", (0, 60), (10, 80), (25, 80))
    assert found(HOLD, trace=[early]).status == "unknown"
    assert found(HOLD, trace=[early], held_s=30).status == "safe_to_taste"


def test_a_trace_that_ends_while_rising_to_the_limit_shows_nothing_yet() -> None:
    rising = run("centre", (0, 4), (210, 70))
    assert found(HOLD, trace=[rising]).status == "unknown"
    assert found(HOLD, trace=[rising], held_s=30).status == "safe_to_taste"
    level = run("centre", (0, 75), (210, 75))
    assert found(HOLD, trace=[level], held_s=30).status == "unknown"


def test_every_place_of_the_trace_must_hold() -> None:
    good, bad = run("rim", (0, 80), (60, 80)), run("centre", (0, 80), (20, 80), (30, 60))
    answer = found(HOLD, trace=[good, bad])
    assert answer.status == "unknown"
    assert "centre" in answer.reasons[0]


def test_single_samples_and_runs_are_the_same_trace() -> None:
    samples = [{"place": "centre", "time_s": time, "temperature_c": 80} for time in (30, 0, 15)]
    assert found(HOLD, trace=samples).status == "safe_to_taste"
    assert found(HOLD, trace=[run("centre", (0, 80), (15, 80)), run("Centre ", (20, 80), (30, 80))]).status == "safe_to_taste"


def test_of_two_samples_at_one_time_the_colder_counts() -> None:
    doubled = [run("centre", (0, 80), (30, 80), (60, 80)), run("centre", (30, 70), (60, 70))]
    assert found(HOLD, trace=doubled).status == "unknown"


def test_minutes_below_the_required_are_not_safe_whatever_else_is_missing() -> None:
    # 2 min at 72 °C less the guard of 2 K are exactly the 2 min at 70 °C.
    assert found(MINUTES, trace=[run("centre", (0, 72), (120, 72))]).status == "safe_to_taste"
    answer = found(MINUTES, trace=[run("centre", (0, 72), (119, 72))], rest_s=DROP, core_temperature_c=DROP)
    assert answer.status == "not_safe"
    assert "equivalent minutes" in answer.reasons[0]


def test_the_coldest_place_decides_the_minutes() -> None:
    trace = [run("rim", (0, 80), (120, 80)), run("centre", (0, 71), (120, 71))]
    assert found(MINUTES, trace=trace).status == "not_safe"


def test_minutes_that_nothing_shows_are_unknown_and_a_noted_hold_can_show_them() -> None:
    assert found(MINUTES).status == "unknown"
    # 74 °C is worth 10^(4/7.5) = 3.415 min a minute at 70 °C: 35.14 s are 2 min.
    assert found(MINUTES, held_s=35).status == "unknown"
    assert found(MINUTES, held_s=35.2).status == "safe_to_taste"


def test_the_trace_must_cover_the_coldest_place_that_was_read() -> None:
    names = {"probe_places": ["rim", "centre", "base"], "core_temperature_c": [80, 76.5, 79]}
    assert found(HOLD, trace=[run("rim", (0, 80), (60, 80))], **names).status == "unknown"
    assert found(HOLD, trace=[run("centre", (0, 80), (60, 80))], **names).status == "safe_to_taste"
    assert found(HOLD, trace=[run("logger 1", (0, 80), (60, 80))], **names).status == "safe_to_taste"


@pytest.mark.parametrize(
    "counted, expected",
    [
        ({}, "safe_to_taste"),
        ({"critical_limit__count_come_up": True, "critical_limit__count_rest": True}, "safe_to_taste"),
        ({"critical_limit__count_come_up": False}, "not_safe"),
        ({"critical_limit__count_rest": False}, "not_safe"),
    ],
)
def test_come_up_and_rest_count_only_where_the_rule_lets_them(counted: dict[str, Any], expected: str) -> None:
    # Program of 210 s. At 75 °C (below limit + guard) until 100 s, then 76 °C to 210 s, then 76 °C in the rest to 330 s.
    trace = [run("centre", (0, 75), (100, 75), (100.001, 76), (330, 76))]
    whole = safety.lethality_min([0, 100, 100.001, 330], [73, 73, 74, 74], reference_c=70, z_c=7.5)
    limit = {**MINUTES, "critical_limit__required_min": whole * 0.999, **counted}
    assert found(limit, trace=trace).status == expected


def test_leaving_out_the_rest_cuts_the_trace_at_the_end_of_the_program() -> None:
    trace = [run("centre", (0, 76), (200, 76), (400, 76))]
    before_210_s = safety.lethality_min([0, 210], [74, 74], reference_c=70, z_c=7.5)
    limit = {**MINUTES, "critical_limit__count_rest": False}
    assert found({**limit, "critical_limit__required_min": before_210_s}, trace=trace).status == "safe_to_taste"
    assert found({**limit, "critical_limit__required_min": before_210_s * 1.001}, trace=trace).status == "not_safe"


def test_a_place_that_never_reaches_the_limit_has_no_minutes_without_its_come_up() -> None:
    limit = {**MINUTES, "critical_limit__count_come_up": False, "critical_limit__required_min": 0.001}
    assert found(limit, trace=[run("centre", (0, 75), (300, 75))]).status == "not_safe"


def test_a_trace_without_a_hold_or_minutes_in_the_limit_decides_nothing() -> None:
    assert found({}, trace=[run("centre", (0, 4), (210, 60))]).status == "safe_to_taste"
