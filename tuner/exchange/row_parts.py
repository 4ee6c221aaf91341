"""Columns by what they hold, and the parts of a file: cooks, what is joined to them by number, and programs told by name."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from tuner.exchange.heading_words import plain
from tuner.exchange.mapping import ColumnUse
from tuner.exchange.number_text import is_missing
from tuner.exchange.table import Row

PROGRAM_FIELDS = frozenset(
    {"program", "program_name", "stage", "stage_share", "stage_air", "stage_microwave", "air_temperature", "duration"}
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
        return [(use, row.cells[use.column]) for use in self.of(*names) if says_something(row.cells[use.column])]

    def in_part(self, part: str) -> Columns:
        """Columns that stand in one part of the file."""
        return Columns(use for use in self.uses if use.part == part)


def says_something(cell: str) -> bool:
    """Whether a cell holds anything but a mark for a missing value."""
    return bool(cell) and not is_missing(cell)


def further_stage(row: Row, columns: Columns) -> bool:
    """Whether a row tells one more stage of the cook above: levels without a number of the stage, and nothing of the program else."""
    levels = columns.of("stage_share", "stage_air", "stage_microwave")
    if columns.has("stage_number", "program", "stage") or not levels or any(use.number is not None for use in levels):
        return False
    told = columns.cells(row, "air_temperature", "duration", "cook_id", "program_name")
    return not told and len(columns.cells(row, "stage_air", "stage_microwave")) >= 2


def id_key(text: str) -> str:
    """A cook's number without signs that vary: `#7`, `7.0` and `No 7` are one."""
    number = re.fullmatch(r"[#\s]*(?:(?:no|nr|n)[.°]?\s*)?(\d+)(?:[.,]0+)?\.?", plain(text).strip())
    return number[1].lstrip("0") or "0" if number else plain(text).strip()


def told_programs(rows: Sequence[Row], columns: Columns) -> tuple[list[Row], dict[str, list[Row]]]:
    """Rows without those of a part that only says what named programs are, and these by the name of the program."""
    layouts = dict.fromkeys(row.layout for row in rows)
    own = {layout: columns.in_part(layout) for layout in layouts}
    said = {
        layout
        for layout in layouts
        if own[layout].has("program_name") and own[layout].has(*(PROGRAM_FIELDS - {"program_name"}))
    }
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


def explain_programs(legend: dict[str, list[Row]], columns: Columns, result: Grouping) -> None:
    """Give each cook the rows that say what its named program is."""
    for group in result.groups if legend else ():
        names = [plain(cell).strip() for row in group.rows for _, cell in columns.cells(row, "program_name")]
        group.rows.extend(row for name in dict.fromkeys(names) for row in legend.get(name, ()))


def parts_of(rows: Sequence[Row], columns: Columns) -> tuple[list[Row], list[Row], list[Row]]:
    """Rows of parts with programs, of parts that only add to them by the cook's number, and of others."""
    layouts = dict.fromkeys(row.layout for row in rows)
    own = {layout: columns.in_part(layout) for layout in layouts}
    main = {layout for layout in layouts if own[layout].has(*PROGRAM_FIELDS)} or set(layouts)
    side = {layout for layout in layouts if layout not in main and own[layout].has("cook_id")}
    in_main = [row for row in rows if row.layout in main]
    in_side = [row for row in rows if row.layout in side]
    return in_main, in_side, [row for row in rows if row.layout not in main | side]


def label_of(row: Row, columns: Columns) -> str:
    """The log's own number of a row's cook, empty where it has none."""
    return next((cell for _, cell in columns.cells(row, "cook_id")), "")


def join_by_number(rows: Sequence[Row], columns: Columns, result: Grouping) -> None:
    """Rows of another part go to the cook with their number."""
    by_key: dict[str, list[Group]] = {}
    for group in result.groups:
        if group.label:
            by_key.setdefault(id_key(group.label), []).append(group)
    last: list[Group] = []
    for row in rows:
        label = label_of(row, columns)
        found = by_key.get(id_key(label), []) if label else last
        if len(found) == 1:
            found[0].rows.append(row)
        else:
            what = "no cook has that number" if not found else "several cooks have that number"
            reason = f"cook {label!r}: {what} in the other part of the file. Scores are joined to cooks by their number. Correct it there"
            result.refused.append((row, reason))
        last = found
