"""Columns that hold two things in one cell, and things that stand in two columns, brought to one thing a column.

`Weight before/after` with `181/158` becomes two columns; `Min` and `Sec` side by side become one.
"""

from __future__ import annotations

import re
from dataclasses import replace

from tuner.exchange.heading_words import Said, said
from tuner.exchange.number_text import is_missing
from tuner.exchange.table import Column, Row, Table

_PAIR = re.compile(r"^\s*([+-]?\d+(?:[.,]\d+)?\s*[^\d/>→-]{0,4}?)\s*(?:/|\||->|=>|→|>|-|–)\s*([+-]?\d+(?:[.,]\d+)?.{0,6})$")
_NAMES = {"mass": ("mass before", "mass after"), "temp": ("start temperature", "core temperature")}


def single_columns(table: Table) -> Table:
    """The table with one thing a column; as it is where nothing is paired."""
    return _minutes_and_seconds(_befores_and_afters(table))


def _befores_and_afters(table: Table) -> Table:
    for index in range(len(table.columns)):
        kind = _kind(said(table.columns[index].leaf))
        cells = [cell for cell in table.values(index) if not is_missing(cell)] if kind else []
        if kind and cells and sum(1 for cell in cells if _PAIR.match(cell)) >= 0.8 * len(cells):
            return _befores_and_afters(_split(table, index, kind))
    return table


def _kind(heading: Said) -> str:
    both = {"start", "end"} <= heading.things
    return next((kind for kind in _NAMES if both and kind in heading.things), "")


def _split(table: Table, index: int, kind: str) -> Table:
    column = table.columns[index]
    unit = said(column.leaf).unit
    first, second = (f"{name} [{unit}]" if unit else name for name in _NAMES[kind])
    new = [replace(column, leaf=first, continued=False), replace(column, leaf=second, continued=False)]
    columns = _counted([*table.columns[:index], *new, *table.columns[index + 1 :]])
    return replace(table, columns=columns, rows=tuple(_split_row(row, index) for row in table.rows))


def _split_row(row: Row, index: int) -> Row:
    found = _PAIR.match(row.cells[index])
    pair = (found[1].strip(), found[2].strip()) if found else (row.cells[index], "")
    return replace(row, cells=(*row.cells[:index], *pair, *row.cells[index + 1 :]))


def _minutes_and_seconds(table: Table) -> Table:
    units = [_unit_alone(column) for column in table.columns]
    if units.count("min") != 1 or units.count("s") != 1:
        return table
    index = units.index("min")
    if index + 1 >= len(units) or units[index + 1] != "s" or not _both_count(table, index):
        return table
    group = " ".join(table.columns[index].groups)
    whole = replace(table.columns[index], groups=(), leaf=f"{group or 'duration'} [mm:ss]")
    columns = _counted([*table.columns[:index], whole, *table.columns[index + 2 :]])
    return replace(table, columns=columns, rows=tuple(_joined_row(row, index) for row in table.rows))


def _unit_alone(column: Column) -> str:
    heading = said(column.leaf)
    return heading.unit if heading.unit in ("min", "s") and not heading.things - {"seconds", "time"} else ""


def _both_count(table: Table, index: int) -> bool:
    """Whether both columns hold whole numbers, and the second none above 59."""
    rows = [row for row in table.rows if row.cells[index] and row.cells[index + 1]]
    return bool(rows) and all(
        row.cells[index].isdecimal() and row.cells[index + 1].isdecimal() and int(row.cells[index + 1]) < 60 for row in rows
    )


def _joined_row(row: Row, index: int) -> Row:
    minutes, seconds = row.cells[index : index + 2]
    told = f"{minutes}:{int(seconds):02d}" if minutes.isdecimal() and seconds.isdecimal() else f"{minutes} {seconds}".strip()
    return replace(row, cells=(*row.cells[:index], told, *row.cells[index + 2 :]))


def _counted(columns: list[Column]) -> tuple[Column, ...]:
    """Columns with their places counted anew within their parts."""
    seen: dict[str, int] = {}
    counted = []
    for column in columns:
        seen[column.part] = seen.get(column.part, 0) + 1
        counted.append(replace(column, position=seen[column.part]))
    return tuple(counted)
