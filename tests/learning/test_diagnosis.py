"""Cause before cure: faults of known cause, rules as data, levers, and what the development's own cooks say of them."""

import numpy as np
import pytest

import tuner
from tests.learning import cases, faults
from tuner.domain import ATTRIBUTES, InvalidDocument
from tuner.learning import Diagnosis, diagnose, learn
from tuner.learning.goals import goals_of
from tuner.learning.lever_moves import Move, moved
from tuner.learning.observations import observe
from tuner.learning.shares_of_blame import blame_of
from tuner.learning.signs import signs_of
from tuner.learning.suspects import facts_of
from tuner.learning.trade_table import MEASURED_SIGNS, SEEN_SIGNS, TOLD_SIGNS, TRADE_TABLE, matching

LEAST_RIGHT = 0.85


@pytest.fixture(scope="module")
def forty():
    return [(name, case, diagnose(case.where.brief, case.where.oven, case.cooks)) for name, case in faults.cases()]


def test_forty_seeded_faults_get_their_cause_first(forty):
    wrong = [
        f"{name}: {found.causes[0].cause if found.causes else 'nothing'}"
        for name, case, found in forty
        if not found.causes or found.causes[0].cause != case.cause
    ]
    assert len(forty) == 40
    assert len(forty) - len(wrong) >= LEAST_RIGHT * len(forty), wrong


def test_not_the_program_is_an_answer_and_chance_says_repeat(forty):
    firsts = {found.causes[0].cause for _, _, found in forty if found.causes}
    assert {"program", "start_temperature", "portion_mass", "reading", "oven", "lot", "panel", "chance"} <= firsts
    for _, _, found in forty:
        assert found.repeat_first == bool(found.causes and found.causes[0].cause == "chance")


def test_shares_add_up_and_fall(forty):
    for _, _, found in forty:
        shares = [cause.share for cause in found.causes]
        assert shares == sorted(shares, reverse=True)
        assert sum(shares) == pytest.approx(1.0, abs=0.2) if shares else not found.symptoms


def test_it_survives_json(forty):
    for _, _, found in forty[:5]:
        assert Diagnosis.model_validate_json(found.model_dump_json()) == found


def test_steps_add_up_to_what_was_measured_less_what_was_ordered(forty):
    _, case, _ = forty[0]
    brief, oven, cooks = case.where.brief, case.where.oven, case.cooks
    base = learn(brief, oven, cooks[:-1])
    blame = blame_of(base, cooks[-1:], observe(brief, oven, cooks[-1:], base.view.noise), facts_of(brief, oven, cooks))
    seen = np.isfinite(blame.measured)
    assert sum(blame.steps.values())[seen] == pytest.approx((blame.measured - blame.ordered)[seen], abs=1e-8)


def test_nothing_is_wrong_with_a_cook_in_the_middle():
    found = diagnose(cases.brief(), cases.oven(), [cases.cook(cases.program())] * 4)
    assert found.symptoms == ()
    assert found.causes == ()
    assert not found.repeat_first


def test_one_cook_alone_can_be_diagnosed():
    found = diagnose(cases.brief(), cases.oven(), [cases.cook(cases.program(), core=60, marks=(1.5, 3, 3))])
    assert found.symptoms[0].words == "core too cold"
    assert found.causes[0].cause == "program"
    assert found.remedies[0].rule == 2
    assert found.remedies[0].effects == ()


def test_missing_parts_and_interruptions_are_told():
    steady = [cases.cook(cases.program())] * 5
    broken = diagnose(cases.brief(), cases.oven(), [*steady, cases.cook(cases.program(), core=50, completed=False)])
    assert broken.causes[0].cause == "interruption"
    bare = cases.cook(cases.program(), core=72, marks=None, loss=None, start_temperature_c=None)
    found = diagnose(cases.brief(), cases.oven(), [*steady, bare])
    said = {cause.cause: cause for cause in found.causes}
    assert any("not written down" in text for text in said["start_temperature"].evidence_for)


def test_no_cook_and_unknown_signs_are_refused_in_words():
    with pytest.raises(InvalidDocument, match="no cook with a program"):
        diagnose(cases.brief(), cases.oven(), [])
    with pytest.raises(InvalidDocument, match="Only known signs can be ticked"):
        diagnose(cases.brief(), cases.oven(), [cases.cook(cases.program())], seen=("purple",))


def test_what_people_see_finds_its_rule():
    for sign in SEEN_SIGNS:
        assert any(sign in rule.signs for rule in TRADE_TABLE), sign
    found = diagnose(cases.brief(), cases.oven(), [cases.cook(cases.program(), marks=(2, 3, 3))], seen=("wet beads",))
    assert found.remedies[0].rule == 5


def test_rules_use_known_signs_and_the_special_one_comes_first():
    known = {*MEASURED_SIGNS, *TOLD_SIGNS, *SEEN_SIGNS}
    assert all(rule.signs <= known for rule in TRADE_TABLE)
    assert len({rule.number for rule in TRADE_TABLE}) == len(TRADE_TABLE)
    assert set(range(1, 47)) <= {rule.number for rule in TRADE_TABLE}
    assert [rule.number for rule in matching(frozenset({"core low", "pale"}))] == [2]
    assert matching(frozenset()) == ()


@pytest.mark.parametrize(
    ("marks", "core", "sign"),
    [
        ((1.5, 3, 3), 80, "pale"),
        ((4.5, 3, 3), 80, "dark"),
        ((3, 1.5, 3), 80, "soft"),
        ((3, 3, 1.5), 80, "dry"),
        ((3, 3, 3), 60, "core low"),
    ],
)
def test_signs_are_read_off_a_cook(marks, core, sign):
    brief, oven = cases.brief(), cases.oven()
    found = signs_of(brief, oven, goals_of(brief), cases.cook(cases.program(), core=core, marks=marks), ())
    assert sign in found


@pytest.mark.parametrize("lever", ["early_dose", "late_to_early", "duration_dose_kept", "late_seconds", "dose", "peak"])
def test_levers_keep_or_change_the_dose_as_they_say(lever):
    old = cases.program(250, 200, [(40, 30, 60), (60, 90, 20)])
    new = moved(old, [Move(lever, -10, -10)])

    def dose(program):
        return sum(program.duration_s * s.share_pct / 100 * s.microwave_pct for s in program.stages)

    wanted = 0.9 if lever in {"dose", "early_dose"} else 1.0
    assert dose(new) == pytest.approx(wanted * dose(old), rel=1e-6)
    assert sum(stage.share_pct for stage in new.stages) == pytest.approx(100)
    assert all(0 <= stage.microwave_pct <= 100 for stage in new.stages)


def test_own_effects_are_differences_of_forecasts_once_there_are_eight_cooks(forty):
    shown = [(case, remedy) for _, case, found in forty for remedy in found.remedies if remedy.effects]
    assert shown
    for case, remedy in shown[:4]:
        last = case.cooks[-1].done_program
        old, new = tuner.forecast(case.where.brief, case.where.oven, case.cooks, [last, remedy.program])
        for effect in remedy.effects:
            assert effect.attribute in ATTRIBUTES
            difference = new.attributes[effect.attribute].mean - old.attributes[effect.attribute].mean
            assert effect.change == pytest.approx(difference, abs=1e-9)
            assert effect.low <= effect.change <= effect.high


def test_rules_that_pull_both_ways_are_named():
    cook = cases.cook(cases.program(), core=80, marks=(3, 3, 1.5))
    found = diagnose(cases.brief(), cases.oven(), [cook], seen=("dry outside", "dark rim"))
    assert any("both ways" in text for text in found.conflicts)
