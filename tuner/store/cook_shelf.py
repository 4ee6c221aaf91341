"""Test cooks as logged, and their corrections."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from sqlalchemy import func, select

from tuner.domain import Conflict, TestCook
from tuner.store.canonical import canonical_text, document_text
from tuner.store.ledger import Entry, Ledger, row_id
from tuner.store.reading import Reader, read_document, read_plain, the_one
from tuner.store.records import Added, KeptCook, KeptDevelopment, Origin, Stamp
from tuner.store.schema import CookRow


@dataclass(frozen=True, slots=True)
class CookEntry:
    """One cook to be written.

    Attributes
    ----------
    corrects, reason
        Id of the row it corrects, and why; None for a new cook.
    source
        `live`, or where it came from.
    may_taste
        What each taster said when asked, None where nobody was asked.
    oven_version
        Version of the oven it was cooked on.
    """

    cook: TestCook
    client_id: str
    corrects: str | None = None
    reason: str | None = None
    source: str = "live"
    may_taste: Mapping[str, bool] | None = None
    oven_version: int = 1
    brief_version: int | None = None
    number: int | None = None
    kept_id: str | None = None


class CookReader(Reader):
    """Reads cooks."""

    def of_development(self, development_id: str) -> tuple[KeptCook, ...]:
        """All rows of a development in the order of logging, superseded ones included."""
        found = self._fetch(self._rows(CookRow).where(CookRow.development_id == development_id).order_by(CookRow.sequence))
        corrected = {row.corrects for row, _ in found}
        return tuple(_kept(row, stamp, row.id in corrected) for row, stamp in found)

    def one(self, cook_id: str) -> KeptCook:
        """One row.

        Raises
        ------
        NotFound
            If there is none of that id, or none this customer may see.
        """
        found = self._fetch(self._rows(CookRow).where(CookRow.id == cook_id))
        row = the_one((row for row, _ in found), "cook", cook_id)
        corrected = self._session.scalar(select(CookRow.id).where(CookRow.corrects == cook_id)) is not None
        return _kept(row, found[0][1], corrected)

    def known_client_ids(self, development_id: str) -> frozenset[str]:
        """Client-made ids of all rows of a development."""
        return frozenset(self._session.scalars(select(CookRow.client_id).where(CookRow.development_id == development_id)))


class CookShelf(CookReader):
    """Reads and writes cooks."""

    def __init__(self, reader: Reader, ledger: Ledger) -> None:
        super().__init__(reader._session, reader._customer)
        self._ledger = ledger

    def add(self, development: KeptDevelopment, entry: CookEntry, *, origin: Origin | None = None) -> Added:
        """Add a cook or a correction.

        Raises
        ------
        Conflict
            If the id was used before with other content, or somebody corrected the same row first.
        NotFound
            If the row to be corrected is not one of this development.
        """
        cook_id = entry.kept_id or row_id("cook", development.id, entry.client_id)
        text = document_text(entry.cook)
        number = self._number(development.id, entry, cook_id)
        values = {"id": cook_id, "client_id": entry.client_id, "customer": development.customer}
        columns = {
            "development_id": development.id,
            "number": number,
            "corrects": entry.corrects,
            "reason": entry.reason,
            "source": entry.source,
            "may_taste": None if entry.may_taste is None else canonical_text(dict(entry.may_taste)),
            "brief_version": entry.brief_version or development.brief_version,
            "oven_version": entry.oven_version,
            "document": text,
        }
        added = self._ledger.append(
            CookRow,
            {**values, **columns},
            content={"development": development.id, "corrects": entry.corrects, "reason": entry.reason, "document": text},
            entry=Entry("correct cook" if entry.corrects else "log cook", development.id, entry.reason),
            origin=origin,
        )
        return Added(cook_id, added)

    def _number(self, development_id: str, entry: CookEntry, cook_id: str) -> int:
        if entry.corrects is not None:
            return self._corrected(development_id, entry.corrects, cook_id).number
        if entry.number is not None and not self._taken(development_id, entry.number, cook_id):
            return entry.number
        last = self._session.scalar(select(func.max(CookRow.number)).where(CookRow.development_id == development_id))
        return (last or 0) + 1

    def _taken(self, development_id: str, number: int, cook_id: str) -> bool:
        """Whether another cook has this number: two copies of a development may have gone on counting apart."""
        holder = select(CookRow.id).where(
            CookRow.development_id == development_id, CookRow.number == number, CookRow.corrects.is_(None)
        )
        return any(found != cook_id for found in self._session.scalars(holder))

    def _corrected(self, development_id: str, corrects: str, cook_id: str) -> CookRow:
        found = self._session.scalars(select(CookRow).where(CookRow.id == corrects, CookRow.development_id == development_id))
        row = the_one(found, "cook of this development", corrects)
        other = self._session.scalar(select(CookRow.id).where(CookRow.corrects == corrects))
        if other not in (None, cook_id):
            raise Conflict(
                f"Cook {row.number} was corrected by somebody else while you worked on it. A row is corrected once. "
                "Load the development again and correct the newest row."
            )
        return row


def _kept(row: CookRow, stamp: Stamp, superseded: bool) -> KeptCook:
    return KeptCook(
        id=row.id,
        development_id=row.development_id,
        number=row.number,
        cook=read_document(TestCook, row.document, f"Cook {row.number} of development {row.development_id}"),
        corrects=row.corrects,
        superseded=superseded,
        reason=row.reason,
        source=row.source,
        may_taste=None if row.may_taste is None else read_plain(row.may_taste),
        brief_version=row.brief_version,
        oven_version=row.oven_version,
        stamp=stamp,
    )
