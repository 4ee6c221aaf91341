"""Units of measures, of levels and of marks, settled for all columns of a table."""

from __future__ import annotations

from collections.abc import Sequence

from tuner.exchange.asking import Asker
from tuner.exchange.cell_lists import split_list
from tuner.exchange.fields import FIELDS
from tuner.exchange.file_hints import Hints
from tuner.exchange.heading_words import said
from tuner.exchange.levels import Levels, choose_levels
from tuner.exchange.mapping import ColumnUse, Expected
from tuner.exchange.marks import Marks, ask_halves, choose_scale
from tuner.exchange.number_text import Decimal, is_missing, read_number
from tuner.exchange.quantity_text import UNITS, MeasureKind, Typed, converted, read_typed
from tuner.exchange.table import Row
from tuner.exchange.unit_choice import Bare, choose_units, same_unit_by_ratio

_MEASURES = ("temperature", "mass", "duration")
_ATTRIBUTES = ("browning", "texture", "moisture")


def with_settings(use: ColumnUse, **changes: object) -> ColumnUse:
    """A column's use with some settings changed."""
    return ColumnUse.model_validate({**use.model_dump(), **changes})


def settle_units(
    uses: Sequence[ColumnUse], rows: Sequence[Row], hints: Hints, mark: Decimal, expected: Expected, asker: Asker
) -> list[ColumnUse]:
    """Uses with the unit of every measured column; None where it is asked."""
    measured = [use for use in uses if FIELDS[use.field].kind in _MEASURES]
    groups: dict[tuple[str, str], list[ColumnUse]] = {}
    for use in measured:
        key = (use.field, use.unit or "") if use.field == "core" else (str(use.column), "")
        groups.setdefault(key, []).append(use)
    bares = [_bare(group, rows, hints, mark) for group in groups.values()]
    bares = [_after_told(bare, bares, rows, mark, expected) for bare in bares]
    by_person = {use.column for use in measured if use.by_person and use.unit}
    chosen = choose_units([bare for bare in bares if bare.column not in by_person], expected, asker)
    unit_of = {use.column: chosen.get(group[0].column, use.unit) for group in groups.values() for use in group}
    return [with_settings(use, unit=unit_of[use.column]) if use.column in unit_of else use for use in uses]


def _bare(group: Sequence[ColumnUse], rows: Sequence[Row], hints: Hints, mark: Decimal) -> Bare:
    kind: MeasureKind = FIELDS[group[0].field].kind  # type: ignore[assignment]  # only measured fields come here
    cells = [row.cells[use.column] for row in rows for use in group if row.cells[use.column]]
    typed = [value for cell in cells for value in typed_of(cell, kind, group[0].field, mark)]
    told = group[0].unit or hints.units.get(kind, "")
    heading = group[0].heading if len(group) == 1 else f"{group[0].heading} to {group[-1].heading}"
    return Bare(
        group[0].column, heading, group[0].field, told, tuple(typed), tuple(cell for cell in cells if not is_missing(cell))
    )


def typed_of(cell: str, kind: MeasureKind, field: str, mark: Decimal) -> list[Typed]:
    """Values of a cell as typed; several for readings and start temperatures."""
    if is_missing(cell):
        return []
    pieces = split_list(cell, mark)[0] if field in ("core", "start_temperature") else [cell]
    return [typed for typed in (read_typed(piece, kind, mark) for piece in pieces) if typed is not None]


def _after_told(bare: Bare, bares: Sequence[Bare], rows: Sequence[Row], mark: Decimal, expected: Expected) -> Bare:
    """Mass after cooking without a unit: in the one unit that leaves a possible part of the mass before."""
    if bare.field != "mass_out" or bare.told or all(typed.unit for typed in bare.typed):
        return bare
    before = next((other for other in bares if other.field == "mass_in"), None)
    if before is None:
        return bare
    unit = choose_units([before], expected, Asker({})).get(before.column)
    if unit is None:
        return bare
    first, second = _by_row(before.column, rows, mark), _by_row(bare.column, rows, mark)
    masses = {line: converted(typed, "mass", unit) for line, typed in first.items()}
    told = same_unit_by_ratio(masses, {line: typed for line, typed in second.items() if not typed.unit}, tuple(UNITS["mass"]))
    return Bare(bare.column, bare.heading, bare.field, told or "", bare.typed, bare.shown)


def _by_row(column: int, rows: Sequence[Row], mark: Decimal) -> dict[int, Typed]:
    found = {}
    for index, row in enumerate(rows):
        typed = typed_of(row.cells[column], "mass", "mass_in", mark)
        if typed:
            found[index] = typed[0]
    return found


def settle_levels(
    uses: Sequence[ColumnUse], values: Sequence[tuple[str, ...]], mark: Decimal, expected: Expected, asker: Asker
) -> list[ColumnUse]:
    """Uses with the unit of air speeds, microwave levels, losses and yields."""
    groups = []
    for field in ("stage_air", "stage_microwave"):
        columns = [use for use in uses if use.field == field and not (use.by_person and use.unit)]
        if columns:
            told = next((use.unit for use in columns if use.unit), "") or ""
            numbers = [number for use in columns for cell in values[use.column] for number in _bare_numbers(cell, mark)]
            groups.append(Levels(field, tuple(use.column for use in columns), told, tuple(numbers)))
    chosen: dict[int, str | None] = choose_levels(groups, expected, asker)
    for use in uses:
        if use.field in ("loss", "yield"):
            chosen[use.column] = use.unit or _part_unit(values[use.column], mark)
    return [with_settings(use, unit=chosen[use.column]) if use.column in chosen else use for use in uses]


def _bare_numbers(cell: str, mark: Decimal) -> list[float]:
    if is_missing(cell):
        return []
    typed = [read_typed(piece, "percent", mark) for piece in split_list(cell, mark)[0]]
    return [value.value for value in typed if value is not None and not value.unit]


def _part_unit(cells: Sequence[str], mark: Decimal) -> str:
    """Losses of 0.12 are fractions; losses of 12 are per cent."""
    numbers = [abs(number) for cell in cells for number in _bare_numbers(cell, mark)]
    return "fraction" if numbers and max(numbers) < 1 and any(numbers) else "%"


def settle_scales(
    uses: Sequence[ColumnUse], values: Sequence[tuple[str, ...]], hints: Hints, mark: Decimal, asker: Asker
) -> list[ColumnUse]:
    """Uses with the scale of every score column: one for browning, texture and moisture, one for each further score."""
    scored = [use for use in uses if use.field in (*_ATTRIBUTES, "scores") and not (use.by_person and use.scale)]
    chosen: dict[int, str | None] = {}
    _settle_group(scored, values, hints, mark, asker, chosen)
    for use in uses:
        if use.field == "other_score" and not (use.by_person and use.scale):
            _settle_group([use], values, hints, mark, asker, chosen)
    settled = [with_settings(use, scale=chosen[use.column]) if use.column in chosen else use for use in uses]
    return [_with_score_order(use, asker) if use.field == "scores" else use for use in settled]


def _settle_group(
    group: Sequence[ColumnUse],
    values: Sequence[tuple[str, ...]],
    hints: Hints,
    mark: Decimal,
    asker: Asker,
    chosen: dict[int, str | None],
) -> None:
    if not group:
        return
    columns = tuple(use.column for use in group)
    numbers = tuple(mark_ for use in group for cell in values[use.column] for mark_ in _marks_in(cell, mark))
    told = next((_edges(use.scale) for use in group if use.scale), None) or hints.scale
    fields = tuple(dict.fromkeys(use.label or use.field if use.field == "other_score" else use.field for use in group))
    scale = choose_scale(Marks(fields, columns, told, numbers), asker)
    if scale == "1-5" and group[0].field != "other_score":
        ask_halves(numbers, columns, asker)
    chosen.update(dict.fromkeys(columns, scale))


def _edges(scale: str | None) -> tuple[int, int] | None:
    low, _, high = (scale or "").rpartition("-")
    return (int(low), int(high)) if low.lstrip("-").isdecimal() and high.isdecimal() else None


def _marks_in(cell: str, mark: Decimal) -> list[float]:
    if is_missing(cell):
        return []
    pieces, ranged = split_list(cell, mark)
    numbers = [number.value for number in (read_number(piece, mark) for piece in pieces) if number is not None]
    if ranged and len(numbers) == 2:
        return [sum(numbers) / 2]
    return numbers


def _with_score_order(use: ColumnUse, asker: Asker) -> ColumnUse:
    """Order of several marks in one cell: by the heading, else asked."""
    if use.order or not use.samples or all(sample.startswith("{") for sample in use.samples):
        return use
    named = tuple(thing for thing in said(use.heading).order if thing in _ATTRIBUTES)
    if len(named) >= 2:
        return with_settings(use, order=named)
    choices = ["browning / texture / moisture", "texture / moisture / browning", "browning / moisture / texture"]
    shown = ", ".join(use.samples[:2])
    answer = asker.ask(
        f"marks:{use.column}", f"What are the marks in {use.heading!r} ({shown}), in order?", choices, columns=[use.column]
    )
    return with_settings(use, order=tuple(answer.split(" / "))) if answer in choices else use
