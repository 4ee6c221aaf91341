"""What the cells of a column look like, and which fields they could belong to."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from tuner.exchange.fields import FIELDS
from tuner.exchange.heading_words import plain, unit_named
from tuner.exchange.number_text import is_missing, read_number
from tuner.exchange.quantity_text import read_typed
from tuner.exchange.shown_value import NOT_CALCULATED
from tuner.exchange.stage_text import read_stages
from tuner.exchange.when_text import read_when
from tuner.exchange.words import NO, YES

_SAMPLE = 60
_INTERRUPTED = re.compile(r"cut|open|fail|trip|abort|stop|interrupt|abbruch|ausfall|coupure|corte", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Shape:
    """Shares of a column's filled cells that look like something; `lowest` and `highest` of its plain numbers."""

    count: int
    distinct: int
    number: float
    several: float
    whole: float
    duration: float
    day: float
    clock: float
    flag: float
    words: float
    stages: float
    lowest: float
    highest: float
    length: float
    unit: str


@lru_cache(maxsize=2048)
def shape_of(values: tuple[str, ...]) -> Shape:
    """Shape of a column's filled cells; marks for missing values do not count."""
    values = tuple(value for value in values if value != NOT_CALCULATED)
    cells = [value if "{" in value else value.strip("[] ") for value in values if not is_missing(value) or plain(value) in NO][
        :_SAMPLE
    ]
    count = len(cells) or 1
    plain_numbers = [
        found.value for found in (read_number(cell, "") for cell in cells) if found is not None and len(found.tail) <= 6
    ]
    whens = [read_when(cell) for cell in cells]

    def share(hits: Sequence[object]) -> float:
        return sum(1 for hit in hits if hit) / count

    return Shape(
        count=len(cells),
        distinct=len(set(cells)),
        number=share(
            [
                found is not None and not re.search(r"[^\W\d_]{4,}", found.tail)
                for found in (read_number(cell, "") for cell in cells)
            ]
        ),
        several=share([len(re.findall(r"\d+(?:[.,]\d+)?", cell)) >= 2 for cell in cells]),
        whole=share([re.fullmatch(r"\d{1,6}", cell) for cell in cells]),
        duration=share([read_typed(cell, "duration", "") for cell in cells]),
        day=share([when and when.numbers for when in whens]),
        clock=share(
            [
                when and when.numbers is None and re.search(r"[:hap]", cell.lower())
                for when, cell in zip(whens, cells, strict=True)
            ]
        ),
        flag=share([is_flag(cell) for cell in cells]),
        words=share([not re.search(r"\d", cell) for cell in cells]),
        stages=share([_tells_stages(cell) for cell in cells]),
        lowest=min(plain_numbers, default=0.0),
        highest=max(plain_numbers, default=0.0),
        length=sum(map(len, cells)) / count,
        unit=_unit_of(cells),
    )


def _unit_of(cells: Sequence[str]) -> str:
    """Unit that most cells carry themselves, empty where they do not."""
    units = Counter(
        unit_named(found.tail) for found in (read_number(cell, "") for cell in cells) if found is not None and found.tail
    )
    unit, times = units.most_common(1)[0] if units else ("", 0)
    return unit if unit and times >= 0.6 * len(cells) else ""


def _tells_stages(cell: str) -> bool:
    return len(re.findall(r"\d", cell)) >= 2 and read_stages(cell) is not None


def is_flag(cell: str) -> bool:
    """Whether a cell says yes or no."""
    word = plain(cell).strip(" .!").split(" ")[0] if cell else ""
    return word in YES or word in NO


def fits(name: str, shape: Shape) -> bool:
    """Whether a column's cells could be values of a field; an empty column fits all."""
    if shape.count == 0:
        return True
    kind = FIELDS[name].kind
    if name == "cook_id":
        return (
            shape.day < 0.5
            and shape.length <= 24
            and not (shape.words > 0.6 and shape.distinct <= 0.3 * shape.count and shape.count > 6)
        )
    if name == "cook_name":
        return shape.words >= 0.6 or shape.count == 0
    if name == "cooked_time":
        return shape.clock >= 0.6
    if kind == "when":
        return shape.day >= 0.6 or (name in ("cooked_at", "thermometer_checked_at") and shape.clock >= 0.6)
    if name == "stage_number":
        return shape.whole >= 0.9 and shape.highest <= 12
    if kind == "stages":
        return shape.stages >= 0.4 and shape.day < 0.5
    if name == "program_name":
        return shape.stages < 0.4
    if kind == "duration":
        return shape.duration >= 0.6
    if name == "interrupted":
        return shape.flag >= 0.5 or shape.words >= 0.6
    if kind == "flag":
        return shape.flag >= 0.5
    if kind in ("temperature", "mass", "percent"):
        return shape.number >= 0.5 or (name == "core" and shape.several >= 0.5)
    if kind == "score":
        return shape.number >= 0.5 or shape.words >= 0.5 or shape.several >= 0.5
    if kind == "whole":
        return shape.whole >= 0.5
    if name == "note":
        return not (shape.number >= 0.9 and shape.several < 0.2)
    if name == "taster":
        return shape.length <= 30
    if name == "dish":
        return shape.words >= 0.5
    if name == "oven_name":
        return not (shape.number >= 0.9 and shape.lowest >= 100)
    return True
