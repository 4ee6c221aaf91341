"""What a version rests on, read in one state: development, recipe, proof, operating window, top-up, parent, developers."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from pydantic import ValidationError

from tuner.domain import Brief, Program
from tuner.domain.recipe import Recipe
from tuner.domain.release import OperatingWindow, RevisionClass
from tuner.services.limit_rules import same_person
from tuner.services.loading import Loaded
from tuner.services.recipes import KIND as RECIPE
from tuner.services.recipes import RecipeView, current_recipe, read_recipe
from tuner.services.release_reading import PLAN, PROOF, TOP_UP, WINDOW, ReleaseView, versions_of
from tuner.services.revising import CLASSES, Findings, findings_between
from tuner.store import KeptRecord, Reading, UnitOfWork


@dataclass(frozen=True, slots=True)
class Material:
    """Everything a version is judged by and sealed from, read in one state."""

    loaded: Loaded
    version: ReleaseView
    parent: ReleaseView | None
    recipe: RecipeView | None
    proof: KeptRecord | None
    window: KeptRecord | None
    top_up: KeptRecord | None
    plan: KeptRecord | None
    developers: tuple[str, ...]
    findings: Findings | None
    recipe_proven: Recipe | None

    @property
    def rests_on_parent(self) -> bool:
        """Whether the parent's proof still holds for this version: nothing but words changed, or little."""
        return self.proof is None and self.revision_kind in ("text", "minor")

    @property
    def revision_kind(self) -> RevisionClass | None:
        """Class of the revision: as found, or stricter where somebody said so; None without a parent."""
        if self.findings is None:
            return None
        said = self.version.revision_kind or "text"
        return max(said, self.findings.kind, key=CLASSES.index)


def material_of(reading: Reading | UnitOfWork, loaded: Loaded, version: ReleaseView) -> Material:
    """Read what a version rests on."""
    development_id = version.development_id
    recipe = current_recipe(reading, development_id, loaded.brief)
    versions = versions_of(reading, development_id)
    parent = next((one for one in versions if one.number == version.parent_number), None)
    findings = None
    if parent is not None and parent.document is not None and recipe is not None:
        findings = findings_between(parent.document, loaded.brief, recipe.recipe, version.program, loaded.oven)
    proof = _newest_for(reading, development_id, PROOF, version.program)
    return Material(
        loaded=loaded,
        version=version,
        parent=parent,
        recipe=recipe,
        proof=proof,
        window=_newest_for(reading, development_id, WINDOW, version.program),
        top_up=_newest_for(reading, development_id, TOP_UP, version.program, field="for_program"),
        plan=_newest_for(reading, development_id, PLAN, version.program, may_miss=True),
        developers=developers_of(reading, loaded),
        findings=findings,
        recipe_proven=None if proof is None else _recipe_before(reading, development_id, proof),
    )


def _recipe_before(reading: Reading | UnitOfWork, development_id: str, proof: KeptRecord) -> Recipe | None:
    """The recipe as it stood when the plan of a proof was fixed; where the plan is not known, when its result was written."""
    plans = reading.records.of_development(development_id, PLAN)
    plan = next((row for row in plans if row.id == proof.content.get("plan_id")), proof)
    rows = reading.records.of_development(development_id, RECIPE)
    before = [row for row in rows if row.stamp.sequence < plan.stamp.sequence]
    return read_recipe(before[-1]) if before else None


def developers_of(reading: Reading | UnitOfWork, loaded: Loaded) -> tuple[str, ...]:
    """Who developed a recipe: whoever started it, wrote its brief (more than its limit), its recipe, or made it a candidate."""
    names = [loaded.development.stamp.by]
    before: Brief | None = None
    for kept in loaded.briefs:
        if before is None or _beyond_limit(before) != _beyond_limit(kept.brief):
            names.append(kept.stamp.by)
        before = kept.brief
    for row in reading.records.of_development(loaded.development.id):
        if row.kind in ("recipe", "release"):
            names.append(row.stamp.by)
    found: list[str] = []
    for name in names:
        if not any(same_person(name, other) for other in found):
            found.append(name)
    return tuple(found)


def _beyond_limit(brief: Brief) -> dict[str, Any]:
    return brief.model_dump(mode="json", exclude={"critical_limit"})


def _newest_for(
    reading: Reading | UnitOfWork,
    development_id: str,
    kind: str,
    program: Program,
    *,
    field: str = "program",
    may_miss: bool = False,
) -> KeptRecord | None:
    rows = reading.records.of_development(development_id, kind, current_only=True)
    fitting = [row for row in rows if _is_for(row.content, field, program, may_miss)]
    return fitting[-1] if fitting else None


def _is_for(content: Mapping[str, Any], field: str, program: Program, may_miss: bool) -> bool:
    if content.get(field) is None:
        return may_miss
    try:
        return Program.model_validate(content[field]).key == program.key
    except ValidationError:
        return False


def read_window(row: KeptRecord) -> OperatingWindow:
    """The operating window of a record; what else it holds is left out."""
    known = {name: value for name, value in row.content.items() if name in OperatingWindow.model_fields}
    return OperatingWindow.model_validate(known)
