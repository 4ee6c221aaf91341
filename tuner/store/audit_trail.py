"""Reading the audit trail, and checking that nothing in it was changed."""

from __future__ import annotations

from collections.abc import Iterator

from sqlalchemy import Select, func, select

from tuner.store.ledger import AUDITED, FIRST_HASH, entry_hash
from tuner.store.reading import FORGOTTEN, Reader
from tuner.store.records import AuditEntry
from tuner.store.schema import Audit, Person

_PAGE = 1000


class AuditReader(Reader):
    """Reads the audit trail."""

    def entries(self, development_id: str | None = None) -> tuple[AuditEntry, ...]:
        """Entries in order; of one development, or all this customer may see."""
        statement = select(Audit, Person.name).join(Person, Person.id == Audit.person_id).order_by(Audit.sequence)
        if self._customer is not None:
            statement = statement.where(Audit.customer == self._customer)
        if development_id is not None:
            statement = statement.where(Audit.development_id == development_id)
        return tuple(_kept(row, name) for row, name in self._session.execute(statement))

    def head(self) -> tuple[int, str]:
        """Sequence and hash of the newest entry of the whole chain; (0, first hash) when empty."""
        newest: Select[int, str] = select(Audit.sequence, Audit.entry_hash).order_by(Audit.sequence.desc()).limit(1)
        found = self._session.execute(newest).one_or_none()
        return (found[0], found[1]) if found else (0, FIRST_HASH)

    def first_broken(self) -> int | None:
        """Sequence of the first entry that no longer agrees with its hash or with the one before it; None if all agree."""
        previous, expected = FIRST_HASH, 1
        for row in self._all_rows():
            fields = {name: getattr(row, name) for name in AUDITED}
            if row.sequence != expected or row.previous_hash != previous or row.entry_hash != entry_hash(fields):
                return row.sequence
            previous, expected = row.entry_hash, expected + 1
        return None

    def _all_rows(self) -> Iterator[Audit]:
        """The whole chain, a page at a time: it may be long, and a reader that stops early leaves no cursor open."""
        last = -1
        while page := self._session.scalars(
            select(Audit).where(Audit.sequence > last).order_by(Audit.sequence).limit(_PAGE)
        ).all():
            yield from page
            last = page[-1].sequence
            self._session.expunge_all()

    def count(self) -> int:
        """Number of entries of the whole chain."""
        return self._session.scalar(select(func.count()).select_from(Audit)) or 0


def _kept(row: Audit, name: str | None) -> AuditEntry:
    fields = {field: getattr(row, field) for field in (*AUDITED, "entry_hash")}
    return AuditEntry(by=name or FORGOTTEN, **fields)
