"""Sheets that hold several things beside or below each other: the log going on in a second block, and a form a cook."""

from __future__ import annotations

import itertools
import re
from dataclasses import replace

from tuner.exchange.fields import candidates
from tuner.exchange.grid import Grid, GridRow
from tuner.exchange.heading_words import plain, said

_LABELLED = re.compile(r"^([^:=]{2,40}?)\s*[:=]\s*(\S.*)$", re.DOTALL)
_LEAST_LABELS = 4
_LEAST_COLUMNS = 4


def cut_apart(grid: Grid) -> tuple[Grid, ...]:
    """The sheet as grids that hold one log each: blocks side by side one by one, forms below each other as rows."""
    forms = _forms_as_rows(grid)
    if forms is not None:
        return (forms,)
    return _blocks_beside(grid)


def _blocks_beside(grid: Grid) -> tuple[Grid, ...]:
    """Blocks whose headings come again further right in the same row."""
    if grid.merges:
        return (grid,)
    for row in grid.rows[:20]:
        names = [plain(cell) for cell in row.cells]
        starts = _starts_again(names)
        if starts:
            edges = [*starts, grid.width]
            return tuple(_columns(grid, begin, end) for begin, end in itertools.pairwise(edges))
    return (grid,)


def _starts_again(names: list[str]) -> list[int]:
    """Where the same headings, in the same order, begin; empty where they do not come again."""
    first = next((index for index, name in enumerate(names) if name), None)
    if first is None or not _names_a_cook(names[first]):
        return []
    starts = [index for index, name in enumerate(names) if name == names[first]]
    if len(starts) < 2:
        return []
    edges = [*starts, len(names)]
    blocks = [tuple(name for name in names[begin:end] if name) for begin, end in itertools.pairwise(edges)]
    return starts if len(set(blocks)) == 1 and len(blocks[0]) >= _LEAST_COLUMNS else []


def _names_a_cook(name: str) -> bool:
    return any(field in ("cook_id", "cooked_on", "cooked_at") for field, _ in candidates(said(name)))


def _columns(grid: Grid, begin: int, end: int) -> Grid:
    rows = tuple(replace(row, cells=row.cells[begin:end], length=0) for row in grid.rows)
    rows = tuple(row for row in rows if any(row.cells))
    width = max((index + 1 for row in rows for index, cell in enumerate(row.cells) if cell), default=0)
    return replace(grid, rows=tuple(replace(row, cells=row.cells[:width]) for row in rows))


def _forms_as_rows(grid: Grid) -> Grid | None:
    """One row for each form (a label and its value on each line), where the same labels come again below."""
    pairs = [_pair(row) for row in grid.rows]
    labels = [plain(pair[0]) for pair in pairs if pair]
    if len(labels) < 2 * _LEAST_LABELS or len(labels) < 0.7 * sum(1 for row in grid.rows if row.filled):
        return None
    first = next((label for label in labels if labels.count(label) > 1 and _names_field(label)), None)
    if first is None:
        return None
    forms: list[tuple[int, dict[str, str]]] = []
    shown: dict[str, str] = {}
    for row, pair in zip(grid.rows, pairs, strict=True):
        if pair is None:
            continue
        label = plain(pair[0])
        if label == first:
            forms.append((row.line, {}))
        if not forms:
            continue
        held = forms[-1][1]
        shown.setdefault(label, pair[0])
        held[label] = f"{held[label]} / {pair[1]}" if label in held else pair[1]
    named = [label for label in shown if _names_field(label)]
    alike = [label for label in shown if sum(label in held for _, held in forms) >= 0.6 * len(forms)]
    if len(forms) < 2 or len(named) < _LEAST_LABELS or len(alike) < 0.6 * len(shown):
        return None
    heading = GridRow(grid.rows[0].line, tuple(shown.values()))
    rows = [GridRow(line, tuple(held.get(label, "") for label in shown)) for line, held in forms]
    return Grid(grid.name, (heading, *rows))


def _pair(row: GridRow) -> tuple[str, str] | None:
    """Label and value of a line of a form; values and units in further cells are put behind each other."""
    filled = [cell for cell in row.cells if cell]
    if len(filled) == 1:
        found = _LABELLED.match(filled[0])
        return (found[1].strip(), found[2].strip()) if found else None
    if not 2 <= len(filled) <= 5 or not row.cells[0] or re.match(r"[\d+-]", filled[0]):
        return None
    label, *values = filled
    joined = values[0] if len(values) == 1 else " ".join(values) if _is_unit_last(values) else " / ".join(values)
    return label.rstrip(" :="), joined


def _is_unit_last(values: list[str]) -> bool:
    return len(values) == 2 and bool(said(values[1]).unit) and not any(char.isdigit() for char in values[1])


def _names_field(label: str) -> bool:
    found = candidates(said(label))
    return bool(found) and found[0][1] >= 3 and found[0][0] not in ("ignore", "computed")
