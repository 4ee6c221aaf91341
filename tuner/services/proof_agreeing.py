"""What takes a second person in a proof: leaving a cook out, and a correction that lifts one above the limit."""

from __future__ import annotations

from typing import Any

from tuner.domain import NotAllowed, NotFound
from tuner.services.actor import Actor
from tuner.services.limit_rules import same_person
from tuner.services.proof_reading import CORRECTION_AGREED, LEAVE_OUT, LEAVE_OUT_AGREED, KeptProof, read_proof
from tuner.services.proof_views import ProofView
from tuner.services.texts import checked_reason, given_or_made_id
from tuner.services.workspace import Workspace
from tuner.store import KeptCook, RecordEntry


def ask_to_leave_out(
    space: Workspace, who: Actor, *, plan_id: str, cook_id: str, cause: str, client_id: str | None = None
) -> ProofView:
    """Ask that a cook be left out of a plan, with its cause; it stays in until a second person agrees.

    Raises
    ------
    Conflict
        If the id was used before with other content.
    InvalidDocument
        If the cause is missing.
    NotAllowed
        If the cook is a result already: below the limit, outside a window, or scored.
    NotFound
        If there is no such plan or cook, or none this person may see.
    """
    given, made = checked_reason(cause), given_or_made_id(client_id)
    with space.store.unit_of_work(space.context(who)) as work:
        proof = read_proof(work, plan_id)
        kept = proof.cook(cook_id)
        _refuse_to_drop_a_result(proof, kept)
        content: dict[str, Any] = {"cook_id": kept.id, "number": kept.number, "cause": given}
        entry = RecordEntry(LEAVE_OUT, content, made, about=proof.record.id, reason=given)
        work.records.add(proof.loaded.development, entry)
        view = read_proof(work, plan_id).view()
        work.commit()
    return view


def agree_to_leave_out(
    space: Workspace, who: Actor, *, plan_id: str, asked_id: str, reason: str, client_id: str | None = None
) -> ProofView:
    """Agree, as a second person and with a reason of one's own, that a cook is left out; its slot is cooked again.

    Raises
    ------
    Conflict
        If the id was used before with other content.
    InvalidDocument
        If the reason is missing.
    NotAllowed
        If the same person asked or cooked it, or the cook has become a result since.
    NotFound
        If nothing was asked under that id.
    """
    given, made = checked_reason(reason), given_or_made_id(client_id)
    with space.store.unit_of_work(space.context(who)) as work:
        proof = read_proof(work, plan_id)
        asked = next((one for one in proof.leave_outs if one.id == asked_id), None)
        if asked is None:
            raise NotFound(f"Nothing was asked under the id {asked_id!r} in this plan. Check the id.")
        kept = proof.rows_of(asked.number)[-1]
        _refuse_same_person(who, asked.asked_by, "asked for it")
        _refuse_same_person(who, kept.stamp.by, "entered the cook")
        _refuse_same_person(who, kept.cook.cook or "", "cooked it")
        _refuse_to_drop_a_result(proof, kept)
        entry = RecordEntry(LEAVE_OUT_AGREED, {"asked": asked_id, "reason": given}, made, about=proof.record.id, reason=given)
        work.records.add(proof.loaded.development, entry)
        view = read_proof(work, plan_id).view()
        work.commit()
    return view


def agree_to_correction(
    space: Workspace, who: Actor, *, plan_id: str, cook_id: str, reason: str, client_id: str | None = None
) -> ProofView:
    """Agree, as a second person, to a correction that lifts a plan's cook above the limit.

    Raises
    ------
    Conflict
        If the id was used before with other content.
    InvalidDocument
        If the reason is missing.
    NotAllowed
        If the same person made any row of the cook, or cooked it.
    NotFound
        If there is no such plan or cook, or none this person may see.
    """
    given, made = checked_reason(reason), given_or_made_id(client_id)
    with space.store.unit_of_work(space.context(who)) as work:
        proof = read_proof(work, plan_id)
        kept = proof.cook(cook_id)
        for row in proof.rows_of(kept.number):
            _refuse_same_person(who, row.stamp.by, "entered it")
            _refuse_same_person(who, row.cook.cook or "", "cooked it")
        content: dict[str, Any] = {"cook_id": kept.id, "number": kept.number, "reason": given}
        work.records.add(
            proof.loaded.development, RecordEntry(CORRECTION_AGREED, content, made, about=proof.record.id, reason=given)
        )
        view = read_proof(work, plan_id).view()
        work.commit()
    return view


def _refuse_same_person(who: Actor, other: str, did: str) -> None:
    if same_person(who.name, other):
        raise NotAllowed(f"{who.name} {did}. This takes a second person. Ask somebody else to agree.")


def _refuse_to_drop_a_result(proof: KeptProof, kept: KeptCook) -> None:
    standing = next((one for one in proof.state.cooks if one.entry.number == kept.number), None)
    if standing is None:
        raise NotFound(f"Cook {kept.number} has no slot of this plan. Only a plan's own cooks are left out of it.")
    if standing.standing in {"below", "outside"}:
        raise NotAllowed(
            f"Cook {kept.number} is a result: {' '.join(standing.why)} A result is never left out. Find the cause, and start a "
            "further attempt."
        )
    if kept.cook.scores:
        raise NotAllowed(f"Cook {kept.number} has scores. A cook is left out before its scores are known, or not at all.")
