"""Writing rows: once for each client-made id, each with its entry in the audit trail, chained by hashes."""

from __future__ import annotations

import uuid
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC
from typing import Any

from sqlalchemy import insert, select
from sqlalchemy.orm import Session

from tuner.domain import Conflict
from tuner.store.canonical import Plain, content_hash
from tuner.store.people import PeopleShelf
from tuner.store.records import Origin, WriteContext
from tuner.store.schema import Audit, Base, Written

FIRST_HASH = "0" * 64
"""What the first entry of a chain points to."""

_NAMESPACE = uuid.UUID("6d1f3c1e-6d0a-4a55-9a5e-2d1b7f0c9e11")
AUDITED = (
    "sequence",
    "person_id",
    "role",
    "customer",
    "at",
    "what",
    "subject_kind",
    "subject_id",
    "development_id",
    "reason",
    "content_hash",
    "previous_hash",
)
"""Fields of an audit entry that its hash covers."""


class WrittenTable(Written, Base):
    """Any table whose rows carry who, when and which client-made id."""

    __abstract__ = True


def row_id(kind: str, scope: str, client_id: str) -> str:
    """Id of the row that a client-made id stands for; the same id of another customer or development is another row."""
    return str(uuid.uuid5(_NAMESPACE, "\x1f".join((kind, scope, client_id))))


def entry_hash(entry: Mapping[str, Any]) -> str:
    """SHA-256 that chains an audit entry to the one before; times count as UTC."""
    fields: dict[str, Plain] = {name: entry[name] for name in AUDITED}
    fields["at"] = entry["at"].astimezone(UTC).isoformat()
    return content_hash(fields)


@dataclass(frozen=True, slots=True)
class Entry:
    """What the audit trail says about one row."""

    what: str
    development_id: str | None = None
    reason: str | None = None


class Ledger:
    """Appends rows in one transaction. Only one writer is at work at a time: the database's lock sees to it."""

    def __init__(self, session: Session, context: WriteContext) -> None:
        self._session = session
        self._context = context

    @property
    def customer(self) -> str | None:
        """For whom is written; None for the house."""
        return self._context.customer

    def append(
        self,
        table: type[Written],
        values: Mapping[str, Any],
        *,
        content: Mapping[str, Plain],
        entry: Entry,
        origin: Origin | None = None,
    ) -> bool:
        """Add a row unless it is there already.

        Parameters
        ----------
        table
            Where to.
        values
            Columns of the row, with `id`, `client_id` and `customer` of its owner.
        content
            What was sent; the same id with other content is refused.
        entry
            Words for the audit trail.
        origin
            Who wrote it first and when, where it is restored.

        Returns
        -------
        bool
            False where the same row with the same content was kept before.

        Raises
        ------
        Conflict
            If the id was used before with other content.
        """
        hashed = content_hash(content)
        if self._known(table, values, hashed):
            return False
        sequence = self._enter(table, values, hashed, entry)
        at = origin.at if origin else self._context.at
        by = self._person(origin.name, origin.customer) if origin else self._writer()
        row = {**values, "content_hash": hashed, "sequence": sequence, "written_at": at, "written_by": by}
        self._session.execute(insert(table).values(**row))
        return True

    def _known(self, table: type[Written], values: Mapping[str, Any], hashed: str) -> bool:
        found = self._session.execute(select(table.content_hash).where(table.id == values["id"])).scalar_one_or_none()
        if found is not None and found != hashed:
            raise Conflict(
                f"The id {values['client_id']!r} was used before with other content. One id stands for one thing for ever. "
                "Send it under a new id, or load what is kept and correct that."
            )
        return found is not None

    def _enter(self, table: type[Written], values: Mapping[str, Any], hashed: str, entry: Entry) -> int:
        last = self._session.execute(
            select(Audit.sequence, Audit.entry_hash).order_by(Audit.sequence.desc()).limit(1)
        ).one_or_none()
        fields: dict[str, Any] = {
            "sequence": last.sequence + 1 if last else 1,
            "person_id": self._writer(),
            "role": self._context.role,
            "customer": self._context.customer,
            "at": self._context.at,
            "what": entry.what,
            "subject_kind": table.__tablename__,  # type: ignore[attr-defined]  # every table has its name
            "subject_id": values["id"],
            "development_id": entry.development_id,
            "reason": entry.reason,
            "content_hash": hashed,
            "previous_hash": last.entry_hash if last else FIRST_HASH,
        }
        self._session.execute(insert(Audit).values(**fields, entry_hash=entry_hash(fields)))
        return int(fields["sequence"])

    def _writer(self) -> str:
        return self._person(self._context.name, self._context.customer)

    def _person(self, name: str, customer: str | None) -> str:
        """Pseudonym of a person; the same name of another customer is another person."""
        return PeopleShelf(self._session).known(name, customer)
