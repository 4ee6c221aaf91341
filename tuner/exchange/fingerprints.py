"""Fingerprints: of a layout, so that its mapping is remembered, and of a cook, so that nothing goes in twice."""

from __future__ import annotations

import hashlib
import json
from collections import Counter
from collections.abc import Iterable, Mapping
from typing import Any

from tuner.exchange.heading_words import plain
from tuner.exchange.mapping import ColumnUse
from tuner.exchange.row_parts import id_key
from tuner.exchange.table import Table


def layout_of(table: Table) -> str:
    """Fingerprint of a table's headings, their order and their grouping; the rows do not count."""
    columns = [[[plain(group) for group in column.groups], plain(column.leaf), column.continued] for column in table.columns]
    text = json.dumps([columns, table.turned], ensure_ascii=False, separators=(",", ":"))
    return "layout-" + hashlib.sha256(text.encode()).hexdigest()[:24]


def reading_of(table: Table, answers: Mapping[str, str], columns: Iterable[ColumnUse]) -> str:
    """Fingerprint of a reading: everything the table holds, the answers, and what a person chose."""
    chosen = [use.model_dump(mode="json") for use in columns if use.by_person]
    told = json.dumps([dict(answers), chosen], ensure_ascii=False, sort_keys=True)
    return hashlib.sha256(f"{_content_of(table)} {told}".encode()).hexdigest()[:24]


def _content_of(table: Table) -> str:
    digest = hashlib.sha256(layout_of(table).encode())
    for row in table.rows:
        digest.update("\x1f".join((row.part, str(row.line), *row.cells, "\n")).encode())
    for title in table.titles:
        digest.update("\x1f".join(title).encode())
    return digest.hexdigest()


class CookIds:
    """Ids of cooks by their content.

    The same cook gets the same id in every file. Of cooks that agree in everything, the second gets another id than the
    first, in every file alike, so that true replicates are kept and a file read again adds nothing.
    """

    def __init__(self) -> None:
        self._seen: Counter[str] = Counter()

    def of(self, content: dict[str, Any], label: str) -> str:
        """Id of a cook's document, with the log's own number of it."""
        bare = {key: value for key, value in content.items() if key not in ("client_id", "history", "confirmed")}
        text = json.dumps([_rounded(bare), id_key(label) if label else ""], ensure_ascii=False, sort_keys=True)
        self._seen[text] += 1
        return "log-" + hashlib.sha256(f"{text}#{self._seen[text]}".encode()).hexdigest()[:40]


class RowMarks:
    """Fingerprints of rows as they stand in a layout, whatever is made of them; of equal rows the second differs from the first."""

    def __init__(self, table: Table) -> None:
        self._layout = layout_of(table)
        self._seen: Counter[str] = Counter()

    def of_row(self, cells: Iterable[str]) -> str:
        """Mark of a row by its cells."""
        return self._numbered(["row", *(plain(cell) for cell in cells)])

    def of_number(self, label: str) -> str:
        """Mark of a cook's number in the log, empty where it has none."""
        return self._numbered(["number", id_key(label)]) if label else ""

    def _numbered(self, parts: list[str]) -> str:
        text = json.dumps([self._layout, *parts], ensure_ascii=False)
        self._seen[text] += 1
        return hashlib.sha256(f"{text}#{self._seen[text]}".encode()).hexdigest()[:24]


def _rounded(value: Any) -> Any:
    """Numbers to six decimals, so that the last digit of a conversion makes no other cook."""
    if isinstance(value, bool) or not isinstance(value, int | float | dict | list | tuple):
        return value
    if isinstance(value, dict):
        return {key: _rounded(part) for key, part in value.items()}
    if isinstance(value, list | tuple):
        return [_rounded(part) for part in value]
    return round(float(value), 6)
