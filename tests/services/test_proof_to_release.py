"""A proof cooked to its end and an operating window carry a release; a failed or open one does not."""

from __future__ import annotations

from datetime import timedelta

import pytest

from tests.services.invented import ANN, oven, program
from tests.services.proof_kitchen import cook_all, cook_slot, developed, fixed, slot_cook
from tests.services.releases import cheap, signed, with_people, written
from tuner.domain import NotAllowed, PlanSetting
from tuner.services import (
    edit_oven,
    keep_operating_window,
    list_ovens,
    log_cook,
    plan_robustness,
    preview_plan,
    record_proof_result,
)
from tuner.services.releasing import begin_proving, draft_release, mark_proven, propose_candidate, seal_release


def with_window(space, view, clock):
    plan = plan_robustness(
        space, ANN, development_id=view.id, program=program(), setting=PlanSetting(ovens=("A", "B"), greatest_load=2)
    )
    at = clock.now
    clock.now = at - timedelta(days=1)
    for run in plan.runs:
        log_cook(space, ANN, development_id=view.id, cook=slot_cook(run, clock, purpose="search", scores=None))
    clock.now = at
    return keep_operating_window(space, ANN, plan_id=plan.id)


def candidate(space, view):
    version = draft_release(space, ANN, development_id=view.id, program=program())
    propose_candidate(space, ANN, release_id=version.id)
    return begin_proving(space, ANN, release_id=version.id)


def test_from_the_plans_first_cook_to_a_signed_release(space, clock):
    space = cheap(space)
    with_people(space)
    view = developed(space, clock)
    [kept] = list_ovens(space, ANN)
    edit_oven(space, ANN, oven_id=kept.id, oven=oven(serial="A", checks=[{"watts_w": 980.0}]))
    with_window(space, view, clock)
    written(space, view.id)
    proof = cook_all(space, fixed(space, view), clock)
    version = candidate(space, view)
    mark_proven(space, ANN, release_id=version.id)
    with pytest.raises(NotAllowed, match="no proof"):
        seal_release(space, ANN, release_id=version.id)
    record_proof_result(space, ANN, plan_id=proof.id)
    with space.store.read(None) as reading:
        assert reading.records.newest(view.id, "proof_result").content["lowest_oven_w"] == 980
    release = signed(space, seal_release(space, ANN, release_id=version.id))
    assert release.state == "released"


def test_a_failed_proof_carries_no_release(space, clock):
    space = cheap(space)
    with_people(space)
    view = developed(space, clock)
    with_window(space, view, clock)
    written(space, view.id)
    proof = fixed(space, view)
    version = candidate(space, view)
    elsewhere = next(slot for slot in proof.next_slots if slot.oven == "B")
    cook_slot(space, proof, elsewhere, clock, y=-2.0)
    record_proof_result(space, ANN, plan_id=proof.id)
    mark_proven(space, ANN, release_id=version.id)  # the simple rule alone, on the development's own oven
    with pytest.raises(NotAllowed, match="did not pass"):
        seal_release(space, ANN, release_id=version.id)


def test_the_worst_corner_comes_from_the_robustness_cooks_and_the_card_allows_nothing_harder(space, clock):
    view = developed(space, clock)
    window = with_window(space, view, clock).found.window
    assert (window.start_c[0], window.mass_g[1], window.load) == (1, 189, 2)
    shown = preview_plan(space, ANN, development_id=view.id, program=program(), setting=PlanSetting(ovens=("A",)))
    worst = next(slot for slot in shown.plan.slots if slot.part == "worst corner")
    assert (worst.start_temperature_c, worst.mass_g, worst.load) == (1, 189, 2)
    easier = PlanSetting(ovens=("A", "B", "C"), coldest_c=3, heaviest_g=185, greatest_load=1)
    proof = fixed(space, view, setting=easier)
    [question] = proof.state.questions
    assert "colder and heavier and more at once" in question
