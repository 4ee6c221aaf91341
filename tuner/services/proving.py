"""Proof plans: previewed, fixed before the first cook, and looked at. Nothing in a fixed plan is changed."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from tuner.domain import FixedPlan, NotAllowed, PlanSetting, Program
from tuner.services.actor import Actor
from tuner.services.loading import Loaded, load, read_development, refuse_unless_open
from tuner.services.proof_reading import PLAN, WINDOW, KeptProof, newest_plan_of, read_proof, window_for
from tuner.services.proof_views import PlanPreview, ProofView
from tuner.services.texts import given_or_made_id
from tuner.services.workspace import Workspace
from tuner.store import KeptRecord, RecordEntry, UnitOfWork

MINUTES_A_COOK = 12.0
"""Oven, thermometer and notes of one proof cook [min] (common practice, no source)."""


def preview_plan(
    space: Workspace, who: Actor, *, development_id: str, program: Program, setting: PlanSetting | None = None
) -> PlanPreview:
    """The plan as it would be fixed, with its error rates and what it takes; nothing is kept.

    Raises
    ------
    InvalidDocument
        If the setting makes no plan.
    NotFound
        If there is no such development, or none this person may see.
    """
    from tuner.proof.fixing import error_rates, fix
    from tuner.proof.winnable import cooks_until_run, perfect_pass_chance

    loaded = load(space, who, development_id)
    with space.store.read(who.customer) as reading:
        window = window_for(reading.records.of_development(development_id, WINDOW), program)
    asked = at_the_windows_corner(setting or PlanSetting(), window)
    plan = fix(loaded.brief, program, asked, brief_version=loaded.development.brief_version)
    floor = cooks_until_run(perfect_pass_chance(loaded.brief), 1 + loaded.brief.confirmation_cooks)
    return PlanPreview(plan, error_rates(plan), plan.cooks * MINUTES_A_COOK / 60.0, floor)


def fix_plan(
    space: Workspace,
    who: Actor,
    *,
    development_id: str,
    program: Program,
    setting: PlanSetting | None = None,
    cause: str | None = None,
    client_id: str | None = None,
) -> ProofView:
    """Fix the proof plan of a program: from now on its cooks count, and nothing in it changes.

    Parameters
    ----------
    setting
        Where and with what it is cooked; a worst corner that it does not name lies at the edges of the program's operating
        window, which comes from the robustness cooks.
    cause
        Documented cause of the failure before, where this program had a plan already, or left a portion below the limit.

    Raises
    ------
    Conflict
        If the id was used before with another plan.
    InvalidDocument
        If the setting makes no plan, or a further attempt has no cause or is one too many.
    NotAllowed
        If the limit is not approved, the program is outside the brief's duration window, left a portion below the limit
        without a cause given, or has a plan that is still open or passed.
    NotFound
        If there is no such development, or none this person may see.
    """
    from tuner.proof.fixing import fix

    made = given_or_made_id(client_id)
    with space.store.unit_of_work(space.context(who)) as work:
        loaded = read_development(work, development_id)
        before = _plans_of(work, loaded, program)
        known = next((record for record in before if record.stamp.client_id == made), None)
        if known is None:
            _refuse_unprovable(loaded, program, cause)
            _refuse_open_plan(newest_plan_of(work, loaded.development, before))
        attempt = 1 + (before.index(known) if known is not None else len(before))
        window = window_for(work.records.of_development(development_id, WINDOW), program)
        asked = at_the_windows_corner(setting or PlanSetting(), window)
        plan = fix(
            loaded.brief,
            program,
            asked,
            attempt=attempt,
            cause=cause,
            brief_version=loaded.development.brief_version,
        )
        content = plan.model_dump(mode="json")
        added = work.records.add(loaded.development, RecordEntry(PLAN, content, made))
        view = read_proof(work, added.id).view()
        work.commit()
    return view


def at_the_windows_corner(setting: PlanSetting, window: Mapping[str, Any] | None) -> PlanSetting:
    """The setting with its worst corner, where it names none, at the edges of the window from the robustness cooks."""
    if window is None:
        return setting
    corner: dict[str, Any] = {}
    if setting.coldest_c is None:
        corner["coldest_c"] = window["start_temperature_c"]["low"]
    if setting.heaviest_g is None:
        corner["heaviest_g"] = window["mass_g"]["high"]
    if "greatest_load" not in setting.model_fields_set:
        corner["greatest_load"] = window["load"]["high"]
    return setting.model_copy(update=corner)


def _plans_of(work: UnitOfWork, loaded: Loaded, program: Program) -> tuple[KeptRecord, ...]:
    """Plans of this program, the first attempt first."""
    plans = work.records.of_development(loaded.development.id, PLAN)
    return tuple(one for one in plans if FixedPlan.model_validate(one.content).program.key == program.key)


def _refuse_unprovable(loaded: Loaded, program: Program, cause: str | None) -> None:
    from tuner.safety import effective_limit

    refuse_unless_open(loaded.development)
    if not effective_limit(loaded.brief).approved:
        raise NotAllowed(
            "critical_limit has no approval. A proof is held against an approved limit. Let the food-safety approver enter the "
            "limit with its rule first."
        )
    window = loaded.brief.targets.duration_s
    if window is not None and not window.holds(program.duration_s):
        raise NotAllowed(
            f"duration_s is {program.duration_s:g} s, outside the brief's window. Such a program is not proven. Change one of "
            "them."
        )
    below = _left_below(loaded, program)
    if below and not (cause and cause.strip()):
        raise NotAllowed(
            f"Cook {below[0]} of this program was below the limit. It is proven only with the documented cause of that. Add "
            "the cause, or change the program."
        )


def _left_below(loaded: Loaded, program: Program) -> list[int]:
    """Cooks of the brief's own portion with this program that did not reach the limit."""
    from tuner.proof import counts
    from tuner.safety import verdict

    return [
        row.number
        for row in loaded.current_rows
        if row.cook.done_program is not None
        and row.cook.done_program.key == program.key
        and counts(loaded.brief, loaded.oven, row.cook)
        and verdict(loaded.brief, row.cook).status == "not_safe"
    ]


def _refuse_open_plan(last: KeptProof | None) -> None:
    """A new attempt follows a failed plan, or one whose brief has changed."""
    from tuner.proof.fixing import brief_hash

    if last is None or last.state.state == "failed" or brief_hash(last.loaded.brief) != last.plan.brief_hash:
        return
    if last.state.state == "passed":
        raise NotAllowed("This program has passed its plan. A passed plan is not cooked again. Record its result.")
    raise NotAllowed(
        f"This program has a plan that is still open ({last.state.done} of {last.plan.cooks} cooks). Cook it to its end; it is "
        "not started over."
    )


def view_proof(space: Workspace, who: Actor, *, plan_id: str) -> ProofView:
    """A plan and how it stands.

    Raises
    ------
    NotFound
        If there is no such plan, or none this person may see.
    """
    with space.store.read(who.customer) as reading:
        return read_proof(reading, plan_id).view()


def list_proofs(space: Workspace, who: Actor, *, development_id: str) -> tuple[ProofView, ...]:
    """All plans of a development in the order they were fixed, failed ones included.

    Raises
    ------
    NotFound
        If there is no such development, or none this person may see.
    """
    with space.store.read(who.customer) as reading:
        reading.developments.one(development_id)
        plans = reading.records.of_development(development_id, PLAN)
        return tuple(read_proof(reading, record.id).view() for record in plans)
