"""Tasters' marks of a cook: a row a taster, columns side by side, or several in one cell."""

from __future__ import annotations

import json
import re
from typing import Any

from tuner.exchange.cell_lists import split_list
from tuner.exchange.cook_reading import CookReading
from tuner.exchange.fields import FIELDS
from tuner.exchange.mapping import LEAVE_OUT, ColumnUse
from tuner.exchange.marks import HALVES, mark_in_words, on_our_scale
from tuner.exchange.number_text import is_missing, read_number
from tuner.exchange.table import Row

PANEL = "panel"
"""Taster of marks whose taster the log does not name."""

_ATTRIBUTES = ("browning", "texture", "moisture")


def scores_of(reading: CookReading) -> list[dict[str, Any]]:
    """Scores of a cook as documents, one for each taster, in the order in which they appear."""
    found: dict[str, dict[str, Any]] = {}
    unnamed = 0
    for row in reading.group.rows:
        tasters = reading.columns.cells(row, "taster")
        named = next((cell for use, cell in tasters if use.number is None), "") or reading.mapping.constants.get("taster", "")
        numbered = {str(use.number): cell for use, cell in tasters if use.number is not None}
        marks = [(numbered.get(taster, taster), name, mark) for taster, name, mark in _row_marks(row, named, reading)]
        named = named or _sheet_of_taster(row, reading)
        if not named and any(taster == "" for taster, *_ in marks):
            unnamed += 1
        for taster, name, mark in marks:
            who = taster or named or (str(unnamed) if _several_unnamed(reading) else PANEL)
            _add(found.setdefault(who, {"taster": who[:100]}), name, mark, who, reading)
    return [score for score in found.values() if len(score) > 1]


def _sheet_of_taster(row: Row, reading: CookReading) -> str:
    """The name of the sheet, where each taster has one: marks of one cook stand on several sheets and nothing names tasters."""
    if reading.columns.has("taster"):
        return ""
    marked = {one.part for one in reading.group.rows if reading.columns.cells(one, *_ATTRIBUTES)}
    return row.part if len(marked) > 1 else ""


def _several_unnamed(reading: CookReading) -> bool:
    """Whether several rows of a cook carry marks without naming tasters: then they are numbered."""
    rows = [row for row in reading.group.rows if reading.columns.cells(row, *_ATTRIBUTES)]
    return len(rows) > 1


def _add(score: dict[str, Any], name: str, mark: float, who: str, reading: CookReading) -> None:
    target = score if name in _ATTRIBUTES else score.setdefault("other", {})
    if name in target and target[name] != mark:
        reading.problems.append(
            f"taster {who} has {name} {target[name]:g} and {mark:g}. One cook has one mark each. Correct one of them"
        )
    target[name] = mark


def _row_marks(row: Row, named: str, reading: CookReading) -> list[tuple[str, str, float]]:
    """Taster (empty where the row names it), attribute and mark of each filled cell."""
    marks: list[tuple[str, str, float]] = []
    for use, cell in reading.columns.cells(row, *_ATTRIBUTES, "other_score"):
        name = use.field if use.field in _ATTRIBUTES else (use.label or use.heading)
        for taster, text in _tasters_of(cell, named, use, reading):
            mark = _mark(row, use, text, reading)
            if mark is not None:
                marks.append((taster, name, mark))
    for use, cell in reading.columns.cells(row, "scores"):
        marks += _combined(row, use, cell, named, reading)
    return marks


def _tasters_of(cell: str, named: str, use: ColumnUse, reading: CookReading) -> list[tuple[str, str]]:
    """A cell's marks with their tasters: labelled in the cell, by the names in the taster cell, or by turn."""
    if use.label and use.field != "other_score":
        tasters = [name.strip() for name in re.split(r"[/&+,;\s]+", use.label) if name.strip()]
        marks = split_list(cell, reading.mark)[0]
        if len(tasters) > 1 and len(marks) == len(tasters):
            return [(taster, mark) for taster, mark in zip(tasters, marks, strict=True) if not is_missing(mark)]
        return [(use.label, cell)]
    labelled = re.findall(r"([^\W\d_][\w.]*)(?:\s*[:=]\s*|\s+)(\d(?:[.,]\d+)?)(?![\d.,])", cell)
    if len(labelled) >= 2 or (labelled and ":" in cell):
        return [(name, mark) for name, mark in labelled]
    pieces, ranged = split_list(cell, reading.mark)
    if len(pieces) < 2 or ranged or re.fullmatch(r"\s*\d+\s+\d/\d\s*", cell):
        return [("", cell)]
    names = [name.strip() for name in re.split(r"[,;/&+|]| and | und ", named) if name.strip()]
    if len(names) == len(pieces):
        return list(zip(names, pieces, strict=True))
    return [(str(number), piece) for number, piece in enumerate(pieces, start=1) if not is_missing(piece)]


def _combined(row: Row, use: ColumnUse, cell: str, named: str, reading: CookReading) -> list[tuple[str, str, float]]:
    """`A 2.5/3/3; B 3/3/3.5`: a group of marks for each taster, in the order of the column."""
    if cell.startswith("{"):
        return _from_json(row, use, cell, reading)
    order = [name for name in (use.order or ()) if name in _ATTRIBUTES]
    if not order:
        reading.omit(row, use.heading, cell, "the order of the marks is asked")
        return []
    marks = []
    groups = [group for group in re.split(r"[;|\n]+", cell) if re.search(r"\d", group)]
    for number, group in enumerate(groups, start=1):
        label = re.match(r"\s*([^\W\d_][\w. ]*?)\s*[:=]?\s*(?=\d)", group)
        values = re.findall(r"\d+(?:[.,]\d+)?", group[label.end() :] if label else group)
        if len(values) != len(order):
            reading.omit(row, use.heading, group.strip(), f"it holds {len(values)} marks where {len(order)} are expected")
            continue
        taster = label[1].strip() if label else (use.label or ("" if named or len(groups) == 1 else str(number)))
        for name, value in zip(order, values, strict=True):
            mark = _mark(row, use, value, reading)
            if mark is not None:
                marks.append((taster, name, mark))
    return marks


def _from_json(row: Row, use: ColumnUse, cell: str, reading: CookReading) -> list[tuple[str, str, float]]:
    """Further scores as our own tidy CSV writes them: marks by name, by taster."""
    try:
        content = json.loads(cell)
    except (ValueError, RecursionError):
        content = None
    told = content if isinstance(content, dict) else {}
    marks = [
        (taster, name, float(mark))
        for taster, named in told.items()
        for name, mark in (named.items() if isinstance(named, dict) else ())
        if isinstance(mark, int | float)
    ]
    if not marks:
        reading.omit(row, use.heading, cell, "it is no list of marks")
    return marks


def _mark(row: Row, use: ColumnUse, cell: str, reading: CookReading) -> float | None:
    """One mark on our scale, None where it is not taken."""
    if LEAVE_OUT in (use.scale, use.unit):
        reading.omit(row, use.heading, cell, "left out as answered")
        return None
    value = _value(cell, use, reading)
    if value is None:
        known = FIELDS[use.field].words
        reading.problems.append(
            f"{known} {cell!r} in column {use.heading!r} can't be read. It must be a mark of 1 to 5. Correct the cell"
        )
        return None
    if use.scale is None:
        reading.omit(row, use.heading, cell, "the scale of the marks is asked")
        return None
    mark = on_our_scale(value, use.scale)
    if mark is None:
        reading.problems.append(f"{use.words} {cell!r} is not on the scale {use.scale}. Marks must lie on it. Correct the cell")
        return None
    if use.field == "other_score":
        return round(mark, 4)
    return _halved(row, use, cell, mark, reading)


def _halved(row: Row, use: ColumnUse, cell: str, mark: float, reading: CookReading) -> float | None:
    nearest = round(mark * 2) / 2
    if abs(mark - nearest) < 1e-9:
        return nearest
    if use.scale == "1-5":
        answer = reading.mapping.answers.get("halves")
        if answer != HALVES:
            reading.omit(row, use.heading, cell, "left out as answered" if answer else "marks go in halves; rounding is asked")
            return None
    reading.remarks.append(f"{use.heading} {cell}: taken as {nearest:g}, the nearest half mark")
    return nearest


def _value(cell: str, use: ColumnUse, reading: CookReading) -> float | None:
    pieces, ranged = split_list(cell, reading.mark)
    numbers = [read_number(piece, reading.mark) for piece in pieces]
    if len(numbers) == 2 and ranged and all(number is not None for number in numbers):
        low, high = (number.value for number in numbers if number is not None)
        return (low + high) / 2 if abs(high - low) <= 1 else None
    number = read_number(cell, reading.mark)
    if number is not None and (not number.tail or re.fullmatch(r"/\s*(?:5|7|9|10|100)|\(.*\)|pts?\.?|marks?", number.tail)):
        return number.value
    words = mark_in_words(cell)
    return words if words is not None and use.scale in (None, "1-5") else None
