"""Cooks that come back from the page at the oven: kept once, in one transaction, judged anew."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import timedelta
from typing import Any

from pydantic import ValidationError

from tuner.domain import Conflict, InvalidDocument, NotFound, Program, TestCook
from tuner.domain.plausibility import questions_about_program
from tuner.domain.wording import problems_of
from tuner.services.actor import Actor
from tuner.services.cooks import write_cook
from tuner.services.documents import changed
from tuner.services.loading import Loaded, read_development
from tuner.services.sheet_links import COOKED, PHOTO, expiry, signed_sheet, withdrawal
from tuner.services.texts import LONGEST_NAME, checked_text, given_or_made_id
from tuner.services.viewing import cook_record
from tuner.services.views import CookRecord
from tuner.services.workspace import Workspace
from tuner.store import KeptRecord, Plain, RecordEntry, UnitOfWork, file_hash

SENT_LATE_DAYS = 30
"""How long after a sheet's expiry a cook that waited on a device for network is still taken."""
RECIPE_CHANGED, SHEET_COOKED, SHEET_WITHDRAWN, SHEET_EXPIRED, OTHER_CONTENT = (
    "recipe_changed",
    "sheet_cooked",
    "sheet_withdrawn",
    "sheet_expired",
    "other_content",
)
BY_SHEET = " (by cook sheet)"
MAY_BE_ACCEPTED = frozenset({RECIPE_CHANGED, SHEET_COOKED})


class SheetConflict(Conflict):
    """A cook does not fit the sheet as it stands now; `may_be_accepted` says whether it may be sent by somebody who knows."""

    def __init__(self, code: str, message: str) -> None:
        self.code = code
        self.may_be_accepted = code in MAY_BE_ACCEPTED
        super().__init__(message)


@dataclass(frozen=True, slots=True)
class SheetCook:
    """A cook that came back; `new` is False where it was kept before."""

    record: CookRecord
    new: bool


def signed_by_sheet(typed: str | None) -> str:
    """Name under which a cook that came by a sheet is kept: anyone who holds the link can type any name, so it says so."""
    said = typed or "cook at the oven"
    return f"{said[: LONGEST_NAME - len(BY_SHEET)]}{BY_SHEET}"


def receive_cook(
    space: Workspace,
    *,
    sheet_id: str,
    signature: str,
    client_id: str,
    cook: Mapping[str, Any],
    brief_version: int,
    may_taste: Mapping[str, bool] | None = None,
    accept: Sequence[str] = (),
) -> SheetCook:
    """Keep a cook that was done from a cook sheet.

    Parameters
    ----------
    client_id
        Made on the device: the same cook sent twice is kept once.
    cook
        A test cook as JSON, without its program unless another one was keyed in (`program_set`).
    brief_version
        Version of the brief the device judged by.
    accept
        Codes of conflicts the person was shown and sends the cook with all the same.

    Raises
    ------
    SheetConflict
        If the sheet was withdrawn, has long expired or was cooked already, the brief changed, or the id has other content.
    InvalidDocument, NeedsConfirmation, NotAllowed, NotFound
        As `log_cook`; `NotFound` where the signature does not open the sheet.
    """
    made = given_or_made_id(client_id)
    with space.store.read(None) as reading:
        kept = signed_sheet(reading, sheet_id, signature)
        customer = reading.developments.one(kept.development_id or "").customer
    done = _done_cook(kept, cook, made)
    who = Actor(signed_by_sheet(done.cook), customer=customer, role="cook")
    with space.store.unit_of_work(space.context(who)) as work:
        loaded = read_development(work, kept.development_id or "")
        known = any(row.stamp.client_id == made for row in loaded.rows)
        if not known:
            _refuse_misfit(space, work, kept, loaded, brief_version, accept)
        try:
            row = write_cook(work, loaded, done, may_taste, made)
        except Conflict as error:
            raise SheetConflict(OTHER_CONTENT, str(error)) from error
        if not known:
            accepted = sorted(set(accept) & MAY_BE_ACCEPTED)
            content: dict[str, Plain] = {"cook_id": row.id, "accepted": accepted, "judged_by": brief_version}
            work.records.add(loaded.development, RecordEntry(COOKED, content, made, about=sheet_id))
        after = read_development(work, loaded.development.id)
        work.commit()
    return SheetCook(cook_record(after, row), not known)


def receive_photo(space: Workspace, *, sheet_id: str, signature: str, client_id: str, data: bytes) -> bool:
    """Keep the photo of a cook that came back, written anew from its pixels alone; whether it is new.

    Raises
    ------
    InvalidDocument
        If it can't be read as a picture.
    NotFound
        If the signature does not open the sheet, or no cook of it has this client's id.
    """
    from tuner.exchange.result_photo import cleaned_photo

    with space.store.read(None) as reading:
        kept = signed_sheet(reading, sheet_id, signature)
        came = next((row for row in reading.records.of_kind(COOKED, about=sheet_id) if row.stamp.client_id == client_id), None)
        customer = reading.developments.one(kept.development_id or "").customer
    if came is None:
        raise NotFound("No cook of this sheet has this id. Send the cook first, then its photo.")
    cleaned = cleaned_photo(data)
    with space.store.unit_of_work(space.context(Actor(came.stamp.by, customer=customer, role="cook"))) as work:
        development = work.developments.one(kept.development_id or "")
        work.files.keep(development, cleaned, media_type="image/jpeg")
        content = {"sha256": file_hash(cleaned), "cook_id": came.content["cook_id"]}
        added = work.records.add(development, RecordEntry(PHOTO, content, client_id, about=came.content["cook_id"]))
        work.commit()
    return added.new


def cook_photos(space: Workspace, who: Actor, *, cook_id: str) -> tuple[bytes, ...]:
    """JPEG photos that came with a cook from the page at the oven."""
    with space.store.read(who.customer) as reading:
        rows = reading.records.of_kind(PHOTO, about=cook_id, current_only=True)
        return tuple(reading.files.get(row.content["sha256"]).data for row in rows)


def _done_cook(kept: KeptRecord, given: Mapping[str, Any], client_id: str) -> TestCook:
    """The cook with the sheet's program and purpose; what is unusual in the ordered program was decided at the desk."""
    ordered = Program.model_validate(kept.content["program"])
    try:
        cook = TestCook.model_validate({**given, "program": kept.content["program"], "purpose": kept.content["purpose"]})
    except ValidationError as error:
        raise InvalidDocument(problems_of(error)) from error
    if cook.cook is not None:
        checked_text("cook", cook.cook, LONGEST_NAME)
    decided = [] if cook.program_set else [question.code for question in questions_about_program(ordered)]
    confirmed = [*(cook.confirmed or ()), *decided]
    return changed(cook, client_id=client_id, **({"confirmed": list(dict.fromkeys(confirmed))} if confirmed else {}))


def _refuse_misfit(
    space: Workspace, work: UnitOfWork, kept: KeptRecord, loaded: Loaded, brief_version: int, accept: Sequence[str]
) -> None:
    taken_back = withdrawal(work, kept)
    if taken_back is not None:
        raise SheetConflict(
            SHEET_WITHDRAWN,
            f"This cook sheet was withdrawn: {taken_back.content['because']}. The cook stays on the device. "
            "Hand it over as a file to whoever sent the sheet.",
        )
    if space.clock() > expiry(kept) + timedelta(days=SENT_LATE_DAYS):
        raise SheetConflict(SHEET_EXPIRED, "This cook sheet expired long ago. Hand the cook over as a file.")
    if RECIPE_CHANGED not in accept and loaded.development.brief_version != brief_version:
        raise SheetConflict(
            RECIPE_CHANGED,
            f"The brief changed since this sheet was opened (version {brief_version} then, {loaded.development.brief_version} "
            "now). The verdict will be decided anew by the brief as it is now. Send it all the same, or ask the desk.",
        )
    if SHEET_COOKED not in accept and work.records.of_kind(COOKED, about=kept.id):
        raise SheetConflict(
            SHEET_COOKED,
            "Another cook came back for this sheet. If this was a further portion, send it as a cook of its own.",
        )
