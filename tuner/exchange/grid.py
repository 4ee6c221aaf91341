"""A sheet of cells as text, before anybody knows what the columns mean."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

Merge = tuple[int, int, int, int]
"""First row, first column, last row, last column of cells drawn as one; counted from 0."""


@dataclass(frozen=True, slots=True)
class GridRow:
    """One row: the line (or sheet row) where it begins, counted from 1, its cells, and how many it was written with (0: any)."""

    line: int
    cells: tuple[str, ...]
    length: int = 0
    comments: tuple[tuple[int, str], ...] = ()
    """Comments hung on its cells: column from 0, and text."""

    @property
    def filled(self) -> int:
        """Number of cells that hold anything."""
        return sum(1 for cell in self.cells if cell)


@dataclass(frozen=True, slots=True)
class Grid:
    """All rows of one sheet, equally long, with the cells that were merged.

    Attributes
    ----------
    name
        Name of the sheet, empty for a text file.
    merges
        Row numbers count from 0 within `rows`.
    turned
        True where rows and columns were swapped, because the sheet has one column a cook; `line` then counts columns.
    ragged
        Row numbers (within `rows`) that held more cells than the heading leaves room for.
    """

    name: str
    rows: tuple[GridRow, ...]
    merges: tuple[Merge, ...] = ()
    turned: bool = False

    @property
    def width(self) -> int:
        """Number of columns."""
        return len(self.rows[0].cells) if self.rows else 0

    def transposed(self) -> Grid:
        """Rows and columns swapped; the line of a row is the column it came from, counted from 1."""
        columns = zip(*(row.cells for row in self.rows), strict=True)
        hung: dict[int, list[tuple[int, str]]] = {}
        for place, row in enumerate(self.rows):
            for column, text in row.comments:
                hung.setdefault(column, []).append((place, text))
        rows = tuple(
            GridRow(number, tuple(cells), comments=tuple(hung.get(number - 1, ())))
            for number, cells in enumerate(columns, start=1)
        )
        merges = tuple((c1, r1, c2, r2) for r1, c1, r2, c2 in self.merges)
        return replace(self, rows=rows, merges=merges, turned=not self.turned)


def grid_of(name: str, rows: list[tuple[int, list[str]]], merges: tuple[Merge, ...] = ()) -> Grid:
    """Rows made equally long, without empty columns at the right and empty rows at the bottom."""
    cleaned = [(line, [tidy(cell) for cell in cells]) for line, cells in rows]
    width = max((index + 1 for _, cells in cleaned for index, cell in enumerate(cells) if cell), default=0)
    while cleaned and not any(cleaned[-1][1]):
        cleaned.pop()
    padded = tuple(GridRow(line, tuple((cells + [""] * width)[:width]), len(cells)) for line, cells in cleaned)
    return Grid(name, padded, merges)


_DROPPED = dict.fromkeys(code for code in range(32) if chr(code) not in "\n\t") | dict.fromkeys(
    [0x7F, 0x200B, 0x200C, 0x200D, 0x200E, 0x200F, 0xFEFF, 0xAD]
)
_SPACES = dict.fromkeys((9, 160, 8194, 8195, 8199, 8201, 8202, 8239, 12288), " ")
_TABLE = _DROPPED | _SPACES


_FORMULA_SIGNS = ("=", "+", "-", "@")


def tidy(cell: str) -> str:
    """A cell without control characters and outer blanks; every kind of blank is a plain one, line ends are kept.

    An apostrophe that keeps text from being a formula is dropped.
    """
    if cell.isascii() and cell.isprintable():  # most cells: nothing to drop but outer blanks
        bare = cell.strip()
        return bare[1:] if bare[:1] == "'" and bare[1:2] in _FORMULA_SIGNS else bare
    text = cell.replace("\r\n", "\n").replace("\r", "\n").translate(_TABLE)
    plain = text.encode("utf-8", "ignore").decode("utf-8").strip()
    return plain[1:] if re.match(r"'[=+\-@]", plain) else plain
