"""Cook sheets: the order for one test cook, sent as a link that opens it at the oven without an account."""

from __future__ import annotations

import secrets
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any, Literal

from tuner.domain import InvalidDocument, NotAllowed, Program
from tuner.domain.plausibility import boiling_point_c
from tuner.services.actor import Actor
from tuner.services.loading import Loaded, read_development, refuse_unless_open
from tuner.services.proposal_states import chosen_program, states_of
from tuner.services.sheet_links import (
    COOKED,
    OPENED,
    SHEET,
    WITHDRAWN,
    expiry,
    sheet_record,
    signature_of,
    signed_sheet,
    withdrawal,
)
from tuner.services.sheet_rule import sheet_rule
from tuner.services.texts import LONGEST_NAME, checked_reason, checked_text, given_or_made_id
from tuner.services.workspace import Workspace
from tuner.store import KeptRecord, Plain, Reading, RecordEntry, UnitOfWork

HOLDS_DAYS, LONGEST_DAYS = 14, 60
LANGUAGES = ("en", "de")
SheetState = Literal["sent", "opened", "cooked", "withdrawn", "expired"]


@dataclass(frozen=True, slots=True)
class CookSheetRecord:
    """A cook sheet as the desk sees it.

    Attributes
    ----------
    number
        Counted in the development, in the order of issue.
    state
        `sent`, `opened` at the oven, `cooked` (a cook came back), `withdrawn`, or `expired` without a cook.
    cook_ids
        Cooks that came back for it, in the order of arrival.
    fragment
        What follows `#` in the link: id and signature. Whoever has it can open the sheet and send a cook for it.
    """

    id: str
    number: int
    development_id: str
    proposal_id: str
    dish: str
    program: Program
    for_cook: str | None
    language: str
    state: SheetState
    issued_at: datetime
    issued_by: str
    expires_at: datetime
    opened_at: datetime | None
    withdrawn_because: str | None
    cook_ids: tuple[str, ...]
    fragment: str


def issue_cook_sheet(
    space: Workspace,
    who: Actor,
    *,
    proposal_id: str,
    for_cook: str | None = None,
    language: str = "en",
    holds_days: int = HOLDS_DAYS,
    client_id: str | None = None,
) -> CookSheetRecord:
    """Issue the cook sheet of a proposal that was taken or changed.

    Parameters
    ----------
    for_cook
        Who shall cook it; the page at the oven offers the name.
    language
        Of the page at the oven: `en` or `de`.
    holds_days
        After so many days the link opens nothing any more, 1 to 60.

    Raises
    ------
    Conflict
        If the client's id was used before for another sheet.
    InvalidDocument
        If language or days are not offered.
    NotAllowed
        If the proposal was not taken, or the development is closed.
    NotFound
        If there is no such proposal, or none this person may see.
    """
    name = None if for_cook is None or not for_cook.strip() else checked_text("for_cook", for_cook, LONGEST_NAME)
    if language not in LANGUAGES:
        raise InvalidDocument([f"language is {language!r}. The page at the oven speaks {', '.join(LANGUAGES)}. Choose one."])
    if not 1 <= holds_days <= LONGEST_DAYS:
        raise InvalidDocument(
            [f"holds_days is {holds_days}. A cook sheet holds 1 to {LONGEST_DAYS} days. Choose one of these."]
        )
    made = given_or_made_id(client_id)
    with space.store.unit_of_work(space.context(who)) as work:
        proposal = work.proposals.one(proposal_id)
        loaded = read_development(work, proposal.development_id)
        before = next((kept for kept in _sheets(work, loaded) if kept.stamp.client_id == made), None)
        if before is not None and before.content["proposal_id"] == proposal_id:
            return _record(work, loaded, before, space.clock())
        refuse_unless_open(loaded.development)
        if (state := states_of(loaded)[proposal_id]) not in ("accepted", "changed"):
            raise NotAllowed(
                f"Proposal {proposal.number} is {state}. A cook sheet is sent for a program that was taken. Take it."
            )
        content: dict[str, Plain] = {
            "proposal_id": proposal_id,
            "number": len(_sheets(work, loaded)) + 1,
            "program": chosen_program(proposal).model_dump(mode="json"),
            "purpose": proposal.proposal.purpose,
            "reasons": list(proposal.proposal.reasons),
            "brief_version": loaded.development.brief_version,
            "for_cook": name,
            "language": language,
            "expires_at": (space.clock() + timedelta(days=holds_days)).isoformat(),
            "secret": secrets.token_hex(32),
        }
        added = work.records.add(loaded.development, RecordEntry(SHEET, content, made, about=proposal_id))
        issued = _record(work, loaded, work.records.one(added.id), space.clock())
        work.commit()
    return issued


def list_cook_sheets(space: Workspace, who: Actor, *, development_id: str) -> tuple[CookSheetRecord, ...]:
    """Every cook sheet of a development, in the order of issue.

    Raises
    ------
    NotFound
        If there is no such development, or none this person may see.
    """
    with space.store.read(who.customer) as reading:
        loaded = read_development(reading, development_id)
        return tuple(_record(reading, loaded, kept, space.clock()) for kept in _sheets(reading, loaded))


def withdraw_cook_sheet(space: Workspace, who: Actor, *, sheet_id: str, reason: str) -> CookSheetRecord:
    """Withdraw a cook sheet: its link opens nothing from now on. Cooks that came back stay.

    Raises
    ------
    InvalidDocument
        If the reason is missing.
    NotFound
        If there is no such sheet, or none this person may see.
    """
    given = checked_reason(reason)
    with space.store.unit_of_work(space.context(who)) as work:
        kept = sheet_record(work, sheet_id)
        loaded = read_development(work, kept.development_id or "")
        if withdrawal(work, kept) is None:
            work.records.add(loaded.development, RecordEntry(WITHDRAWN, {"because": given}, sheet_id, about=sheet_id))
        record = _record(work, loaded, kept, space.clock())
        work.commit()
    return record


def open_cook_sheet(space: Workspace, *, sheet_id: str, signature: str, on_paper: bool = False) -> dict[str, Any]:
    """What the page at the oven shows of a cook sheet, as JSON; whoever holds the link opens it.

    Parameters
    ----------
    on_paper
        Opened to be printed at the desk: not kept as opened by the cook.

    Raises
    ------
    NotAllowed
        If the sheet was withdrawn or has expired.
    NotFound
        If there is no such sheet, or the signature is not its own: the two are not told apart.
    """
    with space.store.read(None) as reading:
        kept = signed_sheet(reading, sheet_id, signature)
        loaded = read_development(reading, kept.development_id or "")
        taken_back = withdrawal(reading, kept)
        opened = bool(reading.records.of_kind(OPENED, about=sheet_id))
    if taken_back is not None:
        raise NotAllowed(f"This cook sheet was withdrawn: {taken_back.content['because']}. Ask for a new one.")
    if space.clock() > expiry(kept):
        raise NotAllowed(f"This cook sheet held until {expiry(kept):%d %B %Y}. Ask for a new one.")
    if not opened and not on_paper:
        _note_opening(space, loaded, kept)
    return _sheet_json(loaded, kept)


def _note_opening(space: Workspace, loaded: Loaded, kept: KeptRecord) -> None:
    name = kept.content["for_cook"] or "cook at the oven"
    who = Actor(name, customer=loaded.development.customer, role="cook")
    with space.store.unit_of_work(space.context(who)) as work:
        development = work.developments.one(loaded.development.id)
        work.records.add(development, RecordEntry(OPENED, {"sheet": kept.id}, kept.id, about=kept.id))
        work.commit()


def _sheets(reading: Reading | UnitOfWork, loaded: Loaded) -> tuple[KeptRecord, ...]:
    return reading.records.of_development(loaded.development.id, SHEET)


def _record(reading: Reading | UnitOfWork, loaded: Loaded, kept: KeptRecord, now: datetime) -> CookSheetRecord:
    opened = next(iter(reading.records.of_kind(OPENED, about=kept.id)), None)
    taken_back = withdrawal(reading, kept)
    cooks = tuple(row.content["cook_id"] for row in reading.records.of_kind(COOKED, about=kept.id))
    content = kept.content
    state: SheetState = "opened" if opened else "sent"
    if now > expiry(kept):
        state = "expired"
    if cooks:
        state = "cooked"
    if taken_back:
        state = "withdrawn"
    return CookSheetRecord(
        id=kept.id,
        number=content["number"],
        development_id=loaded.development.id,
        proposal_id=content["proposal_id"],
        dish=loaded.brief.dish,
        program=Program.model_validate(content["program"]),
        for_cook=content["for_cook"],
        language=content["language"],
        state=state,
        issued_at=kept.stamp.at,
        issued_by=kept.stamp.by,
        expires_at=expiry(kept),
        opened_at=opened.stamp.at if opened else None,
        withdrawn_because=taken_back.content["because"] if taken_back else None,
        cook_ids=cooks,
        fragment=f"sheet={kept.id}&s={signature_of(kept)}",
    )


def _sheet_json(loaded: Loaded, kept: KeptRecord) -> dict[str, Any]:
    """Only what a cook needs: neither customer nor forecasts nor other cooks."""
    from tuner.safety import cautions

    brief, oven, content = loaded.brief, loaded.oven, kept.content
    program, portion = Program.model_validate(content["program"]), brief.portion
    allowed = portion.tolerance
    return {
        "version": 1,
        "sheet_id": kept.id,
        "number": content["number"],
        "dish": brief.dish,
        "for_cook": content["for_cook"],
        "language": content["language"],
        "issued_at": kept.stamp.at.isoformat(),
        "expires_at": content["expires_at"],
        "brief_version": loaded.development.brief_version,
        "purpose": content["purpose"],
        "reasons": content["reasons"],
        "program": {**content["program"], "stage_seconds": list(program.stage_seconds())},
        "portion": {
            "mass_g": portion.mass_g,
            "mass_tolerance_pct": (allowed.mass_pct if allowed and allowed.mass_pct is not None else 10.0),
            "start_temperature_c": portion.start_temperature_c,
            "start_tolerance_c": (allowed.start_temperature_c if allowed and allowed.start_temperature_c is not None else 5.0),
            "start_state": portion.start_state,
            "thickness_mm": portion.thickness_mm,
        },
        "oven": {"name": oven.name, "serial": oven.serial, "boiling_c": boiling_point_c(oven.altitude_m)},
        "rule": sheet_rule(brief),
        "allergens": None if brief.allergens is None else list(brief.allergens),
        "cautions": {
            place.replace(" ", "_"): [one.code for one in cautions(place)]
            for place in ("cook sheet", "measuring", "verdict", "score entry")
        },
    }
