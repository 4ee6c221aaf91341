from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.example import brief, changed, program
from tests.proof.plan_cooking import FULL, LIGHT, STANDARD, cook_for, entries, fixed, state
from tuner.domain import PlanSetting
from tuner.proof.plan_cooks import PlanEntry

KINDS = [LIGHT, STANDARD, FULL]


def number_of(plan, part: str, **wanted: Any) -> int:
    return next(s.number for s in plan.slots if s.part == part and all(getattr(s, k) == v for k, v in wanted.items()))


def with_cook(given: list[PlanEntry], number: int, **changes: Any) -> list[PlanEntry]:
    return [replace(e, cook=e.cook.model_copy(update=changes)) if e.slot == number else e for e in given]


@pytest.mark.parametrize(
    "kind, claim",
    [
        (LIGHT, "checked on 8 cooks"),
        (STANDARD, "proven: 95 % sure that >= 90 % comply at the worst corner"),
        (FULL, "proven: 95 % sure that >= 95 % comply at the worst corner"),
    ],
    ids=["light", "standard", "full"],
)
def test_a_whole_plan_well_cooked_passes_and_says_what_the_card_may_say(kind, claim) -> None:
    wanted, plan = brief(**kind), fixed(kind)
    found = state(wanted, plan, entries(wanted, plan))
    assert [(part.name, part.why) for part in found.parts if part.state != "passed"] == []
    assert (found.state, found.claim, found.questions) == ("passed", claim, ())
    assert found.done == plan.cooks
    assert all(figure.method for figure in found.figures)


@pytest.mark.parametrize("kind", KINDS, ids=["light", "standard", "full"])
def test_one_cook_short_of_the_plan_says_nothing_reassuring(kind) -> None:
    wanted, plan = brief(**kind), fixed(kind)
    for missing in (1, plan.cooks // 2, plan.cooks):
        found = state(wanted, plan, [entry for entry in entries(wanted, plan) if entry.slot != missing])
        assert found.state == "to cook"
        assert found.claim == "nothing yet: the proof is not complete"
        part = plan.slot(missing).part
        assert found.part(part).state == "to cook"
        assert not [figure for figure in found.figures if part in figure.name]


def test_without_the_simple_rule_nothing_passes() -> None:
    wanted, plan = brief(), fixed()
    assert state(wanted, plan, entries(wanted, plan), met=False).state == "to cook"
    assert state(wanted, plan, entries(wanted, plan), open_questions=["The brief changed."]).state == "to cook"


@pytest.mark.parametrize("kind", [STANDARD, FULL], ids=["standard", "full"])
@pytest.mark.parametrize("part", ["map", "stress", "worst corner", "over ovens"])
def test_one_cook_below_the_limit_fails_the_plan_at_once_and_cannot_be_left_out(kind, part) -> None:
    wanted, plan = brief(**kind), fixed(kind)
    number = number_of(plan, part)
    given = entries(wanted, plan, lambda slot: -0.1 if slot.number == number else 5.0)
    early = [entry for entry in given if entry.slot <= number]
    for entered in (given, early):
        found = state(wanted, plan, entered)
        assert (found.state, found.claim, found.failures) == ("failed", "nothing: the proof failed", (number,))
        left_out = [replace(entry, left_out="unlucky") if entry.slot == number else entry for entry in entered]
        assert state(wanted, plan, left_out).failures == (number,)


def test_a_correction_that_lifts_a_cook_needs_a_second_person() -> None:
    wanted, plan = brief(), fixed()
    given = entries(wanted, plan)
    low = cook_for(wanted, plan, plan.slots[10], -8.0)
    lifted = [replace(entry, earlier=(low,)) if entry.slot == 11 else entry for entry in given]
    assert state(wanted, plan, lifted).failures == (11,)
    agreed = [replace(entry, agreed=True) if entry.slot == 11 else entry for entry in lifted]
    assert state(wanted, plan, agreed).state == "passed"
    # Marking it as interrupted afterwards does not help either.
    marked = [
        replace(e, cook=e.cook.model_copy(update={"completed": False}), earlier=(low,)) if e.slot == 11 else e for e in given
    ]
    assert state(wanted, plan, marked).failures == (11,)


def test_spread_at_the_worst_corner_decides_not_only_that_none_is_below() -> None:
    wanted, plan = brief(), fixed()
    rng = np.random.default_rng(1)
    wide = entries(wanted, plan, lambda slot: abs(1.0 + float(rng.normal(0, 0.7))) if slot.part == "worst corner" else 5.0)
    found = state(wanted, plan, wide)
    assert found.failures == ()
    assert found.part("worst corner").state == "failed"
    [figure] = [figure for figure in found.figures if figure.name == "lower limit at the worst corner"]
    values = [cook.y for cook in found.cooks if cook.slot.part == "worst corner"]
    assert figure.value == pytest.approx(np.mean(values) - 2.566 * np.std(values, ddof=1), abs=0.005)


def test_a_second_attempt_uses_the_stricter_factor() -> None:
    wanted = brief()
    first, second = fixed(), fixed(attempt=2, cause="thermostat of oven A replaced")
    rng = np.random.default_rng(2)
    offsets = {slot.number: 2.7 + float(rng.normal(0, 1.0)) for slot in first.slots}

    def limit(plan) -> float:
        found = state(wanted, plan, entries(wanted, plan, lambda slot: max(0.05, offsets[slot.number])))
        return next(figure.value for figure in found.figures if figure.name == "lower limit at the worst corner")

    assert limit(second) < limit(first)
    assert second.confidence == pytest.approx(0.975)


def test_values_that_are_not_normal_ask_for_cooks_without_a_distribution() -> None:
    wanted, plan = brief(), fixed()
    worst = [slot.number for slot in plan.slots if slot.part == "worst corner"]
    heaped = {number: 9.0 if place % 7 == 0 else 2.0 + 0.01 * place for place, number in enumerate(worst)}

    def margin(slot):
        return heaped.get(slot.number, 4.0 + 0.02 * (slot.number % 5))

    given = entries(wanted, plan, margin)
    part = state(wanted, plan, given).part("worst corner")
    assert (part.state, part.needed, part.done) == ("to cook", 59, 15)
    whole = entries(wanted, plan, margin, contingent=True)
    found = state(wanted, plan, whole)
    assert (found.part("worst corner").state, found.state) == ("passed", "passed")
    assert any("distribution-free" in figure.method for figure in found.figures)
    one_low = [
        replace(e, cook=cook_for(wanted, plan, plan.slot(e.slot), -1)) if e.slot == plan.slots[-1].number else e for e in whole
    ]
    assert state(wanted, plan, one_low).state == "failed"


def test_ovens_that_differ_widely_fail_although_none_is_below() -> None:
    wanted, plan = brief(), fixed()
    level = dict(zip("ABCDEF", (0.5, 2.0, 3.5, 5.0, 6.5, 4.0), strict=True))
    found = state(wanted, plan, entries(wanted, plan, lambda slot: level[slot.oven] if slot.part == "over ovens" else 5.0))
    assert found.failures == ()
    assert found.part("over ovens").state == "failed"


@pytest.mark.parametrize(
    "part, changes",
    [
        ("worst corner", {"purpose": "search"}),
        ("worst corner", {"completed": False}),
        ("worst corner", {"mass_g": 180.0}),
        ("worst corner", {"start_temperature_c": 4.0}),
        ("worst corner", {"load": 1}),
        ("worst corner", {"seconds_since_last_cook": 900.0}),
        ("worst corner", {"oven_serial": "B"}),
        ("over ovens", {"mass_g": 190.0}),
        ("over ovens", {"start_temperature_c": 1.0}),
        ("over ovens", {"program_set": program(duration_s=240)}),
    ],
)
def test_a_cook_off_its_conditions_fills_nothing_and_keeps_the_plan_open_until_a_second_person_agrees(part, changes) -> None:
    wanted, plan = brief(), fixed()
    number = number_of(plan, part)
    off = with_cook(entries(wanted, plan), number, **changes)
    found = state(wanted, plan, off)
    assert found.state == "to cook"
    assert [cook.standing for cook in found.cooks if cook.slot.number == number] == ["off its conditions"]
    assert len(found.questions) == 1
    again = [replace(entry, left_out="agreed") if entry.slot == number else entry for entry in off]
    again += [entry for entry in entries(wanted, plan) if entry.slot == number]
    assert state(wanted, plan, again).state == "passed"


def test_what_was_cooked_before_the_plan_was_fixed_never_counts() -> None:
    wanted, plan = brief(), fixed()
    early = [replace(entry, too_early=True) for entry in entries(wanted, plan)]
    found = state(wanted, plan, early)
    assert (found.done, found.state) == (0, "to cook")


@pytest.mark.parametrize(
    "changes",
    [
        {"thermometer_checked_at": None},
        {"rest_s": None},
        {"mass_g": None},
        {"start_temperature_c": None},
        {"core_temperature_c": (80.0, 81.0)},
        {"mass_out_g": None},
    ],
)
def test_a_cook_with_something_missing_waits(changes) -> None:
    wanted, plan = brief(), fixed()
    number = number_of(plan, "over ovens")
    found = state(wanted, plan, with_cook(entries(wanted, plan), number, **changes))
    assert [cook.standing for cook in found.cooks if cook.slot.number == number] == ["waiting"]
    assert found.state == "to cook"


def test_days_ovens_people_and_lots_must_really_differ() -> None:
    wanted, plan = brief(), fixed()
    given = entries(wanted, plan)
    same_day = [replace(e, cook=e.cook.model_copy(update={"cooked_at": given[0].cook.cooked_at})) for e in given]
    assert "another date" in " ".join(state(wanted, plan, same_day).questions)
    one_person = [replace(e, cook=e.cook.model_copy(update={"cook": "P"})) for e in given]
    assert state(wanted, plan, one_person).part("spread").state == "to cook"
    unnamed = fixed(setting=PlanSetting(greatest_load=2))
    cooked = entries(wanted, unnamed)
    assert state(wanted, unnamed, cooked).state == "passed"
    twice = [replace(e, cook=e.cook.model_copy(update={"oven_serial": "X"})) for e in cooked]
    assert "already" in " ".join(state(wanted, unnamed, twice).questions)


def test_quality_fails_on_one_extreme_mark_a_window_left_and_waits_for_tasters() -> None:
    wanted, plan = brief(), fixed()
    number = number_of(plan, "over ovens", scored=True)
    given = entries(wanted, plan)
    scores = next(entry for entry in given if entry.slot == number).cook.scores
    harsh = (scores[0].model_copy(update={"texture": 5.0}), *scores[1:])
    assert state(wanted, plan, with_cook(given, number, scores=harsh)).part("quality").state == "failed"
    assert state(wanted, plan, with_cook(given, number, scores=scores[:3])).part("quality").state == "to cook"
    hot = with_cook(given, number, core_temperature_c=(90.0, 91.0, 92.0))
    assert state(wanted, plan, hot).part("quality").state == "failed"
    pale = [
        replace(
            e,
            cook=e.cook.model_copy(
                update={"scores": tuple(s.model_copy(update={"browning": 2.5 - (e.slot % 2) / 2}) for s in e.cook.scores or ())}
            ),
        )
        for e in given
    ]
    assert state(wanted, plan, pale).part("quality").state == "failed"


def test_a_full_plan_asks_for_a_capable_cook_loss() -> None:
    wanted, plan = brief(), fixed()
    wide = [
        replace(e, cook=e.cook.model_copy(update={"mass_out_g": e.cook.mass_g * (0.83 + 0.02 * (e.slot % 7))}))
        for e in entries(wanted, plan)
    ]
    part = state(wanted, plan, wide).part("quality")
    assert part.state == "failed"
    assert "Ppk" in part.why[0]


def test_the_maps_name_the_coldest_places_and_the_coldest_is_read_from_then_on() -> None:
    wanted, plan = brief(), fixed()
    places = tuple(f"spot {i}" for i in range(9))

    def named(later: tuple[str, ...] | None) -> list[PlanEntry]:
        return [
            replace(e, cook=e.cook.model_copy(update={"probe_places": places if plan.slot(e.slot).part == "map" else later}))
            for e in entries(wanted, plan)
        ]

    found = state(wanted, plan, named(("rim", "spot 0", "spot 5")))
    assert found.coldest_places == ("spot 0", "spot 1", "spot 2")
    assert found.state == "passed"
    for later in (("rim", "spot 4", "spot 5"), None):
        found = state(wanted, plan, named(later))
        assert found.state == "to cook"
        assert {cook.standing for cook in found.cooks if cook.slot.part != "map"} == {"waiting"}
    assert "spot 0 is the coldest place" in found.part("stress").why[1]


def test_a_limit_in_equivalent_minutes_is_judged_by_the_trace() -> None:
    limit = {"core_temperature_c": 70, "z_c": 7.5, "reference_c": 70, "required_min": 2, "rule": "table", "approved_by": "Q"}
    kind = {**STANDARD, "critical_limit": {**limit, "rest_s": 120}, "cook_before_eating": None}
    wanted = brief(**{**STANDARD, "critical_limit": {**limit, "rest_s": 120}})
    plan = fixed({**STANDARD, "critical_limit": {**limit, "rest_s": 120}})
    assert kind["food_class"] == "reheated"
    given = entries(wanted, plan, lambda slot: 8.0)
    found = state(wanted, plan, given)
    assert found.state == "to cook"
    trace = [{"place": place, "time_s": [0, 60, 200, 400], "temperature_c": [5, 50, 80, 80]} for place in range(1, 10)]
    traced = []
    for entry in given:
        document = changed(entry.cook.model_dump(mode="json", exclude_none=True), trace=trace, held_s=200)
        traced.append(replace(entry, cook=type(entry.cook).model_validate(document)))
    found = state(wanted, plan, traced)
    ys = {round(cook.y, 3) for cook in found.cooks}
    assert len(ys) == 1
    # At least 200 s at 80 °C less guard 2: 10^((78 - 70) / 7.5) x 200 / 60 minutes against 2.
    assert ys.pop() >= np.log10(10 ** (8 / 7.5) * 200 / 60 / 2) - 0.01


@settings(deadline=None, max_examples=25)
@given(st.data())
def test_no_subset_of_cooks_passes_a_plan(data) -> None:
    wanted, plan = brief(**STANDARD), fixed(STANDARD)
    given = entries(wanted, plan)
    kept = data.draw(st.lists(st.sampled_from(given), unique_by=lambda entry: entry.slot, max_size=len(given)))
    found = state(wanted, plan, kept)
    assert (found.state == "passed") == (len(kept) == len(given))


@settings(deadline=None, max_examples=25)
@given(st.data())
def test_a_failure_never_disappears(data) -> None:
    wanted, plan = brief(**STANDARD), fixed(STANDARD)
    low = data.draw(st.sets(st.integers(1, plan.cooks), min_size=1, max_size=4))
    given = entries(wanted, plan, lambda slot: -1.0 if slot.number in low else 5.0)
    for number in low:
        if data.draw(st.booleans()):
            given = [replace(e, left_out="agreed by two") if e.slot == number else e for e in given]
    found = state(wanted, plan, given)
    assert set(found.failures) == low
    assert found.state == "failed"
