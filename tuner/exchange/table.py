"""A file as one table of text: columns with what stands above them, rows with their lines, before anything is guessed."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Column:
    """One column: the part of the file it stands in, its place there (from 1), and what stands above it."""

    part: str
    position: int
    groups: tuple[str, ...]
    leaf: str
    continued: bool

    @property
    def heading(self) -> str:
        """What stands above it, in one line; its place where nothing does."""
        text = " ".join(piece for piece in (*self.groups, self.leaf) if piece)
        return text or f"column {self.position}"


@dataclass(frozen=True, slots=True)
class Row:
    """One row.

    Attributes
    ----------
    part
        The part of the file it stands in.
    line
        Its line there, from 1.
    cells
        A cell for each column of the table.
    problem
        What is wrong with it, empty for nothing.
    layout
        The part whose columns it uses: its own, or an earlier one with the same headings.
    comments
        Comments hung on its cells, each with the heading it stands under.
    """

    part: str
    line: int
    cells: tuple[str, ...]
    problem: str = ""
    layout: str = ""
    comments: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Table:
    """A file as text.

    Attributes
    ----------
    filename
        As given, without folders.
    sheets
        Names of the visible sheets of a workbook; empty for a text file.
    parts
        The tables found, by sheet and heading; rows and columns name theirs.
    columns
        Columns of all parts; parts with the same headings share them.
    rows
        Rows of all parts, in order, without headings.
    titles
        Lines above the headings and below the rows, which may say units, names and days for all rows.
    turned
        True where the file has one column a cook; lines are then columns.
    encoding
        How the text was read; `xlsx` for a workbook.
    """

    filename: str
    sheets: tuple[str, ...]
    parts: tuple[str, ...]
    columns: tuple[Column, ...]
    rows: tuple[Row, ...]
    titles: tuple[tuple[str, ...], ...]
    turned: bool
    encoding: str

    def values(self, column: int) -> tuple[str, ...]:
        """Filled cells of a column, from the top."""
        return tuple(row.cells[column] for row in self.rows if row.cells[column])

    @property
    def where(self) -> str:
        """What `line` counts, for messages."""
        return "column" if self.turned else "line"
