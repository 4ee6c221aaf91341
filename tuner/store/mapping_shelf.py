"""How layouts of cook logs were read."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from sqlalchemy import func, select

from tuner.store.canonical import canonical_text
from tuner.store.ledger import Entry, Ledger, row_id
from tuner.store.reading import Reader, read_plain
from tuner.store.records import Added, KeptMapping, Origin
from tuner.store.schema import MappingRow


class MappingReader(Reader):
    """Reads remembered mappings."""

    def newest(self, layout: str) -> KeptMapping | None:
        """How files of this layout were read last, None if never by anybody this customer may see."""
        statement = self._rows(MappingRow).where(MappingRow.layout == layout).order_by(MappingRow.sequence.desc()).limit(1)
        return next(iter(self._kept(statement)), None)

    def all(self) -> tuple[KeptMapping, ...]:
        """The newest mapping of every layout, in the order they were written."""
        last = select(func.max(MappingRow.sequence)).group_by(MappingRow.layout, MappingRow.customer)
        return self._kept(self._rows(MappingRow).where(MappingRow.sequence.in_(last)).order_by(MappingRow.sequence))

    def _kept(self, statement: Any) -> tuple[KeptMapping, ...]:
        return tuple(
            KeptMapping(row.layout, row.customer, read_plain(row.document), stamp) for row, stamp in self._fetch(statement)
        )


class MappingShelf(MappingReader):
    """Reads and writes remembered mappings."""

    def __init__(self, reader: Reader, ledger: Ledger) -> None:
        super().__init__(reader._session, reader._customer)
        self._ledger = ledger

    def remember(
        self, layout: str, mapping: Mapping[str, Any], *, client_id: str, customer: str | None, origin: Origin | None = None
    ) -> Added:
        """Keep how a layout was read.

        Raises
        ------
        Conflict
            If the id was used before with other content.
        """
        mapping_id = row_id("import_mapping", f"{customer or ''}\x1f{layout}", client_id)
        text = canonical_text(dict(mapping))
        added = self._ledger.append(
            MappingRow,
            {"id": mapping_id, "client_id": client_id, "customer": customer, "layout": layout, "document": text},
            content={"layout": layout, "document": text},
            entry=Entry("remember mapping"),
            origin=origin,
        )
        return Added(mapping_id, added)
