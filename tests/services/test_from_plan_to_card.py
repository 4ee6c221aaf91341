"""The whole way with the proof room's own plan: fixed, cooked, evaluated, released, printed, packed for an auditor."""

from __future__ import annotations

import io
import zipfile

import pytest

from tests.exchange.cards import pages
from tests.services.invented import ANN, Clock, program
from tests.services.proof_kitchen import cook_all, cook_slot, developed, fixed
from tests.services.releases import QUINN, cheap, password, picture, recipe, record, signed, window, with_people
from tuner.domain import NotAllowed
from tuner.services import Workspace, record_proof_result
from tuner.services.cards import issue_card
from tuner.services.evidence import evidence_pack
from tuner.services.recipes import save_recipe
from tuner.services.releasing import (
    begin_proving,
    draft_release,
    mark_proven,
    propose_candidate,
    release_checklist,
    seal_release,
)


def test_a_standard_plan_becomes_a_release_with_its_card_and_evidence(space: Workspace, clock: Clock):
    kitchen = cheap(space)
    with_people(kitchen)
    view = developed(kitchen, clock)
    save_recipe(kitchen, ANN, development_id=view.id, recipe=recipe(), photo=picture())
    version = draft_release(kitchen, ANN, development_id=view.id, program=program())
    propose_candidate(kitchen, ANN, release_id=version.id)
    with pytest.raises(NotAllowed, match="No proof plan"):
        begin_proving(kitchen, ANN, release_id=version.id)
    proof = fixed(kitchen, view)
    begin_proving(kitchen, ANN, release_id=version.id)
    mark_proven(kitchen, ANN, release_id=version.id)
    record(kitchen, view.id, "operating_window", window(program=program().model_dump(mode="json")), "window")
    assert release_checklist(kitchen, ANN, release_id=version.id) == (
        "There is no proof of this program. Fix a plan, cook it, and evaluate it.",
    )
    cook_all(kitchen, proof, clock)
    record_proof_result(kitchen, ANN, plan_id=proof.id)
    assert release_checklist(kitchen, ANN, release_id=version.id) == ()
    release = signed(kitchen, seal_release(kitchen, ANN, release_id=version.id))
    assert release.state == "released"
    [card] = pages(issue_card(kitchen, ANN, release_id=release.id).data)
    assert "proven: 95 % sure that >= 90 % comply at the worst corner" in " ".join(card.split())
    with zipfile.ZipFile(io.BytesIO(evidence_pack(kitchen, QUINN, release_id=release.id))) as archive:
        text = " ".join(" ".join(pages(archive.read("evidence.pdf"))).split())
    assert "28 cooks, 0 of them failed" in text
    assert proof.plan_hash in text.replace(" ", "")
    assert password("Quinn") not in text


def test_a_plan_with_a_cook_below_the_limit_is_no_release(space: Workspace, clock: Clock):
    kitchen = cheap(space)
    with_people(kitchen)
    view = developed(kitchen, clock)
    save_recipe(kitchen, ANN, development_id=view.id, recipe=recipe(), photo=picture())
    version = draft_release(kitchen, ANN, development_id=view.id, program=program())
    proof = fixed(kitchen, view)
    for step in (propose_candidate, begin_proving, mark_proven):
        step(kitchen, ANN, release_id=version.id)
    record(kitchen, view.id, "operating_window", window(program=program().model_dump(mode="json")), "window")
    cook_slot(kitchen, proof, proof.next_slots[0], clock, y=-3.0, scores=None)
    record_proof_result(kitchen, ANN, plan_id=proof.id)
    with pytest.raises(NotAllowed, match="The proof did not pass"):
        seal_release(kitchen, ANN, release_id=version.id)
