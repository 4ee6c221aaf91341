"""The result of a proof plan, kept as it was found: cooks, figures with their methods, and what the card may say."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

from tuner.domain import Brief, NotAllowed
from tuner.services.actor import Actor
from tuner.services.proof_reading import RESULT, KeptProof, read_proof
from tuner.services.proof_views import ProofView
from tuner.services.texts import given_or_made_id
from tuner.services.workspace import Workspace
from tuner.store import KeptOven, RecordEntry


def record_proof_result(space: Workspace, who: Actor, *, plan_id: str, client_id: str | None = None) -> ProofView:
    """Record how a plan ended: passed or failed, or what is done of it for a restricted release (map and worst corner).

    Raises
    ------
    Conflict
        If the id was used before with another result.
    NotAllowed
        If neither the plan nor its map and worst corner are done.
    NotFound
        If there is no such plan, or none this person may see.
    """
    made = given_or_made_id(client_id)
    with space.store.unit_of_work(space.context(who)) as work:
        proof = read_proof(work, plan_id)
        if not any(one.stamp.client_id == made for one in proof.of(RESULT)):
            content = result_content(proof, work.ovens.all())
            if not content["complete"] and not content["map_and_worst_corner"]:
                raise NotAllowed(
                    f"The plan is not done: {proof.state.done} of {proof.plan.cooks} cooks. A result is recorded when it has "
                    "passed or failed, or when its map and worst corner have passed. Cook on."
                )
            work.records.add(proof.loaded.development, RecordEntry(RESULT, content, made, about=proof.record.id))
        view = read_proof(work, plan_id).view()
        work.commit()
    return view


def result_content(proof: KeptProof, ovens: Sequence[KeptOven] = ()) -> dict[str, Any]:
    """A plan's state as it is kept with its result: everything an auditor asks for; `ovens` are those known to the house."""
    from tuner.proof.plan_cooks import y_unit

    state, plan, unit = proof.state, proof.plan, y_unit(proof.brief)
    corner = [part for part in (state.part("map"), state.part("worst corner")) if part is not None]
    return {
        "attempt": plan.attempt,
        "cause": plan.cause,
        "plan_hash": plan.hash,
        "plan_id": proof.record.id,
        "strength": plan.strength,
        "complete": state.state != "to cook",
        "passed": state.state == "passed",
        "claim": state.claim,
        "program": plan.program.model_dump(mode="json"),
        "brief_version": plan.brief_version,
        "map_and_worst_corner": len(corner) == 2 and all(part.state == "passed" for part in corner) and not state.failures,
        "limit": _limit(proof.brief),
        "parts": [
            {"name": part.name, "state": part.state, "needed": part.needed, "done": part.done, "why": list(part.why)}
            for part in state.parts
        ],
        "statistics": [
            {
                "name": figure.name,
                "method": figure.method,
                "value": figure.value if math.isfinite(figure.value) else None,
                "unit": figure.unit,
                "needed": figure.needed,
                "passed": figure.passed,
                "n": figure.cooks,
            }
            for figure in state.figures
        ],
        "cooks": [
            {
                "cook_id": cook.entry.cook_id,
                "number": cook.entry.number,
                "slot": cook.slot.number,
                "part": cook.slot.part,
                "y": cook.y,
                "y_unit": unit,
                "y_c": cook.y if unit == "K" else None,
                "standing": cook.standing,
                "passed": cook.standing == "in",
                "excluded": cook.entry.left_out,
                "why": list(cook.why),
            }
            for cook in state.cooks
        ],
        "ovens": sorted({cook.oven for cook in state.cooks if cook.fills}),
        "lowest_oven_w": _lowest_watts(proof, ovens),
        "coldest_places": list(state.coldest_places),
        "notes": [*plan.remarks, *state.questions],
        "data_hash": proof.data_hash,
    }


def _limit(brief: Brief) -> dict[str, Any]:
    from tuner.safety import effective_limit

    limit = effective_limit(brief)
    return {
        "none": limit.none,
        "core_temperature_c": limit.core_temperature_c,
        "guard_c": limit.guard_c,
        "hold_s": limit.hold_s,
        "rest_s": limit.rest_s,
        "rule": limit.rule,
        "edition": limit.edition,
        "approved_by": limit.approved_by,
    }


def _lowest_watts(proof: KeptProof, ovens: Sequence[KeptOven]) -> float | None:
    """Least power of an oven that the plan was cooked on [W]: mean of its last three checks; None where none was checked."""
    cooked_on = {cook.oven for cook in proof.state.cooks if cook.fills}
    found = []
    for kept in ovens:
        if (kept.oven.serial or kept.oven.name) in cooked_on:
            watts = [check.watts_w for check in kept.oven.checks or () if check.watts_w is not None][-3:]
            found += [sum(watts) / len(watts)] if watts else []
    return min(found) if found else None
