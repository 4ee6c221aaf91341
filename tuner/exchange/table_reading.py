"""Bytes of a cook log to one table of text: which kind of file it is, where its tables stand, which way round."""

from __future__ import annotations

import json
import re

from tuner.domain import InvalidDocument
from tuner.exchange.bounds import MAX_COLUMNS, MAX_LOG_BYTES, check_count, check_size
from tuner.exchange.decoding import decode
from tuner.exchange.fields import candidates
from tuner.exchange.grid import Grid, GridRow
from tuner.exchange.heading_words import plain, said
from tuner.exchange.headings import Block, ColumnName, blocks_of, sense
from tuner.exchange.long_form import is_long_heading, spread_long_form
from tuner.exchange.mark_rows import spread_mark_rows
from tuner.exchange.paired_columns import single_columns
from tuner.exchange.separated_text import read_separated
from tuner.exchange.sheet_cutting import cut_apart
from tuner.exchange.table import Column, Row, Table
from tuner.exchange.workbook import read_workbook

_MOST_LINES_TURNED = 400
"""Lines of the longest sheet that may have a column a cook."""


def read_table(data: bytes, filename: str) -> Table:
    """Read a cook log as a table of text.

    Parameters
    ----------
    data
        The file: CSV or other separated text in any usual encoding, or a workbook (.xlsx). What it is is told by its
        content, never by its name.
    filename
        Name of the file, kept for messages.

    Raises
    ------
    InvalidDocument
        If it is no such file, is damaged, empty, or larger than is read (see `bounds`).
    """
    check_size(data, MAX_LOG_BYTES, "The file")
    name = re.split(r"[\\/]", filename)[-1][:200] or "file"
    if data.startswith((b"PK\x03\x04", b"PK\x05\x06")):
        return _spread(_joined(name, read_workbook(data), "xlsx"))
    text, encoding = decode(data)
    if re.match(r"\s*<(?:!doctype|html|\?xml|table)", text, re.IGNORECASE):
        raise InvalidDocument(
            ["The file is a web page or XML. Cook logs are read as CSV or XLSX. Open it and save it as one of these."]
        )
    if _is_json(text):
        raise InvalidDocument(
            ["The file is JSON. Cook logs are read as CSV or XLSX; an export of this tool is read back as an export."]
        )
    return _spread(_joined(name, [read_separated(text, sense)], encoding))


def _is_json(text: str) -> bool:
    if not text.lstrip().startswith(("{", "[")):
        return False
    try:
        json.loads(text)
    except (ValueError, RecursionError):
        return False
    return True


def _spread(table: Table) -> Table:
    return single_columns(spread_mark_rows(spread_long_form(table)))


def _joined(filename: str, grids: list[Grid], encoding: str) -> Table:
    """One table of all parts; parts with the same headings share columns."""
    upright = [_upright(piece) for grid in grids for piece in cut_apart(grid)]
    found = [(grid, block) for grid in upright for block in blocks_of(grid)]
    useful = [(grid, block) for grid, block in found if block.rows]
    if any(block.named >= 2 for _, block in useful):
        useful = [(grid, block) for grid, block in useful if block.named >= 2]
    if not useful:
        raise InvalidDocument(
            ["The file holds no rows below its headings. A cook log has a line for each cook. Choose another file."]
        )
    columns: list[Column] = []
    known: dict[tuple[tuple[tuple[str, ...], str], ...], tuple[str, int]] = {}
    placed: list[tuple[str, tuple[str, int], Grid, Block]] = []
    for grid, block in useful:
        layout = tuple((tuple(plain(group) for group in name.groups), plain(name.leaf)) for name in block.names)
        part = _part_name(grid, block, len(useful))
        if layout not in known:
            known[layout] = (part, len(columns))
            columns.extend(
                Column(part, position, name.groups, name.leaf, name.continued)
                for position, name in enumerate(block.names, start=1)
            )
        placed.append((part, known[layout], grid, block))
    check_count(len(columns), MAX_COLUMNS, "columns", "The file")
    rows = tuple(
        row for part, shared, _, block in placed for row in _rows(block, part, shared, len(columns), ragged=encoding != "xlsx")
    )
    titles = tuple(tuple(cell for cell in row.cells if cell) for _, block in found for row in block.titles)
    turned = any(grid.turned for grid, _ in useful)
    parts = tuple(dict.fromkeys(part for part, *_ in placed))
    names = tuple(grid.name for grid in grids if grid.name)
    return Table(filename, names, parts, tuple(columns), rows, titles, turned, encoding)


def _part_name(grid: Grid, block: Block, count: int) -> str:
    first = block.heading_lines[0] if block.heading_lines else 1
    return grid.name or (f"table in line {first}" if count > 1 else "")


def _upright(grid: Grid) -> Grid:
    """The sheet with one row a cook; turned where the headings stand in the first columns instead."""
    if not grid.rows or any(is_long_heading(row.cells) for row in grid.rows[:60]):
        return grid
    if len(grid.rows) > _MOST_LINES_TURNED:
        return grid
    across = max((sense(row.cells) for row in grid.rows[:60]), default=0)
    down = max((_sense_down(grid, column) for column in range(min(3, grid.width))), default=0)
    return grid.transposed() if down >= 4 and down > 1.5 * across else grid


def _sense_down(grid: Grid, column: int) -> int:
    cells = tuple(dict.fromkeys(row.cells[column] for row in grid.rows))
    strong = sum(1 for cell in cells if (found := candidates(said(cell))) and found[0][1] >= 4)
    return min(strong, sense(cells))


def _rows(block: Block, part: str, shared: tuple[str, int], width: int, *, ragged: bool) -> list[Row]:
    """Rows with their cells at the columns they share; longer ones than the heading are marked."""
    named = max((index + 1 for index, name in enumerate(block.names) if _has_name(name)), default=len(block.names))
    longer = [row for row in block.rows if any(row.cells[named:])]
    shifted = longer if len(longer) < 0.5 * len(block.rows) and named < len(block.names) else []
    if block.written and ragged:
        shifted = [row for row in block.rows if any(row.cells[block.written :])]
    rows = []
    for row in block.rows:
        problem = ""
        if row in shifted:
            problem = (
                f"has {_length(row)} cells where the heading has {named}: often a decimal comma without quotes. "
                "Correct that row and import again"
            )
        cells = [""] * width
        layout, offset = shared
        cells[offset : offset + len(row.cells)] = row.cells
        hung = tuple(
            f"{block.names[column].text or 'comment'}: {text}" for column, text in row.comments if column < len(block.names)
        )
        rows.append(Row(part, row.line, tuple(cells), problem, layout, hung))
    return rows


def _has_name(name: ColumnName) -> bool:
    return bool(name.leaf or name.groups) and not name.continued


def _length(row: GridRow) -> int:
    return max((index + 1 for index, cell in enumerate(row.cells) if cell), default=0)
