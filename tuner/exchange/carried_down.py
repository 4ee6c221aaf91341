"""Programs and days that are written once for several cooks below each other, carried down where a person said so."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from tuner.exchange.mapping import ColumnMapping
from tuner.exchange.row_parts import Columns, Group
from tuner.exchange.table import Row

CARRIED: dict[str, tuple[str, ...]] = {
    "program": ("program", "stage", "stage_share", "stage_air", "stage_microwave"),
    "air_temperature": ("air_temperature",),
    "duration": ("duration",),
    "day": ("cooked_on", "cooked_at"),
}
"""What may be carried down, each together: the fields that say it."""


def filled_down(groups: Sequence[Group], columns: Columns, mapping: ColumnMapping) -> None:
    """Give cooks that lack a program or a day the one of the cook above, for each that was answered so."""
    for code, names in CARRIED.items():
        if f"above:{code}" not in mapping.constants:
            continue
        above: list[Row] = []
        for group in groups:
            if any(columns.cells(row, *names) for row in group.rows):
                above = [_only(row, columns, names) for row in group.rows]
            elif above:
                group.rows.extend(replace(row, line=group.rows[0].line) for row in above)


def _only(row: Row, columns: Columns, names: Sequence[str]) -> Row:
    """A row with the cells of some fields alone."""
    kept = {use.column for use in columns.of(*names)}
    return replace(row, cells=tuple(cell if index in kept else "" for index, cell in enumerate(row.cells)))
