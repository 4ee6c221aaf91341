"""A workbook (.xlsx) to grids of text: cells as they are shown, merged cells known, bombs refused before they open."""

from __future__ import annotations

import io
import re
import zipfile
import zlib
from collections.abc import Iterator
from dataclasses import replace
from typing import Any
from xml.etree.ElementTree import ParseError

from openpyxl import load_workbook
from openpyxl.utils.cell import range_boundaries
from openpyxl.utils.exceptions import InvalidFileException

from tuner.domain import InvalidDocument
from tuner.exchange.bounds import (
    MAX_CELL_CHARACTERS,
    MAX_COLUMNS,
    MAX_ROWS,
    MAX_SHEETS,
    MAX_UNPACKED_BYTES,
    check_count,
)
from tuner.exchange.cell_comments import comments_of
from tuner.exchange.grid import Grid, Merge, grid_of
from tuner.exchange.shown_value import NOT_CALCULATED, shown

_MERGE = re.compile(rb'<(?:\w+:)?mergeCell\s[^>]*?ref="([A-Z]{1,3}\d{1,7}:[A-Z]{1,3}\d{1,7})"')
_MAX_MERGES = 5_000
_LAST_ROW = 200_000
"""Last row of a sheet that is looked at; rows of nothing but formats may reach far below the log."""


def read_workbook(data: bytes) -> list[Grid]:
    """Grids of all sheets that are not hidden, in order.

    Raises
    ------
    InvalidDocument
        If it is no workbook, is damaged, or is larger than is read.
    """
    try:
        formulas = _inspect(data)
        return _grids(data, formulas=formulas)
    except InvalidDocument:
        raise
    except zipfile.BadZipFile as error:
        raise _damaged(error) from error
    except RecursionError as error:
        raise _damaged("it is nested too deeply") from error
    except (InvalidFileException, ParseError, zlib.error, KeyError, ValueError, TypeError, AttributeError, IndexError) as error:
        raise _damaged(error) from error
    # What the reader and the unpacker raise on damaged or hostile files, as seen with random bytes and cut workbooks.
    except (EOFError, OSError, RuntimeError, NotImplementedError, OverflowError, AssertionError, SyntaxError) as error:
        raise _damaged(error) from error


def _damaged(why: object) -> InvalidDocument:
    return InvalidDocument(
        [f"The workbook can't be read ({str(why)[:120]}). Open it, save it as a new .xlsx or as CSV, and choose that."]
    )


def _inspect(data: bytes) -> bool:
    """Check size and kind before opening; tells whether any sheet holds formulas."""
    with zipfile.ZipFile(io.BytesIO(data)) as packed:
        parts = packed.infolist()
        unpacked = sum(part.file_size for part in parts)
        if unpacked > MAX_UNPACKED_BYTES or len(parts) > 2000:
            raise InvalidDocument(
                [
                    f"The workbook unpacks to {unpacked / 1e6:.0f} MB in {len(parts)} parts. "
                    f"At most {MAX_UNPACKED_BYTES / 1e6:.0f} MB "
                    "are opened. Keep the cook log in a workbook of its own."
                ]
            )
        names = {part.filename for part in parts}
        if "mimetype" in names and b"opendocument" in packed.read("mimetype"):
            raise InvalidDocument(
                ["The file is an OpenDocument sheet (.ods). Cook logs are read as CSV or XLSX. Save it as one of these."]
            )
        if not any(name.startswith("xl/") for name in names):
            raise InvalidDocument(
                ["The file is a packed file but no workbook. Cook logs are read as CSV or XLSX. Unpack it first."]
            )
        sheets = [name for name in names if re.fullmatch(r"xl/worksheets/[^/]+\.xml", name)]
        check_count(len(sheets), MAX_SHEETS, "sheets", "The workbook")
        return any(re.search(rb"<(?:\w+:)?f[ >/]", packed.read(name)) for name in sheets)


def _grids(data: bytes, *, formulas: bool) -> list[Grid]:
    values = load_workbook(io.BytesIO(data), read_only=True, data_only=True)
    written = load_workbook(io.BytesIO(data), read_only=True, data_only=False) if formulas else None
    grids: list[Grid] = []
    total = 0
    try:
        for sheet in values.worksheets:
            if sheet.sheet_state != "visible":
                continue
            merges = _merges(data, sheet)
            rows = list(_rows(sheet, written[sheet.title] if written else None))
            total += len(rows)
            check_count(total, MAX_ROWS, "rows", "The workbook")
            grids.append(_with_comments(grid_of(sheet.title, *_from_first(rows, merges)), data, sheet))
    finally:
        values.close()
        if written:
            written.close()
    return grids


def _with_comments(grid: Grid, data: bytes, sheet: Any) -> Grid:
    """The grid with the comments that hang on its cells."""
    with zipfile.ZipFile(io.BytesIO(data)) as packed:
        found = comments_of(packed, str(sheet._worksheet_path))
    if not found:
        return grid
    hung: dict[int, list[tuple[int, str]]] = {}
    for (line, column), text in sorted(found.items()):
        hung.setdefault(line, []).append((column, text))
    return replace(grid, rows=tuple(replace(row, comments=tuple(hung.get(row.line, ()))) for row in grid.rows))


def _from_first(
    rows: list[tuple[int, list[str]]], merges: list[Merge]
) -> tuple[list[tuple[int, list[str]]], tuple[Merge, ...]]:
    """Rows with merges counted along them (rows of a sheet count from 1)."""
    at = {line: index for index, (line, _) in enumerate(rows)}
    kept = [
        (at[r1 + 1], c1, max(index for line, index in at.items() if r1 + 1 <= line <= r2 + 1), c2)
        for r1, c1, r2, c2 in merges
        if r1 + 1 in at
    ]
    return rows, tuple(kept)


def _rows(sheet: Any, written: Any) -> Iterator[tuple[int, list[str]]]:
    """Shown text of each row that a sheet holds, empty rows left out."""
    sheet.reset_dimensions()
    if written is not None:
        written.reset_dimensions()
    other = written.iter_rows() if written is not None else None
    seen = 0
    for position, cells in enumerate(sheet.iter_rows(), start=1):
        beside = next(other, ()) if other is not None else ()
        if position > _LAST_ROW:
            raise InvalidDocument(
                [f"The sheet {sheet.title!r} reaches beyond row {_LAST_ROW}. Delete the empty rows below the log."]
            )
        check_count(len(cells), MAX_COLUMNS * 4, "columns", f"The sheet {sheet.title!r}")
        texts = [_text(cell, beside[index] if index < len(beside) else None) for index, cell in enumerate(cells)]
        if any(texts):
            seen += 1
            check_count(seen, MAX_ROWS, "rows", f"The sheet {sheet.title!r}")
            width = max(index + 1 for index, text in enumerate(texts) if text)
            check_count(width, MAX_COLUMNS, "columns", f"The sheet {sheet.title!r}")
            yield position, texts[:width]


def _text(cell: Any, written: Any) -> str:
    value = cell.value
    if value is None:
        formula = written is not None and getattr(written, "data_type", "") == "f"
        return NOT_CALCULATED if formula else ""
    text = shown(value, getattr(cell, "number_format", "General") or "General")
    check_count(len(text), MAX_CELL_CHARACTERS, "characters", f"The cell {cell.coordinate}")
    return text


def _merges(data: bytes, sheet: Any) -> list[Merge]:
    """Merged ranges of a sheet; the reading mode that keeps memory small does not tell them."""
    path = str(sheet._worksheet_path)
    with zipfile.ZipFile(io.BytesIO(data)) as packed:
        found = _MERGE.findall(packed.read(path))
    merges = []
    for reference in found[:_MAX_MERGES]:
        first_column, first_row, last_column, last_row = range_boundaries(reference.decode("ascii"))
        merges.append((int(first_row) - 1, int(first_column) - 1, int(last_row) - 1, int(last_column) - 1))
    return merges
