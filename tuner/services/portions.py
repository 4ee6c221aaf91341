"""Portions cooked from a restricted release: each measured and logged before it is served; topped up once, or discarded."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Literal, cast

from tuner.domain import Conflict, NotAllowed, NotFound, TestCook, Verdict
from tuner.domain.release import ReleaseDocument
from tuner.services.actor import Actor
from tuner.services.limit_rules import same_person
from tuner.services.release_reading import ReleaseView, one_version
from tuner.services.texts import checked_text, given_or_made_id
from tuner.services.workspace import Workspace
from tuner.store import KeptRecord, Plain, Reading, RecordEntry, UnitOfWork

PORTION, TOP_UP_USE = "restricted_portion", "top_up_use"
Decision = Literal["serve", "measure", "top up", "discard"]


@dataclass(frozen=True, slots=True)
class PortionRecord:
    """One portion of a release at a site, and what is done with it.

    Attributes
    ----------
    decision
        `serve` only where the readings allow it; `measure`: not known to be safe, nothing is served; `top up`: once, with the
        proven program; `discard`.
    topped_up
        Whether the one top-up was used.
    """

    id: str
    release_id: str
    site: str
    decision: Decision
    verdict: str
    reasons: tuple[str, ...]
    cook: TestCook
    topped_up: bool
    by: str
    at: datetime


def log_portion(
    space: Workspace, who: Actor, *, release_id: str, site: str, cook: TestCook, client_id: str | None = None
) -> PortionRecord:
    """Log a portion cooked from a release, with its readings, and be told what to do with it.

    Raises
    ------
    Conflict
        If the client's id was used for another portion.
    NotAllowed
        If the release is not in force, has expired, does not name the site, or another program was keyed in.
    NotFound
        If there is no such release, or none this person may see.
    """
    place = checked_text("site", site, 100)
    with space.store.unit_of_work(space.context(who)) as work:
        version = one_version(work, release_id)
        document = _in_force(version, space.clock())
        _refuse_site(document, place)
        _refuse_other_program(cook, document)
        found = _verdict(document, cook)
        content = _content(place, cook, found, _first_decision(document, found))
        entry = RecordEntry(PORTION, content, given_or_made_id(client_id), about=release_id)
        added = work.records.add(work.developments.one(version.development_id), entry)
        portion = _portion(work.records.one(added.id), None)
        work.commit()
    return portion


def measure_portion(
    space: Workspace, who: Actor, *, portion_id: str, cook: TestCook, client_id: str | None = None
) -> PortionRecord:
    """Complete the measuring of a portion that could not be judged yet.

    Raises
    ------
    NotAllowed
        If the portion was judged, or another program was keyed in.
    NotFound
        If there is no such portion, or none this person may see.
    """
    with space.store.unit_of_work(space.context(who)) as work:
        row, version, document = _known(work, portion_id, space.clock())
        if row.superseded or row.content["decision"] != "measure":
            raise NotAllowed(f"This portion was judged: {row.content['decision']}. It is not judged twice.")
        _refuse_other_program(cook, document)
        found = _verdict(document, cook)
        content = _content(row.content["site"], cook, found, _first_decision(document, found))
        entry = RecordEntry(
            PORTION, content, given_or_made_id(client_id), about=version.id, corrects=row.id, reason="measured to the end"
        )
        added = work.records.add(work.developments.one(version.development_id), entry)
        portion = _portion(work.records.one(added.id), None)
        work.commit()
    return portion


def top_up_portion(space: Workspace, who: Actor, *, portion_id: str, cook: TestCook) -> PortionRecord:
    """Log the one top-up of a portion that came out below the limit; it is served if it is safe now, else discarded.

    Raises
    ------
    NotAllowed
        If the portion was not to be topped up, was topped up before, or the keyed program is not the proven top-up.
    NotFound
        If there is no such portion, or none this person may see.
    """
    with space.store.unit_of_work(space.context(who)) as work:
        row, version, document = _known(work, portion_id, space.clock())
        if document.top_up is None or row.superseded or row.content["decision"] != "top up":
            raise NotAllowed(
                f"This portion is not to be topped up: {row.content['decision']}. Discard what is below the limit."
            )
        if _use_of(work, row) is not None:
            raise Conflict("This portion was topped up before. A portion is topped up once, then discarded.")
        done = cook.done_program
        if done is None or done.key != document.top_up.program.key:
            raise NotAllowed("Another program was keyed in than the proven top-up. Discard the portion.")
        found = _verdict(document, cook)
        decision: Decision = "serve" if found.status == "safe_to_taste" else "discard"
        content = _content(row.content["site"], cook, found, decision)
        entry = RecordEntry(TOP_UP_USE, content, f"{portion_id} top up", about=portion_id)
        added = work.records.add(work.developments.one(version.development_id), entry)
        portion = _portion(row, work.records.one(added.id))
        work.commit()
    return portion


def list_portions(space: Workspace, who: Actor, *, release_id: str) -> tuple[PortionRecord, ...]:
    """Portions of a release as they stand, in the order of logging.

    Raises
    ------
    NotFound
        If there is no such release, or none this person may see.
    """
    with space.store.read(who.customer) as reading:
        one_version(reading, release_id)
        rows = reading.records.of_kind(PORTION, about=release_id, current_only=True)
        return tuple(_portion(row, _use_of(reading, row)) for row in rows)


def _in_force(version: ReleaseView, now: datetime) -> ReleaseDocument:
    if not version.in_force or version.document is None:
        raise NotAllowed(f"Version {version.number} is {version.state}. Only a version in force is cooked from.")
    if version.expired(now):
        raise NotAllowed(f"Version {version.number} has expired. Restricted releases hold 90 days. Ask for the full release.")
    return version.document


def _known(work: UnitOfWork, portion_id: str, now: datetime) -> tuple[KeptRecord, ReleaseView, ReleaseDocument]:
    row = work.records.one(portion_id)
    if row.kind != PORTION or row.about is None:
        raise NotFound(f"No portion has the id {portion_id!r}. Check the id.")
    version = one_version(work, row.about)
    return row, version, _in_force(version, now)


def _refuse_site(document: ReleaseDocument, site: str) -> None:
    if document.standing == "restricted" and not any(same_person(site, named) for named in document.sites):
        raise NotAllowed(f"{site!r} is not among the sites of this restricted release: {', '.join(document.sites)}.")


def _refuse_other_program(cook: TestCook, document: ReleaseDocument) -> None:
    done = cook.done_program
    if done is None or done.key != document.program.key:
        raise NotAllowed("Another program was keyed in than the released one. Nothing is known of this portion: discard it.")


def _verdict(document: ReleaseDocument, cook: TestCook) -> Verdict:
    from tuner.safety import verdict

    return verdict(document.brief, cook)


def _first_decision(document: ReleaseDocument, found: Verdict) -> Decision:
    if found.status == "safe_to_taste":
        return "serve"
    if found.status == "unknown":
        return "measure"
    return "top up" if document.top_up is not None else "discard"


def _content(site: str, cook: TestCook, found: Verdict, decision: Decision) -> dict[str, Plain]:
    return {
        "site": site,
        "cook": cook.model_dump(mode="json", exclude_unset=True),
        "verdict": found.status,
        "reasons": list(found.reasons),
        "decision": decision,
    }


def _use_of(reading: Reading | UnitOfWork, row: KeptRecord) -> KeptRecord | None:
    return next(iter(reading.records.of_kind(TOP_UP_USE, about=row.id)), None)


def _portion(row: KeptRecord, use: KeptRecord | None) -> PortionRecord:
    last = use or row
    return PortionRecord(
        id=row.id,
        release_id=row.about or "",
        site=row.content["site"],
        decision=cast("Decision", last.content["decision"]),
        verdict=last.content["verdict"],
        reasons=tuple(last.content["reasons"]),
        cook=TestCook.model_validate(last.content["cook"]),
        topped_up=use is not None,
        by=last.stamp.by,
        at=last.stamp.at,
    )
