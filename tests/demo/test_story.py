"""The demo says what its story claims."""

import re
from datetime import datetime

import pytest

import tuner
from tuner.domain import Brief, Oven, TestCook
from tuner.domain.plausibility import questions_about_brief, questions_about_cook
from tuner.learning import RELIABLE_AT

TASTED = ("texture", "moisture")


def tasted(cook):
    return any(getattr(score, name) is not None for score in cook.scores or () for name in TASTED)


def verdict(development, cook):
    return tuner.safety.verdict(development.brief, cook).status


def test_three_developments_on_two_ovens_with_about_forty_cooks(document, developments):
    assert document["invented"] is True
    assert len(document["ovens"]) == 2
    assert len(developments) == len(document["developments"]) == 3
    assert {development.oven.name for development in developments.values()} == {oven["name"] for oven in document["ovens"]}
    assert 36 <= sum(len(development.cooks) for development in developments.values()) <= 44


def test_every_document_is_legal_and_written_back_unchanged(document):
    for oven in document["ovens"]:
        assert Oven.model_validate(oven).model_dump(mode="json", exclude_unset=True) == oven
    for entry in document["developments"]:
        brief = Brief.model_validate(entry["brief"])
        assert brief.model_dump(mode="json", exclude_unset=True) == entry["brief"]
        assert "invented" in brief.customer
        for row in entry["cooks"]:
            assert TestCook.model_validate(row["cook"]).model_dump(mode="json", exclude_unset=True) == row["cook"]


def test_nothing_unlikely_is_left_unconfirmed(developments):
    for development in developments.values():
        assert not questions_about_brief(development.brief)
        for row in development.rows:
            cook = TestCook.model_validate(row["cook"])
            assert not questions_about_cook(cook, development.brief, development.oven)


def test_nobody_tasted_a_cook_that_was_not_safe(developments):
    unsafe = [
        cook
        for development in developments.values()
        for cook in development.cooks
        if verdict(development, cook) != "safe_to_taste"
    ]
    assert len(unsafe) >= 3
    assert not any(tasted(cook) for cook in unsafe)


def test_the_cutlet_has_a_cook_below_the_limit_that_nobody_may_taste(cutlet):
    assert any(verdict(cutlet, cook) == "not_safe" and not tasted(cook) for cook in cutlet.cooks)


def test_the_cutlet_is_proven_by_the_simple_rule_and_by_the_model(cutlet):
    assessment = tuner.assess(cutlet.brief, cutlet.oven, cutlet.cooks)
    tally = tuner.proof.tally(cutlet.brief, cutlet.oven, cutlet.cooks, assessment.best_program)
    assert assessment.status == "proven"
    assert assessment.chance_reliable >= RELIABLE_AT
    assert tally.passing >= tally.needed
    assert assessment.confirmations.passed >= cutlet.brief.confirmation_cooks


def test_a_candidate_of_the_cutlet_failed_in_confirmation_and_was_dropped(cutlet):
    best = tuner.assess(cutlet.brief, cutlet.oven, cutlet.cooks).best_program
    confirmed = [cook for cook in cutlet.cooks if cook.purpose == "confirm" and cook.done_program != best]
    assert any(tuner.proof.judge(cutlet.brief, cook).result == "fail" for cook in confirmed)


def test_the_kofta_is_on_its_way_and_the_next_proposal_says_why(kofta):
    assert tuner.assess(kofta.brief, kofta.oven, kofta.cooks).status in {"candidate", "confirming"}
    (proposal,) = tuner.propose(kofta.brief, kofta.oven, kofta.cooks)
    assert len(proposal.reasons) >= 2
    assert kofta.oven.duration_s.holds(proposal.program.duration_s)
    assert proposal.forecast.chance_safe >= 0.9


def test_the_egg_squares_are_stalled_and_the_cause_is_named(egg_squares):
    assert egg_squares.brief.portion.thickness_mm == 40
    assert egg_squares.brief.targets.duration_s.high == 60
    assert tuner.feasibility(egg_squares.brief, egg_squares.oven).possible != "yes"
    assessment = tuner.assess(egg_squares.brief, egg_squares.oven, egg_squares.cooks)
    assert assessment.status == "stalled"
    assert re.search("core", " ".join(assessment.advice))
    assert all(verdict(egg_squares, cook) == "not_safe" for cook in egg_squares.cooks)


FLAWS = {
    "a benchmark": lambda row, cook, brief: cook.purpose == "benchmark",
    "a cook that was not weighed": lambda row, cook, brief: cook.mass_out_g is None and cook.completed,
    "a safe cook that nobody scored": lambda row, cook, brief: cook.completed and cook.readings_c and not cook.scores,
    "an interrupted cook": lambda row, cook, brief: cook.completed is False and cook.interrupted_by,
    "a late entry": lambda row, cook, brief: (datetime.fromisoformat(row["logged_at"]) - cook.cooked_at).total_seconds() > 3600,
    "a reading asked about and answered": lambda row, cook, brief: "°F" in (cook.note or ""),
    "an unusual taster": lambda row, cook, brief: any(score.taster == "E" for score in cook.scores or ()),
    "another lot": lambda row, cook, brief: bool(cook.lot),
    "a heavier portion": lambda row, cook, brief: cook.mass_g > 1.1 * brief.portion.mass_g,
    "a missing thermometer check": lambda row, cook, brief: cook.thermometer_checked_at is None,
    "a program keyed in otherwise": lambda row, cook, brief: cook.program_set not in (None, cook.program),
    "a correction": lambda row, cook, brief: "corrects" in row and row["reason"],
}


@pytest.mark.parametrize("flaw", FLAWS)
def test_the_demo_has_the_flaws_of_real_logs(developments, flaw):
    assert any(
        FLAWS[flaw](row, TestCook.model_validate(row["cook"]), development.brief)
        for development in developments.values()
        for row in development.rows
    )


def test_one_cook_was_sent_twice_with_the_same_content(developments):
    ids = [row["cook"]["client_id"] for development in developments.values() for row in development.rows]
    twice = {identity for identity in ids if ids.count(identity) == 2}
    assert len(twice) == 1
    contents = [
        row["cook"] for development in developments.values() for row in development.rows if row["cook"]["client_id"] in twice
    ]
    assert contents[0] == contents[1]


def test_the_heavier_portion_does_not_count(cutlet):
    heavy = [cook for cook in cutlet.cooks if cook.mass_g > 1.1 * cutlet.brief.portion.mass_g]
    assert heavy
    assert not any(tuner.proof.counts(cutlet.brief, cutlet.oven, cook) for cook in heavy)


def test_a_cook_without_a_thermometer_check_is_unknown_however_hot_it_was(cutlet):
    unchecked = [cook for cook in cutlet.cooks if cook.thermometer_checked_at is None]
    assert [verdict(cutlet, cook) for cook in unchecked] == ["unknown"]
    assert min(unchecked[0].readings_c) >= 76


def test_cooks_stand_in_the_order_of_cooking(developments):
    for development in developments.values():
        times = [cook.cooked_at for cook in development.cooks]
        assert times == sorted(times)
