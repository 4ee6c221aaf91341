"""Which field each column holds: what its heading says, weighed with what its cells look like."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from tuner.exchange.column_hearing import heard_from, with_unit
from tuner.exchange.column_labels import numbered
from tuner.exchange.fields import FIELDS, candidates
from tuner.exchange.heading_words import Said
from tuner.exchange.quantity_text import CLOCK_UNITS, UNITS
from tuner.exchange.rival_columns import (
    after_the_rest,
    lettered_cores,
    lettered_levels,
    one_each,
    shares_beside_levels,
    tied_columns,
)
from tuner.exchange.spotted_columns import ATTRIBUTE_FIELDS, Spotted
from tuner.exchange.table import Table
from tuner.exchange.value_shape import Shape, fits, shape_of
from tuner.exchange.when_text import read_when


def spot_columns(table: Table, values: Sequence[tuple[str, ...]]) -> tuple[Spotted, ...]:
    """The field of every column.

    Parameters
    ----------
    table
        The table.
    values
        For each column its filled cells in rows of cooks.
    """
    shapes = [shape_of(cells) for cells in values]
    heard = [heard_from(column) for column in table.columns]
    first = [_best(index, heard[index], shapes[index]) for index in range(len(heard))]
    spotted = _settle_temperatures(first, shapes)
    spotted = _settle_times(spotted, shapes, values)
    spotted = [_name_of_row(one, table, values) for one in spotted]
    spotted = _whole_times(_tasters_by_name(spotted, table))
    spotted = lettered_levels(spotted)
    spotted = shares_beside_levels(_counting_lots(spotted, values), values)
    spotted = one_each(spotted, table, values)
    spotted = after_the_rest(spotted)
    spotted = tied_columns(lettered_cores(spotted, shapes))
    return tuple(numbered(spotted, table))


def unit_suits(name: str, unit: str) -> bool:
    """Whether a unit can be one of a field's values."""
    kind = FIELDS[name].kind
    if not unit:
        return True
    if name == "cook_id":
        return False
    if kind == "temperature":
        return unit in UNITS["temperature"]
    if kind == "mass":
        return unit in UNITS["mass"] or unit == "%"
    if kind == "duration":
        return unit in UNITS["duration"] or unit in CLOCK_UNITS
    if name == "stage_share":
        return unit in ("%", "fraction", "s", "min", "mm:ss", "h:mm:ss")
    if name == "stage_microwave":
        return unit in ("%", "fraction", "W", "kW")
    if name == "stage_air":
        return unit in ("%", "fraction", "m/s", "rpm")
    if name in ("loss", "yield"):
        return unit in ("%", "fraction") or unit in UNITS["mass"]
    if kind == "when":
        return unit in CLOCK_UNITS
    return kind in ("text", "stages", "none") or unit in ("%",)


def _best(index: int, heading: Said, shape: Shape) -> Spotted:
    told = with_unit(replace(heading, unit=shape.unit)) if shape.unit and not heading.unit else heading
    heading = replace(heading, things=told.things)
    found = candidates(heading)
    suited = [(name, weight) for name, weight in found if unit_suits(name, told.unit) and fits(name, shape)]
    if not suited and heading.bare:  # the single letter is no unit but a name: "Browning C"
        heading = _bare_as_word(heading)
        suited = [(name, weight) for name, weight in candidates(heading) if fits(name, shape)]
    if found and found[0][0] == "computed":
        suited = [("computed", 20.0)]
    if suited and suited[0][0] in ATTRIBUTE_FIELDS and heading.bare:
        heading = _bare_as_word(heading)
    if {name for name, _ in suited[:2]} == {"cook_id", "cook_name"} and suited[0][1] == suited[1][1]:
        person = shape.words >= 0.6 and (shape.distinct < shape.count or shape.length > 3)
        suited.sort(key=lambda pair: pair[0] != ("cook_name" if person else "cook_id"))
    name, weight = suited[0] if suited else ("ignore", 0.0)
    if name == "program" and "stage" in heading.things and heading.numbers and "program" not in heading.things:
        name = "stage"  # "Stage 2 (share/air/microwave)" holds one stage, not all of them
    weight += 0.5 if heading.unit and FIELDS[name].kind in ("temperature", "mass", "duration") else 0.0
    return Spotted(index, heading, name, None, None, weight, tuple(suited[1:]))


def _bare_as_word(heading: Said) -> Said:
    """A heading whose single letter is a name, not a unit."""
    rest = heading.rest if heading.bare in heading.rest else (*heading.rest, heading.bare)
    return replace(heading, unit="", bare="", rest=rest)


def _settle_temperatures(spotted: list[Spotted], shapes: list[Shape]) -> list[Spotted]:
    """Headings that say no more than "Temp": by the size of their values, where that tells."""
    settled = []
    for one in spotted:
        shape = shapes[one.column]
        if (
            one.field == "stage_air"
            and one.said.things <= {"air", "program"}
            and not one.said.unit
            and shape.lowest >= 150
            and shape.highest <= 600
        ):
            settled.append(replace(one, field="air_temperature", weight=5.0))  # "Air 250" is no speed
            continue
        names = {one.field, *one.other_names}
        if (
            one.weight <= 2.5
            and len({"air_temperature", "core", "start_temperature"} & names) >= 2
            and "temp" in one.said.things
        ):
            name = _temperature_by_size(shapes[one.column], one.said.unit)
            settled.append(replace(one, field=name or one.field, weight=3.0 if name else 1.0))
        else:
            settled.append(one)
    return settled


def _temperature_by_size(shape: Shape, unit: str) -> str:
    low, high = shape.lowest, shape.highest
    if unit == "°F":
        low, high = (low - 32) / 1.8, (high - 32) / 1.8
    if low >= 180 and high <= 420:
        return "air_temperature"
    if unit and low >= 130:
        return "air_temperature"
    if low >= 45 and high <= 112:
        return "core"
    if high <= 30:
        return "start_temperature"
    return ""


def _settle_times(spotted: list[Spotted], shapes: list[Shape], values: Sequence[tuple[str, ...]]) -> list[Spotted]:
    """A heading that says only "Time": time of day beside a day and another duration, else a duration."""
    sure = [one for one in spotted if one.field == "duration" and one.weight > 4.6]
    staged = any(one.field in ("stage_share",) and one.said.unit in ("s", "min", "mm:ss") for one in spotted)
    days = [one.column for one in spotted if one.field in ("cooked_on", "cooked_at")]
    timed = any((when := read_when(cell)) and when.seconds is not None for column in days for cell in values[column][:20])
    settled = []
    for one in spotted:
        plain_time = one.field == "duration" and one.weight <= 4.6 and not one.said.unit and "cooked_time" in one.other_names
        if plain_time and shapes[one.column].clock >= 0.6:
            of_day = _reads_as_time_of_day(values[one.column])
            if timed:
                pass  # the day tells the time already
            elif of_day and (sure or staged):
                one = replace(one, field="cooked_time", weight=5.0)
            elif of_day and days:
                one = replace(one, weight=1.0)  # either; asked
        settled.append(one)
    return settled


def _reads_as_time_of_day(cells: Sequence[str]) -> bool:
    hours = [int(found[1]) for cell in cells if (found := re.match(r"\s*(\d{1,2})[:h.]\d{2}", cell))]
    marked = any(re.search(r"[ap]\.?m\b|uhr|\dh\d", cell, re.IGNORECASE) for cell in cells)
    return marked or (bool(hours) and all(5 <= hour <= 23 for hour in hours))


def _whole_times(spotted: list[Spotted]) -> list[Spotted]:
    """A time of "the cycle" without a number, beside numbered stages, is the duration; a lot that only counts is the cook."""
    numbered_stages = any(one.field in ("stage_air", "stage_microwave") and one.said.numbers for one in spotted)
    told = {one.field for one in spotted}
    changed = []
    for one in spotted:
        timed = one.field == "stage_share" and one.said.unit in ("s", "min", "mm:ss", "h:mm:ss") and not one.said.numbers
        if timed and numbered_stages and "duration" not in told:
            one = replace(one, field="duration", weight=4.0)
        changed.append(one)
    return changed


def _counting_lots(spotted: list[Spotted], values: Sequence[tuple[str, ...]]) -> list[Spotted]:
    """`Charge Nr.` that counts 1, 2, 3 numbers the cooks, where nothing else does."""
    if any(one.field == "cook_id" for one in spotted):
        return spotted
    counting = [one for one in spotted if one.field == "lot" and "id" in one.said.things and _counts(values[one.column])]
    return [replace(one, field="cook_id") if [one] == counting else one for one in spotted]


def _counts(cells: Sequence[str]) -> bool:
    return len(cells) > 1 and list(cells) == [str(number) for number in range(1, len(cells) + 1)]


def _tasters_by_name(spotted: list[Spotted], table: Table) -> list[Spotted]:
    """`Who` in a part of the file that holds nothing but scores is who tasted, not who cooked."""
    changed = []
    for one in spotted:
        part = table.columns[one.column].part
        beside = {other.field for other in spotted if table.columns[other.column].part == part}
        tasted = beside & {*ATTRIBUTE_FIELDS, "scores"} and "taster" not in beside
        cooked = beside & {"program", "stage", "stage_air", "air_temperature", "duration", "mass_in", "core"}
        changed.append(replace(one, field="taster") if one.field == "cook_name" and tasted and not cooked else one)
    return changed


def _name_of_row(one: Spotted, table: Table, values: Sequence[tuple[str, ...]]) -> Spotted:
    """In a turned sheet the first column numbers the cooks, whatever stands in its corner."""
    if (
        table.turned
        and one.column == 0
        and one.field in ("ignore", "program", "stage")
        and len(set(values[0])) == len(values[0])
    ):
        return replace(one, field="cook_id", weight=5.0)
    return one
