"""Which rows of a table are cooks, and which are blank, sum up others, repeat the headings, or only say something."""

from __future__ import annotations

import re
from collections.abc import Sequence
from statistics import median
from typing import Literal

from tuner.exchange.cell_words import TOTALS
from tuner.exchange.heading_words import plain
from tuner.exchange.number_text import Decimal, is_missing, looks_numeric, read_number
from tuner.exchange.table import Row, Table

RowKind = Literal["cook", "blank", "total", "heading", "text"]

_NAMES_TOO = frozenset({"max", "min", "best", "media", "moy", "mw", "count"})
"""Words of totals that are people's names or codes as well."""
_BESIDE_TOTALS = frozenset(
    {"of", "all", "cooks", "rows", "values", "the", "n", "row", "line", "value", "cook", "runs", "aller", "der", "des", "dev"}
)


def row_kinds(table: Table) -> tuple[RowKind, ...]:
    """Kind of each row, in order."""
    usual = median([_filled(row) for row in table.rows if _filled(row)] or [0])
    headings = {
        tuple(plain(column.leaf) for column in table.columns if column.part == part)
        for part in {column.part for column in table.columns}
    }
    kinds = [_kind(row, usual, headings, table) for row in table.rows]
    for index in _after_a_gap(kinds):
        if kinds[index] == "cook" and _sums_up(
            table.rows[index], [row for row, kind in zip(table.rows[:index], kinds, strict=False) if kind == "cook"]
        ):
            kinds[index] = "total"
    return tuple(kinds)


def _filled(row: Row) -> int:
    return sum(1 for cell in row.cells if cell)


def _kind(row: Row, usual: float, headings: set[tuple[str, ...]], table: Table) -> RowKind:
    filled = [cell for cell in row.cells if cell]
    if not filled or all(is_missing(cell) for cell in filled):
        return "blank"
    own = tuple(plain(cell) for column, cell in zip(table.columns, row.cells, strict=True) if column.part == row.layout)
    if own in headings or (len(filled) >= 3 and _repeats(own, headings)):
        return "heading"
    if _is_total(filled, usual):
        return "total"
    if len(filled) == 1 and usual >= 3 and not looks_numeric(filled[0]):
        return "text"
    return "cook"


def _repeats(own: tuple[str, ...], headings: set[tuple[str, ...]]) -> bool:
    return any(
        sum(1 for a, b in zip(own, known, strict=False) if a and a == b) >= 0.7 * len([a for a in own if a])
        for known in headings
    )


def _is_total(filled: Sequence[str], usual: float) -> bool:
    """Whether the words before the first number are words of totals."""
    for cell in filled[:4]:
        if looks_numeric(cell):
            return False
        words = [word for word in re.findall(r"[^\W\d_]+|[ø∑σ⌀]", plain(cell)) if word]
        told = [word for word in words if word in TOTALS]
        if told and len(words) <= 5 and all(word in TOTALS or word in _BESIDE_TOTALS for word in words):
            return not (set(told) <= _NAMES_TOO and len(filled) >= 0.8 * usual)
    return False


def _after_a_gap(kinds: Sequence[RowKind]) -> list[int]:
    """The last two rows, and rows right below a blank one: where sums without a name stand."""
    at = [index for index in range(1, len(kinds)) if kinds[index - 1] == "blank"]
    return sorted({*at, *range(max(3, len(kinds) - 2), len(kinds))})


def _sums_up(row: Row, above: Sequence[Row]) -> bool:
    """Whether the numbers of a row are the means or sums of those above, to their last digit."""
    if len(above) < 3 or _counts_on(row, above):
        return False
    checked = hit = differing = numbers = 0
    for column, cell in enumerate(row.cells):
        number = _number(cell)
        if number is None:
            continue
        numbers += 1
        values = [value for value in (_number(other.cells[column]) for other in above) if value is not None]
        if len(values) < 3:
            continue
        checked += 1
        step = 0.5000001 * 10 ** -len(re.sub(r"^[^.,]*[.,]?", "", cell.strip())) if re.fullmatch(r"[\d.,+-]+", cell) else 0.01
        alike = abs(number - sum(values) / len(values)) <= step or abs(number - sum(values)) <= step
        hit += alike
        differing += alike and max(values) > min(values)
    return checked >= 3 and checked >= 0.6 * numbers and hit >= 0.8 * checked and differing >= 2


def _counts_on(row: Row, above: Sequence[Row]) -> bool:
    """Whether the row goes on with the numbers of the cooks: then it is one of them, whatever its values."""
    column = next((index for index, cell in enumerate(row.cells) if cell), 0)
    numbers = [int(other.cells[column]) for other in above if other.cells[column].isdecimal() and len(other.cells[column]) < 7]
    own = row.cells[column]
    return own.isdecimal() and bool(numbers) and numbers == sorted(numbers) and int(own) == numbers[-1] + 1


def _number(cell: str, mark: Decimal = "") -> float | None:
    found = read_number(cell, mark) if cell else None
    return found.value if found is not None and len(found.tail) <= 3 else None
