"""What still stands between a version and its release: every gap a sentence, none of them a matter of opinion."""

from __future__ import annotations

from collections.abc import Iterator

from pydantic import ValidationError

from tuner.domain import Program
from tuner.domain.release import Standing
from tuner.services.limit_rules import same_person
from tuner.services.loading import Loaded
from tuner.services.release_material import Material, read_window
from tuner.services.revising import MINOR_COOKS, recipe_major
from tuner.store import KeptRecord

STRENGTHS = ("light", "standard", "full")
_SILENT_IN_PROOF = frozenset(["dish", "customer", "confirmed", "ingredients", "preparation", "budget_cooks", "allergens"])
_NEEDED = ("attempt", "plan_hash", "strength", "complete", "passed", "claim", "program", "statistics", "cooks")


def candidate_gaps(material: Material) -> tuple[str, ...]:
    """What keeps a draft from being a candidate: the recipe, the oven, a passing cook."""
    return tuple(_candidate_gaps(material))


def _candidate_gaps(material: Material) -> Iterator[str]:
    from tuner.proof import tally

    if material.recipe is None:
        yield "There is no recipe, only a program. Write ingredients, preparation, trayware, yield and photo."
    else:
        for missing in material.recipe.missing:
            yield f"The recipe lacks {missing}."
    loaded = material.loaded
    yield from off_steps(loaded, material.version.program)
    done = tally(loaded.brief, loaded.oven, loaded.cooks, material.version.program)
    if done.passing < 1:
        yield "No cook of this program has passed every window since the last failing one. Cook it first."


def off_steps(loaded: Loaded, program: Program) -> Iterator[str]:
    """What of a program can't be keyed into the oven, or lies outside the brief's duration."""
    oven = loaded.oven
    if len(program.stages) > oven.max_stages:
        yield f"The program has {len(program.stages)} stages, and the oven holds {oven.max_stages}."
    settings = [
        ("air temperature", oven.air_temperature_c, program.air_temperature_c),
        ("duration", oven.duration_s, program.duration_s),
    ]
    for stage in program.stages:
        settings += [
            ("air speed", oven.air_speed_pct, stage.air_speed_pct),
            ("microwave", oven.microwave_pct, stage.microwave_pct),
        ]
    yield from (f"{name} {value:g} is no step of the oven." for name, setting, value in settings if not setting.holds(value))
    for stage in program.stages:
        parts = stage.share_pct / oven.share_step_pct
        if abs(parts - round(parts)) > 1e-6:
            yield f"A share of {stage.share_pct:g} % is no step of the oven."
    window = loaded.brief.targets.duration_s
    if window is not None and not window.holds(program.duration_s):
        yield f"{program.duration_s:g} s lies outside the brief's duration."


def release_gaps(material: Material, standing: Standing) -> tuple[str, ...]:
    """What keeps a proven version from being sealed for release, or for restricted release."""
    return (*_candidate_recipe(material), *_limit_gaps(material), *_proof_gaps(material, standing))


def _candidate_recipe(material: Material) -> Iterator[str]:
    if material.recipe is None:
        yield "There is no recipe, only a program."
        return
    for missing in material.recipe.missing:
        yield f"The recipe lacks {missing}."
    yield from off_steps(material.loaded, material.version.program)


def _limit_gaps(material: Material) -> Iterator[str]:
    from tuner.safety import effective_limit

    limit = effective_limit(material.loaded.brief)
    if not limit.approved or limit.approved_by is None:
        yield "The critical limit is not approved by a named person. A food-safety approver enters it with its rule."
    elif any(same_person(limit.approved_by, name) for name in material.developers):
        yield f"The critical limit is approved by {limit.approved_by}, who developed the recipe. Another person approves it."
    if not limit.rule:
        yield "The critical limit names no rule. A release names rule and approver."


def _proof_gaps(material: Material, standing: Standing) -> Iterator[str]:
    if material.rests_on_parent and standing == "released":
        yield from _resting_gaps(material)
        return
    if material.proof is None:
        yield "There is no proof of this program. Fix a plan, cook it, and evaluate it."
        return
    if material.window is None:
        yield "There is no operating window for this program. It comes from the robustness cooks."
    else:
        yield from _window_problem(material.window)
    yield from _evidence_gaps(material, material.proof, standing)


def _window_problem(row: KeptRecord) -> Iterator[str]:
    try:
        read_window(row)
    except ValidationError:
        yield "The operating window can't be read. Evaluate the robustness cooks again."


def _evidence_gaps(material: Material, row: KeptRecord, standing: Standing) -> Iterator[str]:
    from tuner.proof import plan

    content = row.content
    lacking = [name for name in _NEEDED if name not in content]
    if lacking:
        yield f"The proof's result lacks {', '.join(lacking)}."
        return
    if standing == "released":
        if content["complete"] is not True:
            yield "The proof is not complete: cooks of its plan are still to be cooked."
        if content["passed"] is not True:
            yield "The proof did not pass."
    elif content.get("map_and_worst_corner") is not True:
        yield "Map and worst corner of the proof are not done and passed: restricted release needs both."
    wanted = plan(material.loaded.brief).strength
    strength = content["strength"]
    if strength not in STRENGTHS or STRENGTHS.index(strength) < STRENGTHS.index(wanted):
        yield f"The proof has strength {strength}, and this food class needs {wanted}."
    yield from _stale(material, row)


def _stale(material: Material, row: KeptRecord) -> Iterator[str]:
    """What happened after the proof that takes its ground away."""
    loaded = material.loaded
    version = row.content.get("brief_version")
    proven_brief = next((kept.brief for kept in loaded.briefs if kept.number == version), loaded.brief)
    yield from _another_dish(material, row)
    silent = set(_SILENT_IN_PROOF)
    if proven_brief.model_dump(exclude=silent) != loaded.brief.model_dump(exclude=silent):
        yield f"The brief changed after the proof, which was made for version {version}. Prove it again."
    rows = {kept.id: kept for kept in loaded.rows}
    for cook in row.content["cooks"]:
        kept = rows.get(str(cook.get("cook_id")))
        if kept is None:
            yield f"Cook {cook.get('number')} of the proof is none of this development."
        elif kept.superseded:
            yield f"Cook {kept.number} was corrected after the proof was evaluated. Evaluate it again."
    yield from _unsafe_since(material, row.stamp.sequence)


def _another_dish(material: Material, row: KeptRecord) -> Iterator[str]:
    """A recipe that changed after its plan was fixed, and a major change that would rest on its parent's plan."""
    if material.recipe_proven is None:
        yield "The recipe was written after the proof plan was fixed, so it is not known what was proven. Prove it again."
    elif material.recipe is not None:
        for line in recipe_major(material.recipe_proven, material.recipe.recipe):
            yield f"{line} after the proof plan was fixed. Prove it again."
    parent = None if material.parent is None else material.parent.document
    same_plan = parent is not None and row.content["plan_hash"] == parent.proof.content.get("plan_hash")
    if material.revision_kind == "major" and same_plan:
        yield "A major change needs a proof of its own; the one that is there belongs to the version before."


def _unsafe_since(material: Material, sequence: int) -> Iterator[str]:
    from tuner.safety import verdict

    for kept in material.loaded.current_rows:
        done = kept.cook.done_program
        if kept.stamp.sequence <= sequence or done is None or done.key != material.version.program.key:
            continue
        if verdict(material.loaded.brief, kept.cook).status == "not_safe":
            yield f"Cook {kept.number} of this program came out below the limit after the proof. Find the cause, prove again."


def _resting_gaps(material: Material) -> Iterator[str]:
    """A text or minor change rests on the parent's proof; a minor one on three new cooks and the limit besides."""
    from tuner.proof import tally

    parent, findings = material.parent, material.findings
    if parent is None or parent.document is None or findings is None or parent.document.standing != "released":
        yield "There is no released parent whose proof this version could rest on. Prove it."
        return
    if parent.state not in ("released", "superseded"):
        yield f"The parent is {parent.state}; its proof can't be rested on. Prove this version."
    yield from _unsafe_since(material, 0)
    if material.revision_kind == "minor":
        done = tally(material.loaded.brief, material.loaded.oven, material.loaded.cooks, material.version.program)
        if done.passing < MINOR_COOKS:
            yield f"A minor change needs {MINOR_COOKS} passing cooks of the new program in a row; there are {done.passing}."
