"""What the cells of a column look like, and which fields they could belong to."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache

from tuner.exchange.cell_words import DONE, NO, YES
from tuner.exchange.fields import FIELDS, ValueKind
from tuner.exchange.heading_words import plain, unit_named
from tuner.exchange.number_text import is_missing, read_number
from tuner.exchange.quantity_text import read_typed
from tuner.exchange.shown_value import NOT_CALCULATED
from tuner.exchange.stage_text import read_stages
from tuner.exchange.when_text import read_when

_SAMPLE = 60
_MOMENT = re.compile(
    r"\d[-/. ][^\W\d_]{3,}[-/. ]\d|(?<![\d.,])[0-3]?\d[./-][0-3]?\d[./-]\d{2,4}(?!\d)|\d{4}-\d\d-\d\d|(?<!\d)\d{1,2}:\d\d(?!\d)"
)


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
    of_day: bool = False
    """Whether clock forms can only be times of day: hours, minutes and seconds of some hours."""
    moment: float = 0.0
    """Share of cells that hold a full day or a clock form, and so no plain measure."""


@lru_cache(maxsize=2048)
def shape_of(values: tuple[str, ...]) -> Shape:
    """Shape of a column's filled cells; marks for missing values do not count."""
    cells = [_bared(value) for value in values if _tells_something(value)][:_SAMPLE]
    numbers = [read_number(cell, "") for cell in cells]
    plain_numbers = [found.value for found in numbers if found is not None and (len(found.tail) <= 6 or unit_named(found.tail))]
    whens = [read_when(cell) for cell in cells]
    clocks = [when and when.numbers is None and ":hap" for when in whens]

    def share(hits: Iterable[object]) -> float:
        return sum(1 for hit in hits if hit) / (len(cells) or 1)

    return Shape(
        count=len(cells),
        distinct=len(set(cells)),
        number=share(
            found is not None and (unit_named(found.tail) or not re.search(r"[^\W\d_]{4,}", found.tail)) for found in numbers
        ),
        several=share(len(re.findall(r"\d+(?:[.,]\d+)?", cell)) >= 2 for cell in cells),
        whole=share(re.fullmatch(r"\d{1,6}", cell) for cell in cells),
        duration=share(read_typed(cell, "duration", "") for cell in cells),
        day=share(when and when.numbers for when in whens),
        clock=share(marks and re.search(f"[{marks}]", cell.lower()) for marks, cell in zip(clocks, cells, strict=True)),
        flag=share(is_flag(cell) for cell in cells),
        words=share(not re.search(r"\d", cell) for cell in cells),
        stages=share(_tells_stages(cell) for cell in cells),
        lowest=min(plain_numbers, default=0.0),
        highest=max(plain_numbers, default=0.0),
        length=sum(map(len, cells)) / (len(cells) or 1),
        unit=_unit_of(cells),
        of_day=bool(cells) and all(re.match(r"(?:0?[5-9]|1\d|2[0-3]):[0-5]\d:[0-5]\d", cell) for cell in cells),
        moment=share(_MOMENT.search(cell) for cell in cells),
    )


def _tells_something(value: str) -> bool:
    """Whether a cell counts: no mark for a missing value (a "no" is an answer), no formula without a value."""
    return value != NOT_CALCULATED and (not is_missing(value) or plain(value) in NO)


def _bared(value: str) -> str:
    """A list without its brackets; documents keep theirs."""
    return value if "{" in value else value.strip("[] ")


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
    return word in YES or word in NO or word in DONE


_BY_NAME: dict[str, Callable[[Shape], bool]] = {
    "cook_id": lambda s: s.day < 0.5 and s.length <= 24 and not (s.words > 0.6 and s.distinct <= 0.3 * s.count and s.count > 6),
    "cook_name": lambda s: s.words >= 0.6,
    "cooked_time": lambda s: s.clock >= 0.6,
    "cooked_at": lambda s: (s.day >= 0.6 or s.clock >= 0.6) and s.moment >= 0.5,
    "thermometer_checked_at": lambda s: s.day >= 0.6 or s.clock >= 0.6,
    "start_temperature": lambda s: s.number >= 0.5 and (s.highest <= 75 or s.unit == "°F") and s.moment < 0.5,
    "stage_number": lambda s: s.whole >= 0.9 and s.highest <= 12,
    "program_name": lambda s: s.stages < 0.4,
    "interrupted": lambda s: s.flag >= 0.5 or s.words >= 0.6,
    "stage_share": lambda s: s.number >= 0.5 or s.duration >= 0.5 or s.several >= 0.5,
    "core": lambda s: (s.number >= 0.5 or s.several >= 0.5) and s.moment < 0.5,
    "note": lambda s: not (s.number >= 0.9 and s.several < 0.2),
    "taster": lambda s: s.length <= 30,
    "dish": lambda s: s.words >= 0.5,
    "oven_name": lambda s: not (s.number >= 0.9 and s.lowest >= 100),
}
_BY_KIND: dict[ValueKind, Callable[[Shape], bool]] = {
    "when": lambda s: s.day >= 0.6,
    "stages": lambda s: s.stages >= 0.4 and s.day < 0.5,
    "duration": lambda s: s.duration >= 0.6,
    "flag": lambda s: s.flag >= 0.5,
    "temperature": lambda s: s.number >= 0.5 and s.moment < 0.5,
    "mass": lambda s: s.number >= 0.5 and s.moment < 0.5,
    "percent": lambda s: s.number >= 0.5,
    "score": lambda s: s.number >= 0.5 or s.words >= 0.5 or s.several >= 0.5,
    "whole": lambda s: s.whole >= 0.5,
}
"""What cells must look like: by the field where it has a rule of its own, else by how its values are read."""


def fits(name: str, shape: Shape) -> bool:
    """Whether a column's cells could be values of a field; an empty column fits all."""
    rule = _BY_NAME.get(name) or _BY_KIND.get(FIELDS[name].kind)
    return shape.count == 0 or rule is None or rule(shape)
