"""Records: anything that is written once and kept, as JSON under a kind, of a development or of the house.

Proof plans and results, recipes, releases, signatures, accounts: what such a record means is known to whoever writes it. The
shelf sees to what all of them need: one client-made id for one content, who wrote it when and for whom, an entry in the audit
trail, order of writing, and corrections as new rows.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from sqlalchemy import Select, select

from tuner.domain import Conflict, InvalidDocument
from tuner.store.canonical import Plain, canonical_text
from tuner.store.ledger import Entry, Ledger, row_id
from tuner.store.reading import Reader, no_such, read_plain, the_one
from tuner.store.records import Added, KeptDevelopment, KeptRecord, Origin
from tuner.store.schema import RecordRow

_KIND = re.compile(r"[a-z][a-z0-9_]{0,59}")


@dataclass(frozen=True, slots=True)
class RecordEntry:
    """One record to be written.

    Attributes
    ----------
    kind
        What it is: small letters, digits and underscores, as `proof_result`.
    content
        Plain JSON; `schema_version` says in which form.
    client_id
        Made by whoever sends it; unique within the kind and the development (or the customer, without a development).
    about
        Id of what it is about, where that is neither the development nor a row it corrects: a release, a site.
    corrects, reason
        Id of the record it corrects, and why; a record is corrected once, its correction may be corrected again.
    kept_id
        Id it had where it comes from, when it is restored.
    """

    kind: str
    content: Mapping[str, Plain]
    client_id: str
    schema_version: int = 1
    about: str | None = None
    corrects: str | None = None
    reason: str | None = None
    kept_id: str | None = None


class RecordReader(Reader):
    """Reads records, in the order of writing. A superseded one is marked, and left out where only current ones are asked."""

    def of_development(
        self, development_id: str, kind: str | None = None, *, current_only: bool = False
    ) -> tuple[KeptRecord, ...]:
        """Records of a development; of one kind, or of all."""
        statement = self._rows(RecordRow).where(RecordRow.development_id == development_id)
        return self._kept(statement if kind is None else statement.where(RecordRow.kind == kind), current_only)

    def of_kind(self, kind: str, *, about: str | None = None, current_only: bool = False) -> tuple[KeptRecord, ...]:
        """Records of a kind that this customer may see, of all developments and of none; about one thing, or about any."""
        statement = self._rows(RecordRow).where(RecordRow.kind == kind)
        return self._kept(statement if about is None else statement.where(RecordRow.about == about), current_only)

    def one(self, record_id: str) -> KeptRecord:
        """One record.

        Raises
        ------
        NotFound
            If there is none of that id, or none this customer may see.
        """
        kept = self._kept(self._rows(RecordRow).where(RecordRow.id == record_id), False)
        if not kept:
            raise no_such("record", record_id)
        return kept[0]

    def newest(self, development_id: str, kind: str) -> KeptRecord | None:
        """The record of a kind that was written last for a development, None if there is none."""
        kept = self.of_development(development_id, kind, current_only=True)
        return kept[-1] if kept else None

    def _kept(self, statement: Select[RecordRow, str | None, str | None], current_only: bool) -> tuple[KeptRecord, ...]:
        found = self._fetch(statement.order_by(RecordRow.sequence))
        corrected = self._corrected_of([row.id for row, _ in found])
        return tuple(
            KeptRecord(
                id=row.id,
                kind=row.kind,
                development_id=row.development_id,
                customer=row.customer,
                about=row.about,
                schema_version=row.schema_version,
                content=read_plain(row.document),
                corrects=row.corrects,
                superseded=row.id in corrected,
                reason=row.reason,
                stamp=stamp,
            )
            for row, stamp in found
            if not (current_only and row.id in corrected)
        )

    def _corrected_of(self, ids: list[str]) -> frozenset[str]:
        """Those of `ids` that a later row corrects; in batches, for databases take a limited number of values."""
        found: set[str] = set()
        for start in range(0, len(ids), 500):
            batch = ids[start : start + 500]
            found.update(
                row for row in self._session.scalars(select(RecordRow.corrects).where(RecordRow.corrects.in_(batch))) if row
            )
        return frozenset(found)


class RecordShelf(RecordReader):
    """Reads and writes records."""

    def __init__(self, reader: Reader, ledger: Ledger) -> None:
        super().__init__(reader._session, reader._customer)
        self._ledger = ledger

    def add(self, development: KeptDevelopment, entry: RecordEntry, *, origin: Origin | None = None) -> Added:
        """Add a record of a development, or a correction of one.

        Raises
        ------
        Conflict
            If the id was used before with other content, or somebody corrected the same record first.
        InvalidDocument
            If the kind is no legal name, a correction has no reason, or the content is not plain JSON.
        NotFound
            If the record to be corrected is not one of this development and kind.
        """
        return self._add(entry, development.id, development.customer, development.id, origin)

    def add_general(self, entry: RecordEntry, *, customer: str | None, origin: Origin | None = None) -> Added:
        """Add a record that belongs to no development: to a customer, or to the house (None).

        Raises
        ------
        Conflict
            If the id was used before with other content, or somebody corrected the same record first.
        InvalidDocument
            If the kind is no legal name, a correction has no reason, or the content is not plain JSON.
        NotFound
            If the record to be corrected is not one of this customer and kind.
        """
        return self._add(entry, None, customer, f"customer {customer or ''}", origin)

    def _add(
        self, entry: RecordEntry, development_id: str | None, customer: str | None, scope: str, origin: Origin | None
    ) -> Added:
        if not _KIND.fullmatch(entry.kind):
            raise InvalidDocument(
                [f"kind is {entry.kind!r}. A kind is small letters, digits and underscores, 60 at most. Correct the name."]
            )
        if entry.corrects is not None and not (entry.reason or "").strip():
            raise InvalidDocument(["reason is missing. A correction says why. Add a reason."])
        record_id = entry.kept_id or row_id(f"record {entry.kind}", scope, entry.client_id)
        if entry.corrects is not None:
            self._refuse_second_correction(entry, development_id, customer, record_id)
        text = _text(entry)
        values = {"id": record_id, "client_id": entry.client_id, "customer": customer, "development_id": development_id}
        fixed = {
            "kind": entry.kind,
            "about": entry.about,
            "schema_version": entry.schema_version,
            "corrects": entry.corrects,
            "reason": entry.reason,
            "document": text,
        }
        added = self._ledger.append(
            RecordRow,
            {**values, **fixed},
            content={"development": development_id, "customer": customer, **fixed},
            entry=Entry(f"{'correct' if entry.corrects else 'record'} {_words(entry)}", development_id, entry.reason),
            origin=origin,
        )
        return Added(record_id, added)

    def _refuse_second_correction(
        self, entry: RecordEntry, development_id: str | None, customer: str | None, record_id: str
    ) -> None:
        statement = select(RecordRow).where(
            RecordRow.id == entry.corrects,
            RecordRow.kind == entry.kind,
            RecordRow.development_id.is_not_distinct_from(development_id),
            RecordRow.customer.is_not_distinct_from(customer),
        )
        the_one(
            self._session.scalars(statement),
            f"{_words(entry)} of this development",
            entry.corrects or "",
        )
        other = self._session.scalar(select(RecordRow.id).where(RecordRow.corrects == entry.corrects))
        if other not in (None, record_id):
            raise Conflict(
                f"This {_words(entry)} was corrected by somebody else while you worked on it. A record is corrected once. "
                "Load it again and correct the newest one."
            )


def _words(entry: RecordEntry) -> str:
    return entry.kind.replace("_", " ")


def _text(entry: RecordEntry) -> str:
    try:
        return canonical_text(dict(entry.content))
    except (TypeError, ValueError) as error:
        raise InvalidDocument(
            [f"The {_words(entry)} can't be kept as JSON ({error}). Only text, finite numbers, lists and objects are kept."]
        ) from error
