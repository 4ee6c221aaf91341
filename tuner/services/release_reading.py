"""A release as the records tell it: its versions, their states, sealed texts and signatures."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from tuner.domain import NotFound, Program
from tuner.domain.person import Role
from tuner.domain.release import BEFORE_RELEASE, IN_FORCE, ReleaseDocument, ReleaseState, RevisionClass, Signature, Statement
from tuner.store import KeptRecord, Reading, UnitOfWork

RELEASE, STATE, DOCUMENT, SIGNATURE = "release", "release_state", "release_document", "signature"
PROOF, WINDOW, PLAN, TOP_UP = "proof_result", "operating_window", "proof_plan", "top_up"


@dataclass(frozen=True, slots=True)
class StateChange:
    """One step of a version."""

    state: ReleaseState
    reason: str
    by: str
    at: datetime


@dataclass(frozen=True, slots=True)
class SignatureView:
    """One signature as a person reads it."""

    name: str
    role: Role
    meaning: str
    signed_at: datetime
    key_id: str


@dataclass(frozen=True, slots=True)
class ReleaseView:
    """One version of a release.

    Attributes
    ----------
    id
        Id of its record.
    text
        The exact text that was signed, None before it was sealed.
    waits_for
        Roles that have not signed yet; empty before sealing.
    """

    id: str
    development_id: str
    customer: str | None
    number: int
    state: ReleaseState
    program: Program
    parent_number: int | None
    revision_kind: RevisionClass | None
    revision_reason: str | None
    changes: tuple[StateChange, ...]
    document: ReleaseDocument | None
    text: str | None
    sha256: str | None
    signatures: tuple[Signature, ...]
    signed: tuple[SignatureView, ...]
    waits_for: tuple[Role, ...]

    @property
    def in_force(self) -> bool:
        """Whether it is released or restricted; a restricted one may be past its day, see `expired`."""
        return self.state in IN_FORCE

    def expired(self, now: datetime) -> bool:
        """Whether its day has passed."""
        return self.document is not None and self.document.expires_at is not None and self.document.expires_at <= now


def versions_of(reading: Reading | UnitOfWork, development_id: str) -> tuple[ReleaseView, ...]:
    """All versions of a development's release, oldest first."""
    rows = reading.records.of_development(development_id)
    return tuple(_view(row, rows) for row in rows if row.kind == RELEASE)


def one_version(reading: Reading | UnitOfWork, release_id: str) -> ReleaseView:
    """One version by its id.

    Raises
    ------
    NotFound
        If there is none, or none this customer may see.
    """
    row = reading.records.one(release_id)
    if row.kind != RELEASE or row.development_id is None:
        raise NotFound(f"No release has the id {release_id!r}. Check the id.")
    return _view(row, reading.records.of_development(row.development_id))


def open_version(versions: tuple[ReleaseView, ...]) -> ReleaseView | None:
    """The version that is on its way, None if none is."""
    return next((version for version in versions if version.state in BEFORE_RELEASE), None)


def version_in_force(versions: tuple[ReleaseView, ...]) -> ReleaseView | None:
    """The version that is cooked from now, None if none is."""
    return next((version for version in reversed(versions) if version.in_force), None)


def _view(row: KeptRecord, rows: tuple[KeptRecord, ...]) -> ReleaseView:
    mine = [one for one in rows if one.about == row.id]
    changes = tuple(
        StateChange(one.content["state"], one.content["reason"], one.stamp.by, one.stamp.at)
        for one in mine
        if one.kind == STATE
    )
    sealed = next((one for one in mine if one.kind == DOCUMENT), None)
    text = None if sealed is None else str(sealed.content["text"])
    document = None if text is None else ReleaseDocument.model_validate_json(text)
    signatures = tuple(Signature.model_validate(dict(one.content)) for one in mine if one.kind == SIGNATURE)
    signed = tuple(_signature(one) for one in signatures)
    done = {one.role for one in signed}
    return ReleaseView(
        id=row.id,
        development_id=row.development_id or "",
        customer=row.customer,
        number=row.content["number"],
        state=changes[-1].state if changes else "draft",
        program=Program.model_validate(row.content["program"]),
        parent_number=row.content.get("parent_number"),
        revision_kind=row.content.get("revision_kind"),
        revision_reason=row.content.get("revision_reason"),
        changes=changes,
        document=document,
        text=text,
        sha256=None if sealed is None else sealed.content["sha256"],
        signatures=signatures,
        signed=signed,
        waits_for=() if document is None else tuple(role for role in document.must_sign if role not in done),
    )


def _signature(signature: Signature) -> SignatureView:
    said = Statement.model_validate_json(signature.statement)
    return SignatureView(said.name, said.role, said.meaning, said.signed_at, said.key_id)
