"""Where the headings of a sheet stand, over how many rows, and what each column is called.

Titles and remarks may stand above, groups ("Core" over "1, 2, 3") and units may have rows of their own, and a second table
may follow below the first.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from tuner.exchange.fields import candidates
from tuner.exchange.grid import Grid, GridRow
from tuner.exchange.heading_words import plain, said, unit_named
from tuner.exchange.number_text import looks_numeric

_SEARCHED_ROWS = 80
_MOST_GROUP_ROWS = 3
_LONGEST_HEADING = 60
_UNIT_WORDS = frozenset("unit units einheit einheiten unite unites unidad unidades unita eenheid eenheden".split())


@dataclass(frozen=True, slots=True)
class ColumnName:
    """What stands above one column: groups from the top, then its own heading; `continued` where it has none of its own."""

    groups: tuple[str, ...]
    leaf: str
    continued: bool = False

    @property
    def text(self) -> str:
        """Everything in one line."""
        return " ".join(part for part in (*self.groups, self.leaf) if part)


@dataclass(frozen=True, slots=True)
class Block:
    """One table within a sheet: its heading rows, the name of each column, and its rows."""

    titles: tuple[GridRow, ...]
    names: tuple[ColumnName, ...]
    heading_lines: tuple[int, ...]
    rows: tuple[GridRow, ...]
    named: int
    written: int = 0
    """Number of cells the heading was written with; 0 where that says nothing."""


def sense(cells: tuple[str, ...]) -> int:
    """Number of cells that make sense as headings of a cook log."""
    return sum(1 for cell in cells if _names_something(cell))


def blocks_of(grid: Grid) -> tuple[Block, ...]:
    """The tables of a sheet, from the top; one without names where no row makes sense as headings."""
    starts = _heading_rows(grid)
    if not starts:
        return (_unnamed(grid),) if grid.rows else ()
    blocks: list[Block] = []
    for number, (first, last) in enumerate(starts):
        above = grid.rows[(starts[number - 1][1] + 1) : first] if number else grid.rows[:first]
        ends = starts[number + 1][0] if number + 1 < len(starts) else len(grid.rows)
        names = _names(grid, first, last, ends)
        lines = tuple(row.line for row in grid.rows[first : last + 1])
        titles = tuple(row for row in above if row.filled) if number == 0 else ()
        written = max(row.length for row in grid.rows[first : last + 1])
        rows = _filled_down(grid, last + 1, ends)
        blocks.append(Block(titles, names, lines, rows, sense(tuple(n.text for n in names)), written))
    return tuple(blocks)


def _names_something(cell: str) -> bool:
    if not cell or len(cell) > _LONGEST_HEADING or len(cell.split()) > 8 or looks_numeric(cell):
        return False
    found = candidates(said(cell))
    return bool(found) and found[0][1] >= 3


def _numeric(row: GridRow) -> int:
    return sum(1 for cell in row.cells if cell and looks_numeric(cell))


def _heading_rows(grid: Grid) -> list[tuple[int, int]]:
    """First and last row of each heading."""
    numbers = [_numeric(row) for row in grid.rows]
    scores = [  # below the searched rows only a row without numbers can be a heading
        -1.0 if count and index >= _SEARCHED_ROWS else sense(row.cells) - 0.7 * count
        for index, (row, count) in enumerate(zip(grid.rows, numbers, strict=True))
    ]
    best = max(range(min(len(scores), _SEARCHED_ROWS)), key=lambda index: (scores[index], -index), default=None)
    if best is None or scores[best] < 1.2:
        return []
    found = [_grown(grid, best)]
    for index in range(found[0][1] + 1, len(grid.rows)):
        row = grid.rows[index]
        if index <= found[-1][1] or scores[index] < 3 or numbers[index] or sense(row.cells) < 0.6 * row.filled:
            continue
        if not any(_same(row, grid.rows[known]) for first, last in found for known in range(first, last + 1)):
            found.append(_grown(grid, index, floor=found[-1][1] + 1))
    return found


def _same(one: GridRow, other: GridRow) -> bool:
    return [plain(cell) for cell in one.cells] == [plain(cell) for cell in other.cells]


def _grown(grid: Grid, best: int, floor: int = 0) -> tuple[int, int]:
    first = last = best
    while first > floor and best - first < _MOST_GROUP_ROWS and _is_group_row(grid, first - 1, first):
        first -= 1
    while last + 1 < len(grid.rows) and last - best < 2 and _is_sub_row(grid.rows[last], grid.rows[last + 1]):
        last += 1
    return first, last


def _is_group_row(grid: Grid, index: int, below: int) -> bool:
    """Whether a row above headings holds groups, and is no title, no remark and no `Oven: Left`."""
    row, under = grid.rows[index], grid.rows[below]
    if under.line - row.line > 1 and not grid.turned:
        return False
    filled = [column for column, cell in enumerate(row.cells) if cell]
    if not filled or any(looks_numeric(row.cells[c]) or row.cells[c].endswith(":") or len(row.cells[c]) > 40 for c in filled):
        return False
    if any(r1 == index and c2 - c1 + 1 >= 0.8 * grid.width for r1, c1, _, c2 in grid.merges):
        return False
    if len(filled) == 1:
        return filled[0] > 0 and bool(said(row.cells[filled[0]]).things)
    wide = under.filled > 4
    return not (wide and max(filled) <= 1)


def _is_unit(cell: str) -> bool:
    return (
        plain(cell).strip(" .:") in _UNIT_WORDS
        or bool(unit_named(cell.strip("[](){} ")))
        or bool(re.fullmatch(r"[\[(]?\s*\d{1,2}\s*[-–.]{1,2}\s*\d{1,3}\s*[\])]?", cell))
    )


def _is_sub_row(above: GridRow, row: GridRow) -> bool:
    """Whether a row continues headings: units, or what stands under groups."""
    filled = [column for column, cell in enumerate(row.cells) if cell]
    if not filled:
        return False
    units = [c for c in filled if _is_unit(row.cells[c]) and not row.cells[c].isdecimal()]
    named = [c for c in filled if _names_something(row.cells[c])]
    others = [c for c in filled if c not in units and c not in named]
    if others and not all(_under_group(above, row, column) for column in others):
        return False
    if units and len(units) + len(named) >= len(filled) - len(others) and not others and len(units) >= len(named):
        return True
    if others:
        numbers = [row.cells[c] for c in others]
        short = all(len(number) <= 12 and (not number.isdecimal() or int(number) <= 30) for number in numbers)
        return short and not any(looks_numeric(number) and not number.isdecimal() for number in numbers)
    return (
        bool(named) and len(named) >= 2 and all(_under_group(above, row, column) or not above.cells[column] for column in named)
    )


def _under_group(above: GridRow, row: GridRow, column: int) -> bool:
    """Whether the heading above a cell is empty, or spreads over the next columns too."""
    if not above.cells[column]:
        return True
    after = column + 1
    return after < len(row.cells) and not above.cells[after] and bool(row.cells[after])


def _names(grid: Grid, first: int, last: int, ends: int) -> tuple[ColumnName, ...]:
    spread = [_spread(grid, index, first, last) for index in range(first, last)]
    bottom = list(grid.rows[last].cells)
    used = [any(row.cells[column] for row in grid.rows[last + 1 : ends]) for column in range(grid.width)]
    names: list[ColumnName] = []
    filled = [cell for cell in bottom if cell]
    unit_row = sum(1 for cell in filled if _is_unit(cell)) >= 0.5 * len(filled)
    for column in range(grid.width):
        parts = [cells[column] for cells in spread] + [bottom[column]]
        own = [cells[column] for cells in (row.cells for row in grid.rows[first : last + 1]) if cells[column]]
        if own:
            leaf = own[-1]
            groups = _distinct([part for part in parts if part and part != leaf])
            if _is_unit(leaf) and groups and (unit_row or len(leaf) > 1):  # a row of units: the heading is what stands above
                unit = "" if plain(leaf).strip(" .:") in _UNIT_WORDS else f" [{leaf.strip('[](){} ')}]"
                leaf, groups = f"{groups[-1]}{unit}", groups[:-1]
            names.append(ColumnName(groups, leaf))
        elif used[column] and names and (names[-1].leaf or names[-1].groups):
            names.append(ColumnName(names[-1].groups, names[-1].leaf, continued=True))
        else:
            names.append(ColumnName((), ""))
    return tuple(names)


def _distinct(parts: list[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(parts))


def _spread(grid: Grid, index: int, first: int, last: int) -> list[str]:
    """A row of groups written over all columns they stand above: as merged, or as far as the next group."""
    cells = list(grid.rows[index].cells)
    merges = [merge for merge in grid.merges if merge[0] <= index <= merge[2] and merge[3] > merge[1]]
    for r1, c1, _, c2 in merges:
        for column in range(c1, min(c2 + 1, len(cells))):
            cells[column] = cells[column] or grid.rows[r1].cells[c1]
    if merges:
        return cells
    for column in range(1, len(cells)):
        below = any(grid.rows[lower].cells[column] for lower in range(index + 1, last + 1))
        if not cells[column] and below:
            cells[column] = cells[column - 1]
    return cells if first <= index else []


def _filled_down(grid: Grid, begins: int, ends: int) -> tuple[GridRow, ...]:
    """Rows of a table; what was merged over several rows stands in each of them."""
    cells = [list(row.cells) for row in grid.rows]
    for r1, c1, r2, _ in grid.merges:
        if r1 >= begins and r2 > r1 and c1 < grid.width:
            for index in range(r1 + 1, min(r2, ends - 1) + 1):
                cells[index][c1] = cells[index][c1] or cells[r1][c1]
    return tuple(
        GridRow(row.line, tuple(cells[begins + number]), row.length, row.comments)
        for number, row in enumerate(grid.rows[begins:ends])
    )


def _unnamed(grid: Grid) -> Block:
    """A table without headings that make sense: the first row is taken as headings only where it holds no number."""
    top = next((index for index, row in enumerate(grid.rows) if row.filled >= 2), 0)
    row = grid.rows[top]
    if row.filled >= 2 and not _numeric(row):
        names = tuple(ColumnName((), cell) for cell in row.cells)
        return Block(grid.rows[:top], names, (row.line,), _filled_down(grid, top + 1, len(grid.rows)), 0)
    return Block(grid.rows[:top], tuple(ColumnName((), "") for _ in row.cells), (), _filled_down(grid, top, len(grid.rows)), 0)
