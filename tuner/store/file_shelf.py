"""Kept files: photos and issued pages, exactly as they came in or went out, found by the SHA-256 of their bytes."""

from __future__ import annotations

import hashlib

from tuner.store.ledger import Entry, Ledger, row_id
from tuner.store.reading import Reader, the_one
from tuner.store.records import Added, KeptDevelopment, KeptFile, Origin
from tuner.store.schema import FileRow


def file_hash(data: bytes) -> str:
    """SHA-256 of a file's bytes, in hexadecimal: the name it is kept under."""
    return hashlib.sha256(data).hexdigest()


class FileReader(Reader):
    """Reads kept files."""

    def get(self, sha256: str) -> KeptFile:
        """The file with these bytes.

        Raises
        ------
        NotFound
            If there is none, or none this customer may see.
        """
        found = self._fetch(self._rows(FileRow).where(FileRow.sha256 == sha256).order_by(FileRow.sequence).limit(1))
        row = the_one((row for row, _ in found), "file", sha256)
        return KeptFile(row.id, row.development_id, row.customer, row.media_type, row.sha256, row.data, found[0][1])

    def of_development(self, development_id: str) -> tuple[KeptFile, ...]:
        """All files of a development, in the order they were kept."""
        statement = self._rows(FileRow).where(FileRow.development_id == development_id).order_by(FileRow.sequence)
        return tuple(
            KeptFile(row.id, row.development_id, row.customer, row.media_type, row.sha256, row.data, stamp)
            for row, stamp in self._fetch(statement)
        )


class FileShelf(FileReader):
    """Reads and writes kept files."""

    def __init__(self, reader: Reader, ledger: Ledger) -> None:
        super().__init__(reader._session, reader._customer)
        self._ledger = ledger

    def keep(self, development: KeptDevelopment, data: bytes, *, media_type: str, origin: Origin | None = None) -> Added:
        """Keep a file of a development; the same bytes twice are kept once.

        Raises
        ------
        Conflict
            If the same bytes are kept under another media type.
        """
        sha256 = file_hash(data)
        file_id = row_id("kept_file", development.id, sha256)
        values = {"id": file_id, "client_id": sha256, "customer": development.customer, "development_id": development.id}
        added = self._ledger.append(
            FileRow,
            {**values, "media_type": media_type, "sha256": sha256, "data": data},
            content={"development": development.id, "media_type": media_type, "sha256": sha256},
            entry=Entry("keep file", development.id),
            origin=origin,
        )
        return Added(file_id, added)
