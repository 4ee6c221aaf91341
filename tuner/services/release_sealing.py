"""The snapshot of a release, written in canonical form: brief, recipe, program, windows, evidence, versions, audit head."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from tuner.domain import StoreProblem
from tuner.domain.person import Role
from tuner.domain.release import RELEASE_FORMAT, RESTRICTED_FOR, Evidence, LimitStated, ReleaseDocument, Standing
from tuner.services.loading import Loaded
from tuner.services.release_material import Material, read_window
from tuner.services.tool_versions import tool_versions
from tuner.store import KeptRecord


def release_document(
    material: Material, standing: Standing, sites: tuple[str, ...], audit_head: tuple[int, str], now: datetime
) -> str:
    """The exact text that is kept and signed.

    Raises
    ------
    StoreProblem
        If a part is missing that was checked before.
    """
    from tuner.exchange.release_file import canonical_bytes

    loaded, version, recipe = material.loaded, material.version, material.recipe
    if recipe is None:
        raise StoreProblem("The recipe is missing though it was checked. Nothing was sealed. Load the release again.")
    versions = tool_versions()
    document: dict[str, Any] = {
        "format": RELEASE_FORMAT,
        "development_id": version.development_id,
        "number": version.number,
        "standing": standing,
        "dish": loaded.brief.dish,
        "customer": loaded.development.customer,
        "brief": loaded.brief,
        "brief_version": loaded.development.brief_version,
        "recipe": recipe.recipe,
        "recipe_record_id": recipe.record_id,
        "program": version.program,
        "oven": loaded.oven,
        "oven_version": loaded.oven_record.version,
        "limit": _limit(loaded),
        **_evidence(material),
        "sites": sites,
        "expires_at": now + RESTRICTED_FOR if standing == "restricted" else None,
        "developers": material.developers,
        "must_sign": must_sign(material),
        "tool_version": versions["tuner"],
        "model_versions": versions,
        "audit_head": {"sequence": audit_head[0], "entry_hash": audit_head[1]},
        "sealed_at": now,
        **_revision(material),
    }
    return canonical_bytes(ReleaseDocument.model_validate(document)).decode("utf-8")


def _limit(loaded: Loaded) -> LimitStated:
    from tuner.safety import effective_limit

    limit = effective_limit(loaded.brief)
    return LimitStated.model_validate(
        {
            "none": limit.none,
            "core_temperature_c": limit.core_temperature_c,
            "guard_c": limit.guard_c,
            "hold_s": limit.hold_s,
            "rest_s": limit.rest_s,
            "covered": limit.covered,
            "rule": limit.rule,
            "market": limit.market,
            "edition": limit.edition,
            "approved_by": limit.approved_by,
        }
    )


def _evidence(material: Material) -> dict[str, Any]:
    parent = material.parent.document if material.parent is not None else None
    if material.proof is None or material.window is None:
        if parent is None:
            raise StoreProblem("The proof is missing though it was checked. Nothing was sealed. Load the release again.")
        return {"proof": parent.proof, "operating_window": parent.operating_window, "top_up": None}
    return {
        "proof": evidence_of(material.proof),
        "operating_window": read_window(material.window),
        "top_up": _top_up(material.top_up),
    }


def evidence_of(row: KeptRecord) -> Evidence:
    """A record as evidence: with the hash of its content."""
    from tuner.exchange.release_file import plain_hash

    return Evidence(record_id=row.id, content_hash=plain_hash(row.content), content=dict(row.content))


def _top_up(row: KeptRecord | None) -> dict[str, Any] | None:
    if row is None or row.content.get("passed") is not True:
        return None
    return {"program": row.content["program"], "record_id": row.id, "strength": row.content.get("strength", "full")}


def _revision(material: Material) -> dict[str, Any]:
    version, parent, findings = material.version, material.parent, material.findings
    if parent is None or findings is None:
        return {}
    revision = {
        "kind": material.revision_kind,
        "reason": version.revision_reason or "",
        "differences": findings.differences,
        "no_longer_holds": findings.no_longer_holds,
    }
    return {"parent": {"number": parent.number, "sha256": parent.sha256}, "revision": revision}


def must_sign(material: Material) -> tuple[Role, ...]:
    """Roles whose signatures a release needs: with a customer, the customer's too."""
    house: tuple[Role, ...] = ("developer", "food-safety approver")
    return (*house, "customer approver") if material.loaded.development.customer else house
