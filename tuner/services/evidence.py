"""The evidence of a release for an auditor: on paper and as data, failures and corrections included."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from typing import Any

from tuner.domain import NotAllowed, Verdict
from tuner.domain.evidence import EvidencePack, Section
from tuner.domain.release import ReleaseDocument
from tuner.services.actor import Actor
from tuner.services.exporting import export_csv
from tuner.services.loading import Loaded, read_development
from tuner.services.release_files import export_release
from tuner.services.release_reading import ReleaseView, one_version
from tuner.services.workspace import Workspace
from tuner.store import AuditEntry, KeptCook

_COOK_COLUMNS = (
    ("cook", 0.05),
    ("part", 0.09),
    ("cooked (UTC)", 0.10),
    ("g in, °C start", 0.08),
    ("readings °C", 0.13),
    ("rest", 0.08),
    ("thermometer checked", 0.10),
    ("oven, lot, person", 0.13),
    ("verdict", 0.09),
    ("over pass line", 0.07),
    ("result", 0.08),
)


def evidence_pack(space: Workspace, who: Actor, *, release_id: str) -> bytes:
    """A ZIP with `evidence.pdf`, the signed release, the records behind it as JSON, and all cooks as one table.

    Raises
    ------
    NotAllowed
        If the version was never sealed and signed.
    NotFound
        If there is no such release, or none this person may see.
    """
    from tuner.exchange.evidence_pack import write_archive
    from tuner.exchange.evidence_pdf import evidence_pdf

    release = export_release(space, who, release_id=release_id)
    with space.store.read(who.customer) as reading:
        version = one_version(reading, release_id)
        loaded = read_development(reading, version.development_id)
        audit = reading.audit.entries(version.development_id)
        broken = reading.audit.first_broken()
        records = reading.records.of_development(version.development_id)
    pack = pack_of(version, loaded, audit, chain_broken_at=broken)
    data = [
        {
            "id": row.id,
            "kind": row.kind,
            "about": row.about,
            "schema_version": row.schema_version,
            "content": dict(row.content),
            "corrects": row.corrects,
            "reason": row.reason,
            "by": row.stamp.by,
            "at": row.stamp.at.isoformat(),
        }
        for row in records
    ]
    files = {
        "evidence.pdf": evidence_pdf(pack),
        "release.json": release,
        "records.json": (json.dumps(data, ensure_ascii=False, indent=1) + "\n").encode("utf-8"),
        "cooks.csv": export_csv(space, who, development_id=version.development_id),
    }
    return write_archive(files)


def pack_of(
    version: ReleaseView, loaded: Loaded, audit: tuple[AuditEntry, ...], *, chain_broken_at: int | None
) -> EvidencePack:
    """The sections of the paper.

    Raises
    ------
    NotAllowed
        If the version was never sealed.
    """
    document = version.document
    if document is None:
        raise NotAllowed(f"Version {version.number} was never sealed. Evidence belongs to a release.")
    last = max(change.at for change in version.changes)
    sections = (
        _what(version, document),
        _hazard(document),
        _recipe(document),
        _proof(document),
        _proof_cooks(document, loaded),
        _other_cooks(document, loaded),
        _corrections(loaded),
        _signatures(version),
        _history(version, document, chain_broken_at),
        _trail(audit),
    )
    return EvidencePack(f"Evidence: {document.dish}, version {document.number}", last, sections)


def _what(version: ReleaseView, document: ReleaseDocument) -> Section:
    facts = [
        (
            "Product and process",
            f"{document.dish}: {document.brief.food_class}, {document.brief.portion.start_state} at the start",
        ),
        ("Customer", document.customer or "the house"),
        ("Version, standing", f"{document.number}, {document.standing}; now {version.state}"),
        ("SHA-256 of what was signed", version.sha256 or ""),
        ("Made with", ", ".join(f"{name} {number}" for name, number in sorted(document.model_versions.items()))),
        ("Developed by", ", ".join(document.developers)),
    ]
    if document.revision is not None and document.parent is not None:
        facts += [
            ("Follows", f"version {document.parent.number}, as a {document.revision.kind} change: {document.revision.reason}"),
            ("Differences", "; ".join(document.revision.differences) or "none"),
            ("Evidence that no longer holds", "; ".join(document.revision.no_longer_holds) or "none"),
        ]
    return Section("What was released", tuple(facts))


def _hazard(document: ReleaseDocument) -> Section:
    limit = document.limit
    none = limit.none or limit.core_temperature_c is None
    asked = (
        "none: nothing to kill"
        if none
        else f"{limit.core_temperature_c:g} °C in every part"
        + (f", held {limit.hold_s:g} s" if limit.hold_s else "")
        + f", rest {limit.rest_s:g} s {'covered' if limit.covered else 'open'}; guard {limit.guard_c:g} °C for measuring error"
    )
    whose = ", ".join(part for part in (limit.rule, limit.edition, limit.market) if part)
    every = "every portion" if document.standing == "restricted" else "at the site's own frequency, as agreed for the site"
    top_up = "one top-up with the proven program, then discard" if document.top_up else "discard; no top-up is proven"
    return Section(
        "Hazard and critical limit",
        (
            ("Step (critical control point)", "cooking in the rapid-cook oven with the rest that follows"),
            ("Hazard", "survival of microorganisms in the coldest part of the portion"),
            ("Critical limit", asked),
            ("Rule, edition, market", whose),
            ("Approved by", limit.approved_by or ""),
            ("Monitoring", f"core temperature at {document.brief.places} places after the rest, the lowest counts; {every}"),
            ("Responsible", "the person at the oven, named with each cook"),
            ("Corrective action", f"below the limit: {top_up}"),
            ("Verification", "thermometer check within 24 h before each cook; oven checks; proof as below"),
        ),
        note="Hazards that heat does not cure (toxins, spores, allergens) are outside this evidence. Local codes decide.",
    )


def _recipe(document: ReleaseDocument) -> Section:
    program, window = document.program, document.operating_window
    stages = "; ".join(
        f"{one.share_pct:g} %: air speed {one.air_speed_pct:g} %, microwave {one.microwave_pct:g} %" for one in program.stages
    )
    ingredients = "; ".join(f"{one.name} {one.amount_g or 0:g} g" for one in document.recipe.ingredients)
    spans = (
        f"start {window.start_temperature_c.low:g} to {window.start_temperature_c.high:g} °C, mass {window.mass_g.low:g} to "
        f"{window.mass_g.high:g} g, load {window.load.low:g} to {window.load.high:g}"
    )
    facts = (
        ("Ingredients", f"{ingredients} (for {document.recipe.portions} portions)"),
        ("Program", f"{program.air_temperature_c:g} °C, {program.duration_s:g} s; {stages}"),
        ("Rest", f"{document.brief.rest_s:g} s"),
        ("Operating window", "; ".join((spans, *window.words))),
        ("Oven", f"{document.oven.name}, serial {document.oven.serial or 'not noted'}"),
    )
    return Section("Recipe, program, operating window", facts)


def _proof(document: ReleaseDocument) -> Section:
    from tuner.exchange.release_file import plain_hash

    content = document.proof.content
    intact = plain_hash(content) == document.proof.content_hash
    rows = tuple(_statistic(one) for one in content["statistics"])
    return Section(
        "Proof",
        (
            ("Strength, attempt", f"{content['strength']}, attempt {content['attempt']}"),
            ("Plan, fixed before its first cook", f"SHA-256 {content['plan_hash']}"),
            ("Result", f"complete: {_yes(content['complete'])}; passed: {_yes(content['passed'])}"),
            ("Claim", str(content["claim"])),
            ("Record", f"{document.proof.record_id}; its content fits its hash: {_yes(intact)}"),
        ),
        (("statistic", 0.30), ("method", 0.30), ("n", 0.06), ("value", 0.12), ("needed", 0.12), ("passed", 0.10)),
        rows,
    )


def _statistic(one: Mapping[str, Any]) -> tuple[str, ...]:
    value = one.get("value")
    shown = f"{value:.4g}" if isinstance(value, int | float) else _text(value)
    unit = _text(one.get("unit"))
    passed = one.get("passed")
    return (
        _text(one.get("name")),
        _text(one.get("method")),
        _text(one.get("n")),
        f"{shown} {unit}".strip(),
        _text(one.get("needed")),
        "" if passed is None else _yes(passed),
    )


def _yes(value: object) -> str:
    return "yes" if value is True else "no"


def _text(value: object) -> str:
    return "" if value is None else str(value)


def _proof_cooks(document: ReleaseDocument, loaded: Loaded) -> Section:
    rows = {row.id: row for row in loaded.rows}
    listed = []
    for one in document.proof.content["cooks"]:
        kept = rows.get(str(one.get("cook_id")))
        y = one.get("y_c")
        result = "passed" if one.get("passed") else "failed"
        if one.get("excluded"):
            result = f"{result}, excluded: {one['excluded']}"
        over = f"{y:+.1f} °C" if isinstance(y, int | float) else ""
        listed.append(_cook_row(document, kept, _text(one.get("number")), _text(one.get("part")), over, result))
    failed = sum(not one.get("passed") for one in document.proof.content["cooks"])
    note = f"{len(listed)} cooks, {failed} of them failed. Every started cook of the plan is listed."
    return Section("Every cook of the proof", (), _COOK_COLUMNS, tuple(listed), note)


def _other_cooks(document: ReleaseDocument, loaded: Loaded) -> Section:
    used = {str(one.get("cook_id")) for one in document.proof.content["cooks"]}
    rows = []
    for kept in loaded.current_rows:
        done = kept.cook.done_program
        if kept.id not in used and done is not None and done.key == document.program.key:
            rows.append(_cook_row(document, kept, str(kept.number), str(kept.cook.purpose), "", ""))
    return Section("Other cooks of this program, no part of the proof", (), _COOK_COLUMNS, tuple(rows), "" if rows else "None.")


def _cook_row(
    document: ReleaseDocument, kept: KeptCook | None, number: str, part: str, over: str, result: str
) -> tuple[str, ...]:
    if kept is None:
        return (number, part, *([""] * 6), "not found here", over, result)
    cook = kept.cook
    rest = "not noted" if cook.rest_s is None else f"{cook.rest_s:g} s {'covered' if cook.rest_covered else 'open'}"
    person = cook.cook or kept.stamp.by
    return (
        str(kept.number),
        part,
        _when(cook.cooked_at),
        " g, ".join("?" if value is None else f"{value:g}" for value in (cook.mass_g, cook.start_temperature_c)),
        ", ".join(f"{value:g}" for value in cook.readings_c) or "none",
        rest,
        _when(cook.thermometer_checked_at),
        ", ".join(part for part in (cook.oven_serial, cook.lot, person) if part),
        _verdict(document, kept).status.replace("_", " "),
        over,
        result,
    )


def _verdict(document: ReleaseDocument, kept: KeptCook) -> Verdict:
    from tuner.safety import verdict

    return verdict(document.brief, kept.cook)


def _when(at: Any) -> str:
    return "not noted" if at is None else f"{at:%Y-%m-%d %H:%M}"


def _corrections(loaded: Loaded) -> Section:
    rows = tuple(
        (str(row.number), row.stamp.by, _when(row.stamp.at), row.reason or "")
        for row in loaded.rows
        if row.corrects is not None
    )
    columns = (("cook", 0.08), ("corrected by", 0.2), ("at (UTC)", 0.2), ("reason", 0.52))
    return Section("Corrections", (), columns, rows, "The first entries are kept." if rows else "None.")


def _signatures(version: ReleaseView) -> Section:
    rows = tuple((one.name, one.role, one.meaning, _when(one.signed_at), one.key_id) for one in version.signed)
    columns = (("name", 0.14), ("role", 0.16), ("meaning", 0.4), ("at (UTC)", 0.14), ("key", 0.16))
    note = "Ed25519 over the SHA-256 above, each with the person's own key, opened by their own password."
    return Section("Who signed what", (), columns, rows, note)


def _history(version: ReleaseView, document: ReleaseDocument, broken: int | None) -> Section:
    head = document.audit_head
    chain = "whole when this was made" if broken is None else f"broken at entry {broken}"
    return Section(
        "History of this version",
        (("Audit trail when sealed", f"entry {head.sequence}, {head.entry_hash}"), ("Audit trail now", chain)),
        (("state", 0.15), ("by", 0.2), ("at (UTC)", 0.2), ("reason", 0.45)),
        tuple((one.state, one.by, _when(one.at), one.reason) for one in version.changes),
    )


def _trail(audit: tuple[AuditEntry, ...]) -> Section:
    return Section(
        "Audit trail of the development",
        (),
        (("entry", 0.08), ("at (UTC)", 0.15), ("by", 0.15), ("what", 0.22), ("reason", 0.24), ("hash", 0.16)),
        tuple(_entries(audit)),
    )


def _entries(audit: tuple[AuditEntry, ...]) -> Iterator[tuple[str, ...]]:
    for one in audit:
        yield (str(one.sequence), _when(one.at), one.by, one.what, one.reason or "", one.entry_hash[:12])
