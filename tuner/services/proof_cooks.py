"""Cooks of a proof plan: logged into their slot, or given to it afterwards. Each counts once, and none is replaced."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from tuner.domain import NotAllowed, TestCook
from tuner.services.actor import Actor
from tuner.services.cooks import write_cook
from tuner.services.loading import refuse_unless_open
from tuner.services.proof_reading import COOK, KeptProof, read_proof, refuse_unknown_slot
from tuner.services.proof_views import ProofView
from tuner.services.texts import given_or_made_id
from tuner.services.workspace import Workspace
from tuner.store import KeptCook, RecordEntry, UnitOfWork


def cook_plan_slot(
    space: Workspace,
    who: Actor,
    *,
    plan_id: str,
    slot: int,
    cook: TestCook,
    may_taste: Mapping[str, bool] | None = None,
    client_id: str | None = None,
) -> ProofView:
    """Log a cook and give it to a slot of the plan, together.

    Raises
    ------
    Conflict
        If the id was used before with another cook.
    InvalidDocument
        If the plan has no such slot.
    NeedsConfirmation
        If values are unlikely and not confirmed.
    NotAllowed
        If its purpose is not proof, the slot is taken, or logging is refused.
    NotFound
        If there is no such plan, or none this person may see.
    """
    made = given_or_made_id(client_id or cook.client_id)
    with space.store.unit_of_work(space.context(who)) as work:
        proof = read_proof(work, plan_id)
        _refuse_other_purpose(cook)
        kept = write_cook(work, proof.loaded, cook, may_taste, made)
        _give(work, proof, slot, kept, made)
        view = read_proof(work, plan_id).view()
        work.commit()
    return view


def give_cook(
    space: Workspace, who: Actor, *, plan_id: str, slot: int, cook_id: str, client_id: str | None = None
) -> ProofView:
    """Give a cook that was logged for the proof to a slot of the plan.

    Raises
    ------
    Conflict
        If the id was used before with another cook.
    InvalidDocument
        If the plan has no such slot.
    NotAllowed
        If it was not cooked for the proof, has a slot already, or the slot is taken.
    NotFound
        If there is no such plan or cook, or none this person may see.
    """
    made = given_or_made_id(client_id)
    with space.store.unit_of_work(space.context(who)) as work:
        proof = read_proof(work, plan_id)
        kept = proof.cook(cook_id)
        for row in proof.rows_of(kept.number):
            _refuse_other_purpose(row.cook)
        _give(work, proof, slot, kept, made)
        view = read_proof(work, plan_id).view()
        work.commit()
    return view


def _refuse_other_purpose(cook: TestCook) -> None:
    if cook.purpose != "proof":
        raise NotAllowed(
            f"purpose is {cook.purpose!r}. Only a cook meant for the proof from the start counts in a plan, a search cook "
            "never. Cook the slot, with purpose 'proof'."
        )


def _give(work: UnitOfWork, proof: KeptProof, slot: int, kept: KeptCook, client_id: str) -> None:
    content: dict[str, Any] = {"slot": slot, "number": kept.number, "cook_id": kept.id, "plan_hash": proof.plan.hash}
    same = [one for one in proof.of(COOK) if one.stamp.client_id == client_id]
    if not same:
        refuse_unknown_slot(proof.plan, slot)
        refuse_unless_open(proof.loaded.development)
        taken = next((one for one in proof.state.cooks if one.slot.number == slot and _holds(one.standing)), None)
        if taken is not None:
            raise NotAllowed(
                f"Slot {slot} holds cook {taken.entry.number}. Nothing is cooked again in its place, unless a second person "
                "has agreed to leave it out. Take the next slot."
            )
        if any(one.content["number"] == kept.number for one in proof.records_of_all_plans()):
            raise NotAllowed(f"Cook {kept.number} has a slot already. A cook counts once.")
    work.records.add(proof.loaded.development, RecordEntry(COOK, content, client_id, about=proof.record.id))


def _holds(standing: str) -> bool:
    """Whether a cook with this standing keeps its slot from others."""
    return standing in {"in", "below", "outside", "waiting", "off its conditions"}
