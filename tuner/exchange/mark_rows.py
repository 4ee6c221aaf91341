"""Logs with a row for each attribute and a column for each taster, turned into a column for each of both."""

from __future__ import annotations

from dataclasses import replace

from tuner.exchange.fields import candidates
from tuner.exchange.heading_words import said
from tuner.exchange.number_text import is_missing, read_number
from tuner.exchange.table import Column, Row, Table

_MOST_ATTRIBUTES = 30
_MARKED = frozenset({"browning", "texture", "moisture", "other", "reversed"})


def spread_mark_rows(table: Table) -> Table:
    """The table with a column for each attribute of each taster, where its rows are attributes; else as it is."""
    if len(table.parts) > 1:
        return table
    attribute = next((index for index in range(len(table.columns)) if _names_attributes(table, index)), None)
    if attribute is None:
        return table
    marked = [index for index in range(len(table.columns)) if index != attribute and _holds_marks(table, index, attribute)]
    if not marked:
        return table
    named = list(dict.fromkeys(row.cells[attribute] for row in table.rows if row.cells[attribute]))
    kept = [index for index in range(len(table.columns)) if index not in (attribute, *marked)]
    part = table.columns[attribute].part
    columns = [table.columns[index] for index in kept]
    columns += [
        Column(part, len(columns) + number, (), f"{name} {_taster(table.columns[index])}".strip(), False)
        for number, (index, name) in enumerate(((index, name) for index in marked for name in named), start=1)
    ]
    return replace(table, columns=tuple(columns), rows=tuple(_row(row, kept, marked, named, attribute) for row in table.rows))


def _names_attributes(table: Table, index: int) -> bool:
    cells = table.values(index)
    distinct = dict.fromkeys(cells)
    if len(distinct) > _MOST_ATTRIBUTES:
        return False
    told = [cell for cell in distinct if len(cell) <= 30 and said(cell).things & _MARKED]
    return len(told) >= 2 and len(told) == len(distinct) and len(cells) > len(told)


def _holds_marks(table: Table, index: int, attribute: int) -> bool:
    """Whether a column without another meaning holds nothing but numbers, beside attributes only."""
    heading = said(table.columns[index].leaf)
    found = candidates(heading)
    if found and found[0][0] not in ("taster", "scores", "ignore"):
        return False
    rows = [row for row in table.rows if row.cells[index] and not is_missing(row.cells[index])]
    numbers = [read_number(row.cells[index], "") for row in rows]
    return bool(rows) and all(row.cells[attribute] for row in rows) and all(one and len(one.tail) <= 3 for one in numbers)


def _taster(column: Column) -> str:
    """The heading where it names a taster, and nothing where it only says that marks stand below."""
    heading = said(column.leaf)
    return "" if heading.things and not heading.rest and not heading.numbers else column.leaf


def _row(row: Row, kept: list[int], marked: list[int], named: list[str], attribute: int) -> Row:
    own = row.cells[attribute]
    marks = [row.cells[index] if own == name else "" for index in marked for name in named]
    return replace(row, cells=(*(row.cells[index] for index in kept), *marks))
