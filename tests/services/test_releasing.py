"""Releases: what each step asks for, who signs, what stays as it was."""

from __future__ import annotations

import json
from typing import Any

import pytest

from tests.services.invented import ANN, BEN, Clock, brief, cook, oven, program, started
from tests.services.releases import (
    CARL,
    PROVED,
    QUINN,
    ROOT,
    at_proven,
    cheap,
    confirmed,
    password,
    proof_result,
    proved,
    record,
    released,
    signed,
    with_people,
    written,
)
from tuner.domain import Conflict, InvalidDocument, NotAllowed, NotFound, Program
from tuner.services import Actor, Workspace, edit_brief, edit_oven, log_cook
from tuner.services.people import add_account
from tuner.services.release_files import check_file, export_release
from tuner.services.release_signing import sign_release
from tuner.services.releasing import (
    begin_proving,
    draft_release,
    list_releases,
    mark_proven,
    propose_candidate,
    release_checklist,
    return_release,
    seal_release,
    view_release,
    withdraw_release,
)


@pytest.fixture
def people(space: Workspace) -> Workspace:
    quick = cheap(space)
    with_people(quick)
    return quick


def sign(space: Workspace, who: Actor, release_id: str, role: str, **given: str) -> Any:
    secret = given.get("password", password(who.name))
    return sign_release(space, who, release_id=release_id, role=role, password=secret)  # type: ignore[arg-type]


class TestTheWay:
    def test_a_release_goes_through_every_state(self, people: Workspace):
        view = released(people)
        assert [change.state for change in view.changes] == ["draft", "candidate", "proving", "proven", "released"]
        assert (view.number, view.in_force, view.waits_for) == (1, True, ())
        document = view.document
        assert document is not None
        assert (document.dish, document.developers, document.must_sign) == (
            "Herb chicken strip",
            ("Ann",),
            ("developer", "food-safety approver"),
        )
        assert document.limit.approved_by == "Quinn"
        assert document.audit_head.sequence > 10
        assert document.proof.content["claim"].startswith("proven: 95 %")

    def test_no_step_is_skipped(self, people: Workspace):
        dev = started(people)
        written(people, dev.id)
        confirmed(people, dev)
        version = draft_release(people, ANN, development_id=dev.id, program=PROVED)
        for step in (begin_proving, mark_proven, seal_release):
            with pytest.raises(NotAllowed, match="is draft and can't become"):
                step(people, ANN, release_id=version.id)
        with pytest.raises(NotAllowed, match="not sealed"):
            sign(people, ANN, version.id, "developer")

    def test_a_candidate_needs_recipe_and_a_passing_cook(self, people: Workspace):
        dev = started(people)
        version = draft_release(people, ANN, development_id=dev.id, program=PROVED)
        with pytest.raises(NotAllowed, match="only a program") as refused:
            propose_candidate(people, ANN, release_id=version.id)
        assert "No cook of this program" in str(refused.value)
        written(people, dev.id, ingredients=[{"name": "glaze", "amount_g": 3}])
        with pytest.raises(NotAllowed, match="allergens of glaze"):
            propose_candidate(people, ANN, release_id=version.id)

    def test_a_program_off_the_ovens_steps_is_no_candidate(self, people: Workspace):
        dev = started(people)
        written(people, dev.id)
        version = draft_release(people, ANN, development_id=dev.id, program=program(air_temperature_c=252, duration_s=305))
        gaps = release_checklist(people, ANN, release_id=version.id)
        assert "air temperature 252 is no step of the oven." in gaps
        assert "305 s lies outside the brief's duration." in gaps

    def test_proving_needs_a_fixed_plan_and_proven_the_simple_rule(self, people: Workspace):
        dev = started(people)
        written(people, dev.id)
        confirmed(people, dev, count=3)
        version = draft_release(people, ANN, development_id=dev.id, program=PROVED)
        propose_candidate(people, ANN, release_id=version.id)
        with pytest.raises(NotAllowed, match="No proof plan is fixed"):
            begin_proving(people, ANN, release_id=version.id)
        record(people, dev.id, "proof_plan", {"program": PROVED.model_dump(mode="json")}, "plan")
        begin_proving(people, ANN, release_id=version.id)
        with pytest.raises(NotAllowed, match="3 passing cooks in a row, and 4 are needed"):
            mark_proven(people, ANN, release_id=version.id)

    def test_one_version_goes_on_at_a_time(self, people: Workspace):
        version = at_proven(people)
        with pytest.raises(Conflict, match="Version 1 is proven"):
            draft_release(people, ANN, development_id=version.development_id, program=PROVED)

    def test_the_same_draft_sent_twice_is_one_version(self, people: Workspace):
        dev = started(people)
        given = {"development_id": dev.id, "client_id": "draft"}
        one = draft_release(people, ANN, program=PROVED, **given)  # type: ignore[arg-type]
        assert draft_release(people, ANN, program=PROVED, **given).id == one.id  # type: ignore[arg-type]
        with pytest.raises(Conflict):
            draft_release(people, ANN, program=program(duration_s=200), **given)  # type: ignore[arg-type]

    def test_another_customers_release_is_not_found(self, people: Workspace):
        version = at_proven(people)
        stranger = Actor("Nils", customer="North")
        with pytest.raises(NotFound):
            view_release(people, stranger, release_id=version.id)
        with pytest.raises(NotFound):
            list_releases(people, stranger, development_id=version.development_id)


PROOFS: dict[str, tuple[dict[str, Any], str]] = {
    "not complete": ({"complete": False}, "not complete"),
    "did not pass": ({"passed": False}, "did not pass"),
    "passed is a word": ({"passed": "yes"}, "did not pass"),
    "too weak for raw poultry": ({"strength": "standard"}, "needs full"),
    "unknown strength": ({"strength": "huge"}, "needs full"),
    "a cook from elsewhere": ({"cooks": [{"cook_id": "x", "number": 9}]}, "none of this development"),
    "another program": ({"program": {**PROVED.model_dump(mode="json"), "duration_s": 215}}, "no proof of this program"),
}


class TestTheProof:
    @pytest.mark.parametrize(("change", "said"), PROOFS.values(), ids=PROOFS)
    def test_a_proof_that_does_not_carry_the_release_is_told(self, people: Workspace, change: dict[str, Any], said: str):
        version = at_proven(people)
        kept = record_of(people, version.development_id)
        record(people, version.development_id, "proof_result", {**kept[1], **change}, "again", corrects=kept[0], reason="again")
        with pytest.raises(NotAllowed, match=said):
            seal_release(people, ANN, release_id=version.id)

    def test_without_proof_or_window_nothing_is_sealed(self, people: Workspace):
        dev = started(people)
        written(people, dev.id)
        ids = confirmed(people, dev)
        record(people, dev.id, "proof_plan", {}, "plan")
        version = draft_release(people, ANN, development_id=dev.id, program=PROVED)
        for step in (propose_candidate, begin_proving, mark_proven):
            step(people, ANN, release_id=version.id)
        with pytest.raises(NotAllowed, match="no proof of this program"):
            seal_release(people, ANN, release_id=version.id)
        record(people, dev.id, "proof_result", proof_result(ids), "result")
        with pytest.raises(NotAllowed, match="no operating window"):
            seal_release(people, ANN, release_id=version.id)

    def test_a_cook_below_the_limit_after_the_proof_stops_it(self, people: Workspace):
        version = at_proven(people)
        cold = cook(core_temperature_c=[70, 77, 79], scores=[{"taster": "A", "browning": 3}], cooked_at="2026-03-02T10:40:00Z")
        log_cook(people, ANN, development_id=version.development_id, cook=cold, client_id="cold")
        with pytest.raises(NotAllowed, match="below the limit after the proof"):
            seal_release(people, ANN, release_id=version.id)

    def test_a_brief_changed_after_the_proof_stops_it(self, people: Workspace):
        version = at_proven(people)
        thicker = brief().model_dump(exclude_unset=True)
        thicker["portion"]["thickness_mm"] = 35
        edit_brief(people, ANN, development_id=version.development_id, brief=type(brief()).model_validate(thicker))
        with pytest.raises(NotAllowed, match="brief changed after the proof"):
            seal_release(people, ANN, release_id=version.id)

    def test_a_recipe_that_became_another_dish_after_the_proof_stops_it(self, people: Workspace):
        version = at_proven(people)
        written(people, version.development_id, after=["Slice."])
        assert release_checklist(people, ANN, release_id=version.id) == ()
        written(people, version.development_id, trayware="steel tray")
        with pytest.raises(NotAllowed, match="trayware: changed after the proof plan was fixed"):
            seal_release(people, ANN, release_id=version.id)

    def test_a_recipe_written_after_the_proof_stops_it(self, people: Workspace):
        dev = started(people)
        proved(people, dev.id, confirmed(people, dev))
        written(people, dev.id)
        version = draft_release(people, ANN, development_id=dev.id, program=PROVED)
        assert (
            "The recipe was written after the proof plan was fixed" in release_checklist(people, ANN, release_id=version.id)[0]
        )

    def test_a_limit_nobody_approved_stops_it(self, people: Workspace):
        version = at_proven(people)
        edit_brief(people, ANN, development_id=version.development_id, brief=brief(critical_limit=None))
        with pytest.raises(NotAllowed, match="not approved by a named person"):
            seal_release(people, ANN, release_id=version.id)


def record_of(space: Workspace, development_id: str) -> tuple[str, dict[str, Any]]:
    with space.store.read(None) as reading:
        kept = reading.records.newest(development_id, "proof_result")
    assert kept is not None
    return kept.id, dict(kept.content)


class TestSigning:
    def test_the_developers_own_approval_is_refused(self, people: Workspace):
        add_account(
            people,
            ROOT,
            name="Dev Two",
            password=password("Dev Two"),
            roles=["developer", "food-safety approver"],
            own_password=password("Root"),
        )
        version = at_proven(people)
        sealed = seal_release(people, Actor("Dev Two"), release_id=version.id)
        with pytest.raises(NotAllowed, match="did not develop this recipe"):
            sign(people, Actor("Dev Two"), sealed.id, "developer")
        with pytest.raises(NotAllowed, match="has not got the role"):
            sign(people, ANN, sealed.id, "food-safety approver")

    def test_whoever_wrote_the_recipe_can_not_approve_it(self, people: Workspace):
        version = at_proven(people)
        changed = {"after": ["Slice."]}
        from tests.services.releases import picture, recipe
        from tuner.services.recipes import save_recipe

        save_recipe(people, QUINN, development_id=version.development_id, recipe=recipe(**changed), photo=picture())
        with pytest.raises(NotAllowed, match="Nobody but its developers has an account as food-safety approver"):
            seal_release(people, ANN, release_id=version.id)

    def test_working_alone_it_ends_at_proven(self, space: Workspace):
        alone = cheap(space)
        roles = ["developer", "food-safety approver"]
        add_account(alone, ANN, name="Ann", password=password("Ann"), roles=roles)  # type: ignore[arg-type]
        version = at_proven(alone)
        assert version.state == "proven"
        with pytest.raises(NotAllowed, match="Working alone, a development ends at proven"):
            seal_release(alone, ANN, release_id=version.id)

    def test_without_any_account_it_ends_at_proven(self, space: Workspace):
        version = at_proven(space)
        with pytest.raises(NotAllowed, match="No developer of this recipe has an account"):
            seal_release(space, ANN, release_id=version.id)

    @pytest.mark.parametrize("given", ["", "correct horse Quinn", "guess"])
    def test_the_password_is_asked_again(self, people: Workspace, given: str):
        sealed = seal_release(people, ANN, release_id=at_proven(people).id)
        with pytest.raises(NotAllowed, match="password is wrong"):
            sign(people, ANN, sealed.id, "developer", password=given)
        assert view_release(people, ANN, release_id=sealed.id).signed == ()

    def test_one_signature_is_not_enough_and_none_counts_twice(self, people: Workspace):
        sealed = seal_release(people, ANN, release_id=at_proven(people).id)
        once = sign(people, QUINN, sealed.id, "food-safety approver")
        assert (once.state, once.waits_for) == ("proven", ("developer",))
        with pytest.raises(Conflict, match="signed by the food-safety approver already"):
            sign(people, QUINN, sealed.id, "food-safety approver")
        assert sign(people, ANN, sealed.id, "developer").state == "released"

    @pytest.mark.parametrize("role", ["reviewer", "administrator", "site lead"])
    def test_other_roles_sign_nothing(self, people: Workspace, role: str):
        sealed = seal_release(people, ANN, release_id=at_proven(people).id)
        with pytest.raises(NotAllowed, match="does not sign this release"):
            sign(people, ROOT, sealed.id, role)

    def test_a_customers_dish_needs_the_customers_approver(self, space: Workspace):
        quick = cheap(space)
        with_people(quick, customer="Vale")
        sealed = seal_release(quick, ANN, release_id=at_proven(quick, customer="Vale").id)
        assert signed(quick, sealed).state == "proven"
        assert sign(quick, CARL, sealed.id, "customer approver").state == "released"

    def test_a_change_after_sealing_stops_the_next_signature(self, people: Workspace):
        sealed = seal_release(people, ANN, release_id=at_proven(people).id)
        sign(people, ANN, sealed.id, "developer")
        written(people, sealed.development_id, after=["Slice."])
        with pytest.raises(NotAllowed, match="recipe was changed after sealing"):
            sign(people, QUINN, sealed.id, "food-safety approver")

    def test_what_is_sealed_is_not_sealed_again(self, people: Workspace):
        sealed = seal_release(people, ANN, release_id=at_proven(people).id)
        with pytest.raises(Conflict, match="sealed already"):
            seal_release(people, ANN, release_id=sealed.id)

    def test_returned_it_comes_back_as_a_new_version(self, people: Workspace):
        sealed = seal_release(people, ANN, release_id=at_proven(people).id)
        back = return_release(people, QUINN, release_id=sealed.id, reason="photo shows another tray")
        assert (back.state, back.changes[-1].by) == ("returned", "Quinn")
        with pytest.raises(NotAllowed, match="not sealed for signing"):
            sign(people, ANN, sealed.id, "developer")
        assert draft_release(people, ANN, development_id=sealed.development_id, program=PROVED).number == 2


class TestRevision:
    def test_a_text_change_rests_on_the_parents_proof_and_supersedes_it(self, people: Workspace):
        first = released(people)
        written(people, first.development_id, hold_s=600)
        second = draft_release(people, ANN, development_id=first.development_id, program=PROVED, reason="may be held")
        for step in (propose_candidate, begin_proving, mark_proven):
            step(people, ANN, release_id=second.id)
        done = signed(people, seal_release(people, ANN, release_id=second.id))
        document = done.document
        assert document is not None
        assert document.revision is not None
        assert document.parent is not None
        assert (document.revision.kind, document.revision.reason) == ("text", "may be held")
        assert (document.parent.number, document.parent.sha256) == (1, first.sha256)
        states = [one.state for one in list_releases(people, ANN, development_id=first.development_id)]
        assert states == ["superseded", "released"]
        old = view_release(people, ANN, release_id=first.id)
        assert (old.text, old.sha256) == (first.text, first.sha256)

    def test_a_revision_needs_its_reason(self, people: Workspace):
        first = released(people)
        with pytest.raises(InvalidDocument, match="reason"):
            draft_release(people, ANN, development_id=first.development_id, program=PROVED)

    def test_an_ingredient_is_major_and_needs_its_own_proof(self, people: Workspace):
        first = released(people)
        given = [
            {"name": "chicken strip", "amount_g": 1800, "allergens": []},
            {"name": "nut crumb", "amount_g": 120, "allergens": ["nuts"]},
        ]
        written(people, first.development_id, ingredients=given)
        second = draft_release(people, ANN, development_id=first.development_id, program=PROVED, reason="nut crumb")
        for step in (propose_candidate, begin_proving, mark_proven):
            step(people, ANN, release_id=second.id)
        with pytest.raises(NotAllowed, match="needs a proof of its own") as refused:
            seal_release(people, ANN, release_id=second.id)
        assert "recipe, ingredients: changed after the proof plan was fixed" in str(refused.value)
        kept_id, content = record_of(people, first.development_id)
        again = {"corrects": kept_id, "reason": "proven anew"}
        record(people, first.development_id, "proof_result", {**content, "plan_hash": "cd" * 32}, "anew", **again)
        sealed = seal_release(people, ANN, release_id=second.id)
        document = sealed.document
        assert document is not None
        assert document.revision is not None
        assert document.revision.kind == "major"
        assert "worst corner" in document.revision.no_longer_holds

    def test_a_little_more_heat_is_minor_and_needs_three_cooks(self, people: Workspace):
        first = released(people)
        more = Program.model_validate({**PROVED.model_dump(), "duration_s": 215})
        second = draft_release(people, ANN, development_id=first.development_id, program=more, reason="colder lots")
        dev = started_view(people, first.development_id)
        confirmed(people, dev, count=2, program=more, start=10)
        for step in (propose_candidate, begin_proving, mark_proven):
            step(people, ANN, release_id=second.id)
        with pytest.raises(NotAllowed, match="minor change needs 3 passing cooks"):
            seal_release(people, ANN, release_id=second.id)
        confirmed(people, dev, count=1, program=more, start=12)
        sealed = seal_release(people, ANN, release_id=second.id)
        assert sealed.document is not None
        assert sealed.document.revision is not None
        assert sealed.document.revision.kind == "minor"

    def test_less_heat_is_never_minor(self, people: Workspace):
        first = released(people)
        less = Program.model_validate({**PROVED.model_dump(), "duration_s": 205})
        second = draft_release(people, ANN, development_id=first.development_id, program=less, reason="drier", revision="text")
        confirmed(people, started_view(people, first.development_id), count=4, program=less, start=10)
        propose_candidate(people, ANN, release_id=second.id)
        with pytest.raises(NotAllowed, match="No proof plan"):
            begin_proving(people, ANN, release_id=second.id)

    def test_withdrawn_it_is_in_force_no_more_and_files_say_so(self, people: Workspace):
        first = released(people)
        data = export_release(people, ANN, release_id=first.id)
        known = check_file(people, ANN, data=data)
        assert (known.check.whole, known.state, known.in_force, known.check.warnings) == (True, "released", 1, ())
        with pytest.raises(NotAllowed, match="password"):
            withdraw_release(people, QUINN, release_id=first.id, reason="complaint", password="guess")
        gone = withdraw_release(people, QUINN, release_id=first.id, reason="complaint", password=password("Quinn"))
        assert (gone.state, gone.text) == ("withdrawn", first.text)
        assert "is withdrawn. Do not cook" in check_file(people, ANN, data=data).check.warnings[0]


def started_view(space: Workspace, development_id: str) -> Any:
    from tuner.services import view_development

    return view_development(space, ANN, development_id=development_id)


def test_an_unsigned_release_has_no_file(people: Workspace):
    sealed = seal_release(people, ANN, release_id=at_proven(people).id)
    with pytest.raises(NotAllowed, match="waits for developer, food-safety approver"):
        export_release(people, ANN, release_id=sealed.id)


def test_the_release_keeps_its_text_whatever_is_edited_later(people: Workspace):
    first = released(people)
    dev = started_view(people, first.development_id)
    edit_brief(people, BEN, development_id=dev.id, brief=brief(dish="Another name"))
    edit_oven(people, BEN, oven_id=dev.oven_id, oven=oven(name="Other oven"))
    written(people, dev.id, after=["Slice."])
    later = view_release(people, ANN, release_id=first.id)
    assert (later.text, later.sha256, later.signatures) == (first.text, first.sha256, first.signatures)
    assert json.loads(later.text or "")["dish"] == "Herb chicken strip"


def test_kept_proofs_are_told_apart_by_program(people: Workspace, clock: Clock):
    version = at_proven(people)
    clock.forward(minutes=5)
    other = program(duration_s=240)
    proved_content = proof_result([], program=other.model_dump(mode="json"), passed=False)
    record(people, version.development_id, "proof_result", proved_content, "other")
    assert seal_release(people, ANN, release_id=version.id).document is not None
