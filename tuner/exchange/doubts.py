"""Doubts about a table as a whole: parts, dishes, ovens, decimal marks, single odd values, what no column tells."""

from __future__ import annotations

import re
from collections.abc import Sequence

from tuner.exchange.asking import Asker, listed
from tuner.exchange.carried_down import CARRIED
from tuner.exchange.cell_lists import split_list
from tuner.exchange.column_hearing import heard_from
from tuner.exchange.cook_reading import pick_reading, value_code
from tuner.exchange.fields import FIELDS, SUPERSEDED, candidates
from tuner.exchange.file_hints import Hints
from tuner.exchange.heading_words import plain
from tuner.exchange.mapping import LEAVE_OUT, ColumnMapping, ColumnUse, Expected
from tuner.exchange.number_text import Decimal, is_missing
from tuner.exchange.quantity_text import read_typed
from tuner.exchange.row_parts import Columns, Group
from tuner.exchange.settings import with_settings
from tuner.exchange.stage_text import read_stages
from tuner.exchange.table import Table
from tuner.exchange.unit_choice import Bare, outliers
from tuner.exchange.when_text import read_when

ALL_PARTS = "all of them"
AS_DECIMAL = "decimal mark"
AS_THOUSANDS = "thousands mark"
AS_ABOVE = "as in the row above"
_OFTEN = 0.25
"""Share of cooks that must lack one value for it to look written once for several; a single gap is a gap."""
_NEUTRAL_PART = re.compile(
    r"^(?:sheet|tabelle|feuil|feuille|hoja|page|log|day|tag|jour|dia|week|woche|kw|part|teil|cooks?|data|daten|table in line)?\s*[\d\s./-]*$"
    r"|^(?:mon|tue|wed|thu|fri|sat|sun|mo|di|mi|do|fr|sa|so|lun|mar|mer|jeu|ven|sam|dim)[a-z]*\s*[\d./-]*$"
    r"|^(?:jan|feb|mar|apr|may|mai|jun|jul|aug|sep|oct|okt|nov|dec|dez)[a-z]*\s*[\d./-]*$"
)
_MEASURES = ("temperature", "mass", "duration")


def choose_parts(table: Table, expected: Expected, asker: Asker) -> tuple[str, ...]:
    """Parts (sheets) whose rows are read; empty means all. Sheets with names of their own may be other dishes: asked."""
    if len(table.parts) < 2:
        return ()
    logs = [part for part in table.parts if _holds_programs(table, part)]
    if len(logs) < 2 or all(_NEUTRAL_PART.match(plain(part).strip()) for part in logs):
        return ()
    rest = [part for part in table.parts if part not in logs]
    dish = plain(expected.dish or "")
    own = next((part for part in logs if dish and plain(part).strip() == dish), None)
    if own is not None:
        return (own, *rest)
    named = sorted(logs, key=lambda part: not (dish and (plain(part) in dish or dish in plain(part))))
    text = f"The file has several tables of cooks ({listed(logs)}). Which of them belong to this development?"
    answer = asker.ask("parts", text, [*named, ALL_PARTS] if dish else [ALL_PARTS, *named])
    if answer == ALL_PARTS:
        return ()
    return (answer, *rest) if answer in logs else ("",)


def _holds_programs(table: Table, part: str) -> bool:
    layout = next((row.layout for row in table.rows if row.part == part), part)
    heard = [heard_from(column) for column in table.columns if column.part == layout]
    fields = {found[0][0] for said in heard if (found := candidates(said))}
    programs = fields & {"program", "stage", "stage_share", "stage_air", "stage_microwave", "air_temperature"}
    return bool(programs and fields & {"cook_id", "mass_in", "mass_out", "core", "browning", "texture", "moisture"})


def choose_dish(
    uses: Sequence[ColumnUse], values: Sequence[tuple[str, ...]], expected: Expected, asker: Asker
) -> tuple[list[ColumnUse], dict[str, str]]:
    """Which rows count where a column names several dishes."""
    only = {str(use.column): "no" for use in uses if use.heading == SUPERSEDED}
    for use in uses:
        if use.field != "dish":
            continue
        dishes = list(dict.fromkeys(value.strip() for value in values[use.column] if not is_missing(value)))
        own = next((dish for dish in dishes if plain(dish) == plain(expected.dish or "")), None)
        if len(dishes) < 2:
            if dishes and expected.dish and own is None:
                asker.note(f"The log names the dish {dishes[0]!r}.")
            continue
        if own is None:
            text = f"The log holds several dishes ({listed(dishes)}). Which one is this development's?"
            own = asker.ask(f"dish:{use.column}", text, [*dishes[:20], ALL_PARTS], columns=[use.column])
        if own != ALL_PARTS:
            only[str(use.column)] = own or LEAVE_OUT
    return list(uses), only


def choose_oven(
    uses: Sequence[ColumnUse], values: Sequence[tuple[str, ...]], expected: Expected, asker: Asker
) -> list[ColumnUse]:
    """Cooks on other ovens keep their oven's name as serial, so that they are learned from but do not count."""
    chosen = []
    for use in uses:
        if use.field != "oven_name" or use.by_person:
            chosen.append(use)
            continue
        ovens = list(dict.fromkeys(value.strip() for value in values[use.column] if not is_missing(value)))
        if len({plain(oven) for oven in ovens}) < 2:
            chosen.append(use)
            continue
        known = {plain(name) for name in (expected.oven_name, expected.oven_serial) if name}
        own = next((oven for oven in ovens if plain(oven) in known), None)
        if own is None:
            text = f"The log names several ovens ({listed(ovens)}). Which one is this development's?"
            own = asker.ask(f"oven:{use.column}", text, ovens[:20], columns=[use.column])
        chosen.append(with_settings(use, label=own or LEAVE_OUT))
    return chosen


def ask_decimal(
    uses: Sequence[ColumnUse], values: Sequence[tuple[str, ...]], mark: Decimal, expected: Expected, asker: Asker
) -> str | None:
    """Decimal mark of the file; None where it is in doubt for a number that could be either."""
    if mark:
        return mark
    draft = ColumnMapping(layout="", columns=tuple(uses), expected=expected)
    doubtful: list[tuple[ColumnUse, str]] = []
    for use in uses:
        kind = FIELDS[use.field].kind
        if kind not in _MEASURES:
            continue
        for cell in values[use.column]:
            typed = read_typed(cell, kind, "")
            if typed and typed.other is not None and pick_reading(typed, use, draft) is None:
                doubtful.append((use, cell))
    if not doubtful:
        return None
    cells = [cell for _, cell in doubtful]
    sign = "comma" if "," in cells[0] else "point"
    text = f"Is the {sign} in {listed(cells)} (column {doubtful[0][0].heading!r}) a decimal mark or a thousands mark?"
    columns = list(dict.fromkeys(use.column for use, _ in doubtful))
    answer = asker.ask("decimal", text, [AS_DECIMAL, AS_THOUSANDS], columns=columns)
    if answer not in (AS_DECIMAL, AS_THOUSANDS):
        return None
    return {("comma", AS_DECIMAL): ",", ("point", AS_DECIMAL): "."}.get((sign, answer), "." if sign == "comma" else ",")


def ask_single_values(
    uses: Sequence[ColumnUse], values: Sequence[tuple[str, ...]], mark: Decimal, expected: Expected, asker: Asker
) -> None:
    """Single temperatures that look typed in the other scale: asked one by one, never converted silently."""
    for use in uses:
        if FIELDS[use.field].kind != "temperature" or use.unit not in ("°C", "°F"):
            continue
        cells = [(cell, piece) for cell in values[use.column] if not is_missing(cell) for piece in split_list(cell, mark)[0]]
        read = [(cell, typed) for cell, piece in cells if (typed := read_typed(piece, "temperature", mark))]
        pieces = [piece for _, piece in cells if read_typed(piece, "temperature", mark)]
        bare = Bare(use.column, use.heading, use.field, use.unit, tuple(typed for _, typed in read), ())
        for place, as_told, as_other in outliers(bare, use.unit, expected):
            other = "°F" if use.unit == "°C" else "°C"
            text = (
                f"{pieces[place]} in column {use.heading!r} is {as_told:.1f} °C as {use.unit}, and {as_other:.1f} °C if it was typed "
                f"in {other}. Which is it?"
            )
            asker.ask(value_code(use.column, pieces[place]), text, [other, use.unit], columns=[use.column])


def ask_constants(
    uses: Sequence[ColumnUse], values: Sequence[tuple[str, ...]], hints: Hints, expected: Expected, asker: Asker
) -> dict[str, str]:
    """What holds for all rows: told above the headings, fixed by the oven, else asked where a program can't do without."""
    constants = dict(hints.constants)
    held = {use.field for use in uses}
    cells = [cell for use in uses if use.field in ("program", "stage") for cell in values[use.column]]
    read = [stages for stages in map(read_stages, cells[:200]) if stages is not None]
    if not read and not held & {"stage_air", "stage_microwave"}:
        return constants
    if "air_temperature" not in held | set(constants) and not any(stages.air_temperature is not None for stages in read):
        fixed = expected.air_temperature_c
        if fixed and fixed[0] == fixed[1]:
            constants["air_temperature"] = f"{fixed[0]:g} °C"
            asker.note(f"The log tells no air temperature; the oven is fixed at {fixed[0]:g} °C.")
        else:
            _ask_constant("air_temperature", "like 250 °C", constants, asker)
    timed = any(slot.role == "time" for stages in read for slot in stages.stages[0])
    timed = timed or any(use.field == "stage_share" and use.unit in ("s", "min", "mm:ss") for use in uses)
    timed = timed or any(
        use.field == "stage_share" and re.search(r"\d:\d\d|\ds\b", cell) for use in uses for cell in values[use.column][:20]
    )
    if "duration" not in held | set(constants) and not timed and not any(stages.duration_s is not None for stages in read):
        _ask_constant("duration", "like 210 s or 3:30", constants, asker)
    return constants


def _ask_constant(name: str, example: str, constants: dict[str, str], asker: Asker) -> None:
    words = FIELDS[name].words
    answer = asker.ask(f"constant:{name}", f"No column tells the {words}. What was it for all rows, {example}?", [], free=True)
    if answer and answer != LEAVE_OUT:
        constants[name] = answer


def ask_fill_down(
    uses: Sequence[ColumnUse], groups: Sequence[Group], values: Sequence[tuple[str, ...]], asker: Asker
) -> dict[str, str]:
    """Cooks without a program or a day below others that have one: often meant 'as above', but only an answer makes it so."""
    columns = Columns(uses)
    told: dict[str, str] = {}
    filled = {
        code: names
        for code, names in CARRIED.items()
        if any(values[use.column] for use in columns.of(*names)) and groups and not _lacks(groups[0], columns, names)
    }
    programs = [names for code, names in filled.items() if code != "day"]
    bare = [group for group in groups if programs and all(_lacks(group, columns, names) for names in programs)]
    if bare and _ask_above("program", bare, asker):
        told |= {f"above:{code}": AS_ABOVE for code in filled if code != "day"}
    for code, names in filled.items():
        empty = [group for group in groups if group not in bare and _lacks(group, columns, names)]
        if code == "day":
            timed = any(
                (when := read_when(cell)) and when.seconds is not None
                for use in columns.of(*names)
                for cell in values[use.column]
            )
            empty = [] if timed else [group for group in groups if _lacks(group, columns, names)]  # no two cooks share a moment
        if empty and len(empty) >= _OFTEN * len(groups) and _ask_above(code, empty, asker):
            told[f"above:{code}"] = AS_ABOVE
    return told


def _ask_above(code: str, groups: Sequence[Group], asker: Asker) -> bool:
    lines = ", ".join(str(group.rows[0].line) for group in groups[:6])
    words = code.replace("_", " ")
    return (
        asker.ask(
            f"above:{code}", f"The cooks in rows {lines} have no {words}. Is it the same as in the row above?", [AS_ABOVE]
        )
        == AS_ABOVE
    )


def _lacks(group: Group, columns: Columns, names: Sequence[str]) -> bool:
    """Whether a cook that was measured lacks all of these fields; benchmarks and planned cooks do not count."""
    if any(columns.cells(row, *names, "program_name") for row in group.rows):
        return False
    said = " ".join(plain(cell) for row in group.rows for cell in row.cells)
    if re.search(r"bench|conventional|reference|referenz", said):
        return False
    return any(columns.cells(row, "core", "mass_in", "mass_out", "browning", "texture", "moisture") for row in group.rows)
