"""Logs with a row for each value (cook, attribute, value) turned into rows of cooks, before anything is guessed."""

from __future__ import annotations

from dataclasses import replace

from tuner.exchange.fields import candidates
from tuner.exchange.heading_words import plain, said
from tuner.exchange.number_text import is_missing
from tuner.exchange.table import Column, Row, Table


def is_long_heading(cells: tuple[str, ...]) -> bool:
    """Whether a row of headings names both attributes and values."""
    things = [said(cell).things for cell in cells if cell and len(cell) <= 30]
    return any("attribute" in told for told in things) and any("value" in told for told in things)


def spread_long_form(table: Table) -> Table:
    """The table with a column for each attribute, where it has a column of attributes and one of values; else as it is."""
    places = {name: _column(table, name) for name in ("attribute", "value", "unitword")}
    attribute, value = places["attribute"], places["value"]
    if attribute is None or value is None or len(table.parts) > 1:
        return table
    named = list(dict.fromkeys(row.cells[attribute] for row in table.rows if row.cells[attribute]))
    telling = [name for name in named if (found := candidates(said(name.replace("_", " ")))) and found[0][1] >= 3]
    if len(telling) < 0.5 * len(named) or not 2 <= len(named) <= 80:
        return table
    kept = [index for index in range(len(table.columns)) if index not in (attribute, value, places["unitword"])]
    part = table.columns[attribute].part
    columns = [table.columns[index] for index in kept]
    columns += [Column(part, len(columns) + number, (), name, False) for number, name in enumerate(named, start=1)]
    return replace(table, columns=tuple(columns), rows=_rows(table, kept, named, attribute, value, places["unitword"]))


def _column(table: Table, thing: str) -> int | None:
    return next((index for index, column in enumerate(table.columns) if thing in said(column.leaf).things), None)


def _rows(table: Table, kept: list[int], named: list[str], attribute: int, value: int, unit: int | None) -> tuple[Row, ...]:
    """One row for each combination of the other columns, a further one where an attribute comes again."""
    gathered: dict[tuple[str, ...], list[tuple[Row, dict[str, str]]]] = {}
    for row in table.rows:
        if not row.cells[attribute]:
            continue
        key = tuple(plain(row.cells[index]) for index in kept)
        rows = gathered.setdefault(key, [(row, {})])
        if row.cells[attribute] in rows[-1][1]:
            rows.append((row, {}))
        told = row.cells[unit] if unit is not None and not is_missing(row.cells[unit]) else ""
        rows[-1][1][row.cells[attribute]] = f"{row.cells[value]} {told}".strip() if told not in ("-", "1") else row.cells[value]
    return tuple(
        replace(row, cells=(*(row.cells[index] for index in kept), *(cells.get(name, "") for name in named)))
        for rows in gathered.values()
        for row, cells in rows
    )
