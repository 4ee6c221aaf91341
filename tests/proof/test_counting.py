from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.example import DROP, PROGRAM, brief, changed, cook, oven, program
from tuner import proof
from tuner.domain import TestCook


def counts(
    brief_changes: dict[str, Any] | None = None, oven_changes: dict[str, Any] | None = None, **cook_changes: Any
) -> bool:
    return proof.counts(brief(**(brief_changes or {})), oven(**(oven_changes or {})), cook(**cook_changes))


def test_a_cook_of_the_briefs_portion_on_the_oven_counts() -> None:
    assert counts()


@pytest.mark.parametrize(
    "changes",
    [
        {"purpose": "benchmark"},
        {"purpose": "benchmark", "program": None},
        {"completed": False},
        {"oven_serial": "B-2"},
        {"mass_g": 198.1},
        {"mass_g": 161.9, "mass_out_g": 150},
        {"start_temperature_c": 9.1},
        {"start_temperature_c": -1.1},
    ],
)
def test_what_does_not_count(changes: dict[str, Any]) -> None:
    assert not counts(**changes)


@pytest.mark.parametrize(
    "changes",
    [
        {"completed": DROP},
        {"mass_g": 198},
        {"mass_g": 162, "mass_out_g": 150},
        {"start_temperature_c": 9},
        {"start_temperature_c": -1},
        {"mass_g": DROP},
        {"start_temperature_c": DROP},
        {"purpose": "proof"},
        {"purpose": "site_check"},
    ],
)
def test_what_still_counts(changes: dict[str, Any]) -> None:
    assert counts(**changes)


def test_the_serial_number_must_be_the_ovens() -> None:
    assert counts(oven_changes={"serial": "B-2"}, oven_serial="B-2")
    assert counts(oven_changes={"serial": "B-2"})
    assert not counts(oven_changes={"serial": "B-3"}, oven_serial="B-2")


def test_the_portions_own_tolerance_replaces_the_usual_one_part_by_part() -> None:
    narrow = {"portion__tolerance": {"mass_pct": 1}}
    assert not counts(narrow)
    assert counts(narrow, mass_g=181.8, start_temperature_c=9)
    wide = {"portion__tolerance": {"start_temperature_c": 20}}
    assert counts(wide, start_temperature_c=24)
    assert not counts(wide, mass_g=199)


COOKS = {
    "pass": cook(),
    "fail": cook(core_temperature_c=[70, 71, 72]),
    "pending": cook(scores=DROP),
    "not counting": cook(mass_g=250, core_temperature_c=[60, 60, 60]),
    "other program": cook(program=changed(PROGRAM, duration_s=240)),
    "keyed in otherwise": cook(program_set=changed(PROGRAM, duration_s=240)),
}


def tally(names: Sequence[str], **brief_changes: Any) -> proof.Tally:
    return proof.tally(brief(**brief_changes), oven(), [COOKS[name] for name in names], program())


def test_one_passing_cook_and_then_the_confirmations_are_needed() -> None:
    assert tally(["pass"] * 3) == proof.Tally(3, 4, False, 0, 0, 2)
    assert not tally(["pass"] * 3).met
    assert tally(["pass"] * 4).met
    assert tally(["pass"] * 2, confirmation_cooks=1).met


def test_a_failing_cook_ends_the_run() -> None:
    found = tally(["pass", "pass", "pass", "fail", "pass"])
    assert (found.passing, found.failed_since, found.failing) == (1, False, 1)
    assert tally(["pass", "pass", "fail"]).failed_since
    assert not tally(["pass"] * 4 + ["fail"]).met


def test_a_pending_cook_neither_ends_nor_lengthens_the_run() -> None:
    found = tally(["pass", "pending", "pass", "pass"])
    assert (found.passing, found.pending, found.met) == (3, 1, False)
    assert tally(["pass", "pending", "pass", "pass", "pass"]).met


def test_what_does_not_count_or_is_of_another_program_changes_nothing() -> None:
    plain = tally(["pass", "pass"])
    for name in ("not counting", "other program", "keyed in otherwise"):
        assert tally(["pass", name, "pass"]) == plain


def test_a_cook_keyed_in_otherwise_is_a_cook_of_what_was_keyed_in() -> None:
    other = program(duration_s=240)
    assert proof.tally(brief(), oven(), [COOKS["keyed in otherwise"], COOKS["other program"]], other).passing == 2


def test_a_cook_that_does_not_show_its_portion_may_fail_but_not_pass() -> None:
    unweighed: list[TestCook] = [cook(start_temperature_c=DROP)]
    assert proof.tally(brief(), oven(), unweighed, program()).pending == 1
    failing = [*[cook()] * 4, cook(start_temperature_c=DROP, core_temperature_c=[60, 60, 60])]
    assert not proof.tally(brief(), oven(), failing, program()).met


@settings(deadline=None, max_examples=200)
@given(st.lists(st.sampled_from(sorted(COOKS)), max_size=15))
def test_the_rule_is_met_exactly_when_the_last_counting_results_say_so(names: list[str]) -> None:
    results = [name for name in names if name in {"pass", "fail"}]
    run = 0
    while run < len(results) and results[-1 - run] == "pass":
        run += 1
    found = tally(names)
    assert found.passing == run
    assert found.met == (run >= 4)
    assert found.failed_since == bool(results and results[-1] == "fail")
