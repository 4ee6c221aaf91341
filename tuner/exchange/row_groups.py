"""Which rows belong to one cook: a row a cook, a row a taster, a row a stage, a sheet of scores beside a sheet of cooks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from tuner.exchange.fields import FIELDS
from tuner.exchange.heading_words import plain
from tuner.exchange.mapping import ColumnUse
from tuner.exchange.number_text import read_number
from tuner.exchange.program_references import follow_references
from tuner.exchange.row_parts import (
    PROGRAM_FIELDS,
    Columns,
    Group,
    Grouping,
    explain_programs,
    further_stage,
    id_key,
    join_by_number,
    label_of,
    parts_of,
    says_something,
    told_programs,
)
from tuner.exchange.table import Row

_MAY_DIFFER = frozenset(
    {"note", "photo", "ignore", "computed", "cook_id", "history", "cooked_on", "cooked_at", "cook_name", "interrupted_by"}
)


_DITTO = frozenset(
    {
        '"',
        "''",
        "„",
        "〃",
        "ditto",
        "dito",
        "idem",
        "id.",
        "same",
        "s.o.",
        "do.",
        '"-"',
        '-"-',
        "-''-",
        "gleich",
        "wie oben",
        "igual",
        "same as above",
        "as above",
        "same again",
        "gleich wie oben",
        "siehe oben",
        "comme ci-dessus",
        "lo mismo",
        "como arriba",
        "come sopra",
        "uguale",
        "zelfde",
        "idem.",
        "↑",
    }
)


def without_dittos(rows: Sequence[Row]) -> list[Row]:
    """Rows in which marks for 'as above' are replaced by what stands above."""
    dittos = {cell for cell in {cell for row in rows for cell in row.cells} if cell.lower() in _DITTO}
    if not dittos:
        return list(rows)
    above: dict[str, list[str]] = {}
    filled: list[Row] = []
    for row in rows:
        known = above.get(row.part, [""] * len(row.cells))
        cells = [known[index] if cell in dittos else cell for index, cell in enumerate(row.cells)]
        above[row.part] = cells
        filled.append(replace(row, cells=tuple(cells)))
    return filled


def group_rows(rows: Sequence[Row], columns: Columns, by: str = "") -> Grouping:
    """Gather rows to cooks.

    Parameters
    ----------
    rows
        Rows of cooks, in order, of all parts.
    columns
        What the columns hold.
    by
        How rows belong together if that is settled: "cook_id", "row" or "run"; empty to find out.
    """
    result = Grouping([], [], [], by)
    good = [row for row in without_dittos(rows) if not row.problem]
    result.refused += [(row, row.problem) for row in rows if row.problem]
    good, legend = told_programs(good, columns)
    main, side, apart = parts_of(good, columns)
    result.repeated += [(row, "its part of the file holds no cooks") for row in apart]
    mode = by or _mode(main, columns)
    result.by = mode
    if mode == "cook_id":
        _by_id(main, columns, result)
    elif mode == "run":
        _by_run(main, columns, result)
    else:
        result.groups += [Group(label_of(row, columns), [row]) for row in main]
    join_by_number(side, columns, result)
    explain_programs(legend, columns, result)
    follow_references(result.groups, columns)
    return result


def _mode(rows: Sequence[Row], columns: Columns) -> str:
    """How rows belong together: by their number, in runs, or not at all."""
    shared = columns.has("taster", "stage_number", "place")
    labels = [id_key(label) for row in rows if (label := label_of(row, columns))]
    if len(labels) >= 0.3 * len(rows) and labels:
        if len(labels) == len(set(labels)):
            return "cook_id"
        trial = Grouping([], [], [], "cook_id")
        _by_id(rows, columns, trial)
        clashing = len({row.line for row, _ in trial.refused})
        if clashing > 0.5 * len(rows):
            return "run" if shared else "row"
        return "cook_id"
    return "run" if shared else "row"


def _day_key(row: Row, columns: Columns) -> str:
    return " ".join(cell for _, cell in columns.cells(row, "cooked_on", "cooked_at"))


def _by_id(rows: Sequence[Row], columns: Columns, result: Grouping) -> None:
    groups: dict[tuple[str, str, str], Group] = {}
    days: dict[tuple[str, str], str] = {}
    last: Group | None = None
    for row in rows:
        label = label_of(row, columns)
        if not label:
            goes_on = not columns.cells(row, *PROGRAM_FIELDS) or further_stage(row, columns)
            if last is not None and goes_on and not columns.cells(row, "mass_in", "cooked_on", "cooked_at"):
                last.rows.append(row)
            else:
                last = Group("", [row])
                groups[(row.part, "", str(row.line))] = last
            continue
        key = id_key(label)
        day = _day_key(row, columns) or days.get((row.part, key), "")
        days[(row.part, key)] = day
        last = groups.setdefault((row.part, key, day), Group(label))
        last.rows.append(row)
    for group in groups.values():
        _checked(group, columns, result)


def _by_run(rows: Sequence[Row], columns: Columns, result: Grouping) -> None:
    last: Group | None = None
    for row in rows:
        if last is not None and _continues(last, row, columns):
            last.rows.append(row)
        else:
            last = Group(label_of(row, columns), [row])
            result.groups.append(last)


def _continues(group: Group, row: Row, columns: Columns) -> bool:
    """Whether a row agrees with the rows before it in all that a cook has once, and adds a taster, stage or place."""
    for name in ("taster", "stage_number", "place"):
        new = [plain(cell) for _, cell in columns.cells(row, name)]
        old = [plain(cell) for earlier in group.rows for _, cell in columns.cells(earlier, name)]
        if new and new[0] in old:
            return False
    return not _clashes([*group.rows, row], columns) and group.rows[-1].part == row.part


def _clashes(rows: Sequence[Row], columns: Columns) -> list[tuple[ColumnUse, str, str]]:
    """Columns in which rows of one cook disagree, with the first two values."""
    staged = columns.has("stage_number") or any(further_stage(row, columns) for row in rows)
    free = {"taster"} | ({"stage"} if staged else set()) | ({"place"} if columns.has("place") else set())
    clashes = []
    for use in columns.uses:
        known = FIELDS[use.field]
        if use.field in _MAY_DIFFER or known.level in free or (known.level == "taster"):
            continue
        values = [row.cells[use.column] for row in rows if says_something(row.cells[use.column])]
        differing = next((value for value in values[1:] if not _same(values[0], value)), None)
        if differing is not None:
            clashes.append((use, values[0], differing))
    return clashes


def _same(one: str, other: str) -> bool:
    if plain(one) == plain(other):
        return True
    first, second = read_number(one, ""), read_number(other, "")
    return first is not None and second is not None and first.value == second.value and first.tail == second.tail


def _checked(group: Group, columns: Columns, result: Grouping) -> None:
    """Keep a group whose rows agree; refuse one whose rows say different things about one cook."""
    if len(group.rows) == 1:
        result.groups.append(group)
        return
    clashes = _clashes(group.rows, columns)
    if clashes:
        lines = " and ".join(str(row.line) for row in group.rows[:4])
        use, one, other = clashes[0]
        reason = (
            f"cook {group.label or '(no number)'} stands in rows {lines} with {use.words} {one!r} and {other!r}. One cook has one "
            f"{use.words}. Correct the number of the cook or the value, and import again"
        )
        result.refused += [(row, reason) for row in group.rows]
        return
    kept: list[Row] = []
    for row in group.rows:
        twin = next((known for known in kept if known.cells == row.cells), None)
        if twin is not None:
            result.repeated.append((row, f"says the same as row {twin.line} about cook {group.label}; it is taken once"))
        else:
            kept.append(row)
    group.rows = kept
    result.groups.append(group)
