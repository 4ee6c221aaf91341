"""Which rows belong to one cook: a row a cook, a row a taster, a row a stage, a sheet of scores beside a sheet of cooks."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace

from tuner.exchange.fields import FIELDS
from tuner.exchange.heading_words import plain
from tuner.exchange.mapping import ColumnUse
from tuner.exchange.number_text import is_missing, read_number
from tuner.exchange.table import Row

_PROGRAM = frozenset(
    {"program", "program_name", "stage", "stage_share", "stage_air", "stage_microwave", "air_temperature", "duration"}
)
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
    }
)


@dataclass
class Group:
    """Rows of one cook, in order, with the log's own number of it."""

    label: str
    rows: list[Row] = field(default_factory=list)


@dataclass
class Grouping:
    """Cooks as rows; rows refused with reasons; rows skipped because they repeat another."""

    groups: list[Group]
    refused: list[tuple[Row, str]]
    repeated: list[tuple[Row, str]]
    by: str


class Columns:
    """The columns of a mapping, looked up by what they hold."""

    def __init__(self, uses: Iterable[ColumnUse]) -> None:
        self.uses = tuple(uses)
        self._by_field: dict[str, list[ColumnUse]] = {}
        self._found: dict[tuple[str, ...], list[ColumnUse]] = {}
        for use in self.uses:
            self._by_field.setdefault(use.field, []).append(use)

    def of(self, *names: str) -> list[ColumnUse]:
        """Columns that hold one of these fields, from the left."""
        if names not in self._found:
            self._found[names] = [use for use in self.uses if use.field in names]
        return self._found[names]

    def has(self, *names: str) -> bool:
        """Whether any column holds one of these fields."""
        return any(name in self._by_field for name in names)

    def cells(self, row: Row, *names: str) -> list[tuple[ColumnUse, str]]:
        """Filled cells of a row that hold one of these fields; marks for missing values are left out."""
        return [(use, row.cells[use.column]) for use in self.of(*names) if _said(row.cells[use.column])]

    def in_part(self, part: str) -> Columns:
        """Columns that stand in one part of the file."""
        return Columns(use for use in self.uses if use.part == part)


def _said(cell: str) -> bool:
    return bool(cell) and not is_missing(cell)


def without_dittos(rows: Sequence[Row]) -> list[Row]:
    """Rows in which marks for 'as above' are replaced by what stands above."""
    above: dict[str, list[str]] = {}
    filled: list[Row] = []
    for row in rows:
        known = above.get(row.part, [""] * len(row.cells))
        cells = [known[index] if cell.lower() in _DITTO else cell for index, cell in enumerate(row.cells)]
        above[row.part] = cells
        filled.append(replace(row, cells=tuple(cells)))
    return filled


def id_key(text: str) -> str:
    """A cook's number without signs that vary: `#7`, `7.0` and `No 7` are one."""
    number = re.fullmatch(r"[#\s]*(?:(?:no|nr|n)[.°]?\s*)?(\d+)(?:[.,]0+)?\.?", plain(text).strip())
    return number[1].lstrip("0") or "0" if number else plain(text).strip()


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
    good, legend = _legend(good, columns)
    main, side, apart = _parts(good, columns)
    result.repeated += [(row, "its part of the file holds no cooks") for row in apart]
    mode = by or _mode(main, columns)
    result.by = mode
    if mode == "cook_id":
        _by_id(main, columns, result)
    elif mode == "run":
        _by_run(main, columns, result)
    else:
        result.groups += [Group(_label(row, columns), [row]) for row in main]
    _join(side, columns, result)
    _explain(legend, columns, result)
    return result


def _legend(rows: Sequence[Row], columns: Columns) -> tuple[list[Row], dict[str, list[Row]]]:
    """Rows without those of a part that only says what named programs are, and these by the name of the program."""
    layouts = dict.fromkeys(row.layout for row in rows)
    own = {layout: columns.in_part(layout) for layout in layouts}
    said = {layout for layout in layouts if own[layout].has("program_name") and own[layout].has(*(_PROGRAM - {"program_name"}))}
    only = {layout for layout in said if not own[layout].has("cook_id", "mass_in", "core", "browning", "texture", "moisture")}
    named = {layout for layout in layouts if layout not in only and own[layout].has("program_name")}
    if not only or not named:
        return list(rows), {}
    by_name: dict[str, list[Row]] = {}
    for row in rows:
        if row.layout in only:
            for _, cell in columns.cells(row, "program_name"):
                by_name.setdefault(plain(cell).strip(), []).append(row)
    return [row for row in rows if row.layout not in only], by_name


def _explain(legend: dict[str, list[Row]], columns: Columns, result: Grouping) -> None:
    """Give each cook the rows that say what its named program is."""
    for group in result.groups if legend else ():
        names = [plain(cell).strip() for row in group.rows for _, cell in columns.cells(row, "program_name")]
        group.rows.extend(row for name in dict.fromkeys(names) for row in legend.get(name, ()))


def _parts(rows: Sequence[Row], columns: Columns) -> tuple[list[Row], list[Row], list[Row]]:
    """Rows of parts with programs, of parts that only add to them by the cook's number, and of others."""
    layouts = dict.fromkeys(row.layout for row in rows)
    own = {layout: columns.in_part(layout) for layout in layouts}
    main = {layout for layout in layouts if own[layout].has(*_PROGRAM)} or set(layouts)
    side = {layout for layout in layouts if layout not in main and own[layout].has("cook_id")}
    in_main = [row for row in rows if row.layout in main]
    in_side = [row for row in rows if row.layout in side]
    return in_main, in_side, [row for row in rows if row.layout not in main | side]


def _label(row: Row, columns: Columns) -> str:
    return next((cell for _, cell in columns.cells(row, "cook_id")), "")


def _mode(rows: Sequence[Row], columns: Columns) -> str:
    """How rows belong together: by their number, in runs, or not at all."""
    shared = columns.has("taster", "stage_number", "place")
    labels = [id_key(label) for row in rows if (label := _label(row, columns))]
    if len(labels) >= 0.3 * len(rows) and labels:
        trial = Grouping([], [], [], "cook_id")
        _by_id(rows, columns, trial)
        several = len(labels) - len(set(labels))
        clashing = len({row.line for row, _ in trial.refused})
        if several and clashing > 0.5 * len(rows):
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
        label = _label(row, columns)
        if not label:
            if (
                last is not None
                and not columns.cells(row, *_PROGRAM)
                and not columns.cells(row, "mass_in", "cooked_on", "cooked_at")
            ):
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
            last = Group(_label(row, columns), [row])
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
    free = {"taster"} | ({"stage"} if columns.has("stage_number") else set()) | ({"place"} if columns.has("place") else set())
    clashes = []
    for use in columns.uses:
        known = FIELDS[use.field]
        if use.field in _MAY_DIFFER or known.level in free or (known.level == "taster"):
            continue
        values = [row.cells[use.column] for row in rows if _said(row.cells[use.column])]
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


def _join(rows: Sequence[Row], columns: Columns, result: Grouping) -> None:
    """Rows of another part go to the cook with their number."""
    by_key: dict[str, list[Group]] = {}
    for group in result.groups:
        if group.label:
            by_key.setdefault(id_key(group.label), []).append(group)
    last: list[Group] = []
    for row in rows:
        label = _label(row, columns)
        found = by_key.get(id_key(label), []) if label else last
        if len(found) == 1:
            found[0].rows.append(row)
        else:
            what = "no cook has that number" if not found else "several cooks have that number"
            reason = f"cook {label!r}: {what} in the other part of the file. Scores are joined to cooks by their number. Correct it there"
            result.refused.append((row, reason))
        last = found
