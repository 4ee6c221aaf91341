"""Ovens and their versions."""

from __future__ import annotations

from sqlalchemy import func, select

from tuner.domain import Conflict, NotFound, Oven
from tuner.store.canonical import document_text
from tuner.store.ledger import Entry, Ledger, row_id
from tuner.store.reading import Reader, read_document
from tuner.store.records import Added, KeptOven, Origin, Stamp
from tuner.store.schema import OvenRow, OvenVersionRow


class OvenReader(Reader):
    """Reads ovens."""

    def all(self) -> tuple[KeptOven, ...]:
        """The ovens this customer may see, each in its newest version, in the order they were added."""
        newest = select(func.max(OvenVersionRow.sequence)).group_by(OvenVersionRow.oven_id)
        statement = self._rows(OvenVersionRow).where(OvenVersionRow.sequence.in_(newest)).order_by(OvenVersionRow.oven_id)
        found = [_kept(row, stamp) for row, stamp in self._fetch(statement)]
        order = {id_: rank for rank, id_ in enumerate(self._session.scalars(select(OvenRow.id).order_by(OvenRow.sequence)))}
        return tuple(sorted(found, key=lambda oven: order[oven.id]))

    def versions(self, oven_id: str, *, of_development: bool = False) -> tuple[KeptOven, ...]:
        """All versions of an oven, oldest first.

        Parameters
        ----------
        oven_id
            Which oven.
        of_development
            The oven is read for a development that this customer may see; then whose oven it is does not matter.

        Raises
        ------
        NotFound
            If there is no such oven, or none this customer may see.
        """
        statement = self._rows(OvenVersionRow, everyones=of_development).where(OvenVersionRow.oven_id == oven_id)
        found = self._fetch(statement.order_by(OvenVersionRow.number))
        if not found:
            raise NotFound(
                f"No oven has the id {oven_id!r}. It may have been mistyped, or belong to somebody else. Check the id."
            )
        return tuple(_kept(row, stamp) for row, stamp in found)

    def current(self, oven_id: str, *, of_development: bool = False) -> KeptOven:
        """The newest version of an oven; see `versions`.

        Raises
        ------
        NotFound
            If there is no such oven, or none this customer may see.
        """
        return self.versions(oven_id, of_development=of_development)[-1]


class OvenShelf(OvenReader):
    """Reads and writes ovens."""

    def __init__(self, reader: Reader, ledger: Ledger) -> None:
        super().__init__(reader._session, reader._customer)
        self._ledger = ledger

    def add(
        self, oven: Oven, *, client_id: str, customer: str | None, kept_id: str | None = None, origin: Origin | None = None
    ) -> Added:
        """Add an oven with its first version.

        Raises
        ------
        Conflict
            If the id was used before with other content.
        """
        text = document_text(oven)
        oven_id = kept_id or row_id("oven", customer or "", client_id)
        added = self._ledger.append(
            OvenRow,
            {"id": oven_id, "client_id": client_id, "customer": customer},
            content={"customer": customer, "document": text},
            entry=Entry("add oven"),
            origin=origin,
        )
        if added:
            self._add_version(oven_id, 1, text, client_id, customer, origin)
        return Added(oven_id, added)

    def add_version(self, oven_id: str, oven: Oven, *, client_id: str, number: int, origin: Origin | None = None) -> Added:
        """Add the next version of an oven.

        Raises
        ------
        Conflict
            If somebody else wrote that version first.
        NotFound
            If there is no such oven, or none this customer may see.
        """
        customer = self.current(oven_id).customer
        return self._add_version(oven_id, number, document_text(oven), client_id, customer, origin)

    def _add_version(
        self, oven_id: str, number: int, text: str, client_id: str, customer: str | None, origin: Origin | None
    ) -> Added:
        version_id = row_id("oven_version", oven_id, client_id)
        taken = select(OvenVersionRow.id).where(OvenVersionRow.oven_id == oven_id, OvenVersionRow.number == number)
        if self._session.scalar(taken) not in (None, version_id):
            raise Conflict(
                f"The oven was changed by somebody else while you worked on it: version {number} is there already. "
                "Load the oven again and make the change once more."
            )
        added = self._ledger.append(
            OvenVersionRow,
            {
                "id": version_id,
                "client_id": client_id,
                "customer": customer,
                "oven_id": oven_id,
                "number": number,
                "document": text,
            },
            content={"oven": oven_id, "document": text},
            entry=Entry("describe oven"),
            origin=origin,
        )
        return Added(version_id, added)


def _kept(row: OvenVersionRow, stamp: Stamp) -> KeptOven:
    oven = read_document(Oven, row.document, f"Version {row.number} of oven {row.oven_id}")
    return KeptOven(row.oven_id, row.customer, row.number, oven, stamp)
