"""Which field each column holds: what its heading says, weighed with what its cells look like."""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, replace

from tuner.exchange.fields import FIELDS, candidates
from tuner.exchange.heading_words import Said, plain, said, things_of, unit_named
from tuner.exchange.quantity_text import CLOCK_UNITS, UNITS
from tuner.exchange.table import Column, Table
from tuner.exchange.value_shape import Shape, fits, shape_of
from tuner.exchange.when_text import read_when

_REFINES = frozenset(
    "start end temp portion program stage taster score set oven cook total time seconds extreme place id thermometer".split()
)
"""Things by which a group says more about the heading below it; others only group."""
_OF_STAGES = frozenset("share air microwave time seconds power speed level program until".split())
_ALONE = {"temp": UNITS["temperature"], "mass": UNITS["mass"], "time": (*UNITS["duration"], "mm:ss")}
"""What a heading of nothing but a unit names."""
_WARM = frozenset({"core", "start", "end", "oven", "cavity", "air", "set", "portion", "program", "place"})
_ATTRIBUTES = ("browning", "texture", "moisture", "other_score")
_REPEATABLE = frozenset(
    "core place stage stage_share stage_air stage_microwave taster browning texture moisture other_score scores note ignore computed".split()
)


@dataclass(frozen=True, slots=True)
class Spotted:
    """A column with the field it most likely holds.

    Attributes
    ----------
    column
        Its place in the table, from 0.
    said
        What its heading says, groups included.
    field
        Name of the field; `ignore` where nothing fits.
    number, label
        Stage, place or taster, where it has one.
    weight
        How plainly the heading says so.
    others
        Fields that would fit as well, best first.
    """

    column: int
    said: Said
    field: str
    number: int | None
    label: str | None
    weight: float
    others: tuple[tuple[str, float], ...] = ()

    @property
    def other_names(self) -> tuple[str, ...]:
        """Names of the fields that would fit as well."""
        return tuple(name for name, _ in self.others)


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
    spotted = _one_each(spotted, table, values)
    spotted = _after_the_rest(spotted)
    spotted = _ties(_lettered_cores(spotted, shapes))
    return tuple(_numbered(spotted, table))


def heard_from(column: Column) -> Said:
    """What a column's own heading says, refined by the groups above it."""
    leaf = said(column.leaf)
    if not column.groups:
        return _with_unit(leaf)
    group = said(" ".join(column.groups))
    has_field = bool([name for name, weight in candidates(leaf) if weight >= 4.5])
    things = leaf.things | (group.things & _REFINES if has_field else group.things)
    if "stage" in group.things and has_field and not leaf.things & _OF_STAGES:
        things -= {"stage"} - leaf.things
    if leaf.things & {"air", "microwave", "share", "speed", "power", "stage"}:
        things -= {"program"} - leaf.things
    if leaf.things & {"mean"}:
        things = leaf.things
    told = group.things & {
        "stage",
        "taster",
        "core",
        "score",
        "browning",
        "texture",
        "moisture",
        "place",
        "thermometer",
        "program",
    }
    unit, bare = (leaf.unit, leaf.bare) if leaf.unit else (group.unit, group.bare)
    refined = Said(
        things=frozenset(things),
        order=(*group.order, *(thing for thing in leaf.order if thing not in group.order)),
        numbers=leaf.numbers or (group.numbers if told else ()),
        rest=(*leaf.rest, *group.rest),
        unit=unit,
        bare=bare,
        scale=leaf.scale or group.scale,
        text=column.heading,
    )
    return _with_unit(refined)


def _with_unit(heading: Said) -> Said:
    """A unit says what is measured where words do not: "Air °C" is a temperature, "Stage 1 s" a time, "Before (g)" a mass."""
    things = heading.things
    if not things and heading.unit and not heading.numbers and heading.bare == heading.text.strip():
        kind = next((thing for thing, units in _ALONE.items() if heading.unit in units), "")
        things = frozenset({kind}) if kind else things
    elif heading.unit in UNITS["temperature"] and things & _WARM:
        things |= {"temp"}
    elif heading.unit in UNITS["mass"] and things & {"start", "end", "portion"} and not things & {"core", "loss"}:
        things |= {"mass"}
    elif heading.unit in (*UNITS["duration"], "mm:ss") and things == {"stage"}:
        things |= {"time"}
    elif heading.unit in ("%", "fraction") and (things == {"stage"} or "time" in things):
        things |= {"share"}
    return replace(heading, things=things) if things != heading.things else heading


def unit_suits(name: str, unit: str) -> bool:
    """Whether a unit can be one of a field's values."""
    kind = FIELDS[name].kind
    if not unit:
        return True
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
    told = _with_unit(replace(heading, unit=shape.unit)) if shape.unit and not heading.unit else heading
    heading = replace(heading, things=told.things)
    found = candidates(heading)
    suited = [(name, weight) for name, weight in found if unit_suits(name, told.unit) and fits(name, shape)]
    if not suited and heading.bare:  # the single letter is no unit but a name: "Browning C"
        heading = _bare_as_word(heading)
        suited = [(name, weight) for name, weight in candidates(heading) if fits(name, shape)]
    if found and found[0][0] == "computed":
        suited = [("computed", 20.0)]
    if suited and suited[0][0] in _ATTRIBUTES and heading.bare:
        heading = _bare_as_word(heading)
    if {name for name, _ in suited[:2]} == {"cook_id", "cook_name"} and suited[0][1] == suited[1][1]:
        person = shape.words >= 0.6 and (shape.distinct < shape.count or shape.length > 3)
        suited.sort(key=lambda pair: pair[0] != ("cook_name" if person else "cook_id"))
    name, weight = suited[0] if suited else ("ignore", 0.0)
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
        if one.weight <= 2.5 and {"air_temperature", "core", "start_temperature"} <= names and "temp" in one.said.things:
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


def _one_each(spotted: list[Spotted], table: Table, values: Sequence[tuple[str, ...]]) -> list[Spotted]:
    """Fields that a cook has once are held by one column of a part; others fall back to what else they fit."""
    for _ in range(4):
        claims: dict[tuple[str, str], list[Spotted]] = defaultdict(list)
        for one in spotted:
            if one.field not in _REPEATABLE:
                claims[(table.columns[one.column].part, one.field)].append(one)
        crowded = [claim for claim in claims.values() if len(claim) > 1]
        if not crowded:
            break
        for claim in crowded:
            for one in _losers(claim, table, values):
                spotted[one.column] = one
    return spotted


def _losers(claim: list[Spotted], table: Table, values: Sequence[tuple[str, ...]]) -> list[Spotted]:
    """Columns that give way, each with what it holds instead."""
    claim = sorted(claim, key=lambda one: (not table.columns[one.column].continued, one.weight), reverse=True)
    winner, *rest = claim
    if winner.field == "mass_in" and len(rest) == 1 and rest[0].weight == winner.weight:
        first, second = sorted(claim, key=lambda one: one.column)
        return (
            [replace(second, field="mass_out")]
            if _is_lighter(values[second.column], values[first.column])
            else _undecided(claim)
        )
    undecided = [one for one in rest if one.weight == winner.weight and values[one.column] != values[winner.column]]
    if undecided and not any(table.columns[one.column].continued for one in undecided):
        return _undecided([winner, *undecided])
    return [_second_best(one, winner.field) for one in rest]


def _second_best(one: Spotted, taken: str) -> Spotted:
    """What else a column holds whose field another holds, where its heading says that nearly as plainly."""
    other = next(
        ((name, weight) for name, weight in one.others if name != taken and weight >= max(2.0, one.weight - 2.5)), None
    )
    if other is None:
        return replace(one, field="ignore", others=())
    rest = tuple(pair for pair in one.others if pair != other)
    return replace(one, field=other[0], weight=other[1], others=rest)


def _undecided(claim: list[Spotted]) -> list[Spotted]:
    """Equally good columns: the first is kept as doubtful, the rest are set aside until somebody chooses."""
    first, *rest = sorted(claim, key=lambda one: one.column)
    doubtful = replace(first, weight=0.5, others=(("ignore", 0.0),))
    return [doubtful, *(replace(one, field="ignore", weight=0.5, others=((first.field, 0.0),)) for one in rest)]


def _is_lighter(after: Sequence[str], before: Sequence[str]) -> bool:
    pairs = [(shape_of((a,)).highest, shape_of((b,)).highest) for a, b in zip(after, before, strict=False)]
    return bool(pairs) and sum(1 for a, b in pairs if 0 < a <= b) >= 0.8 * len(pairs)


def _after_the_rest(spotted: list[Spotted]) -> list[Spotted]:
    """Where cores stand both at the end of the cook and after the rest, only those after the rest are the readings."""
    rested = [one for one in spotted if one.field == "core" and "rest" in one.said.things]
    if not rested:
        return spotted
    return [replace(one, field="ignore", weight=4.0) if one.field == "core" and one not in rested else one for one in spotted]


def _ties(spotted: list[Spotted]) -> list[Spotted]:
    """Headings that name two measures equally ("Start": a mass or a temperature) stay in doubt."""
    tied = []
    for one in spotted:
        kind = FIELDS[one.field].kind
        rivals = [name for name, weight in one.others if weight >= one.weight - 0.5 and FIELDS[name].kind != kind]
        measured = kind in ("temperature", "mass", "duration") and any(
            FIELDS[name].kind in ("temperature", "mass") for name in rivals
        )
        tied.append(replace(one, weight=1.0) if measured and 1.0 < one.weight <= 3.5 and not one.said.unit else one)
    return tied


def _lettered_cores(spotted: list[Spotted], shapes: list[Shape]) -> list[Spotted]:
    """Columns named by a letter and a number only (T1, T2, T3) that hold core temperatures, where nothing else does."""
    if any(one.field == "core" for one in spotted):
        return spotted
    groups: dict[str, list[Spotted]] = defaultdict(list)
    for one in spotted:
        letters = "".join(one.said.rest).lower()
        if one.field in ("ignore", "cook_id", "stage_number") and one.said.numbers and re.fullmatch(r"t|p|k|c|m|tc|", letters):
            groups[letters].append(one)
    for siblings in groups.values():
        low = min(shapes[one.column].lowest for one in siblings)
        high = max(shapes[one.column].highest for one in siblings)
        if len(siblings) >= 2 and (low >= 40 and high <= 112):
            for one in siblings:
                spotted[one.column] = replace(one, field="core", weight=3.0)
    return spotted


def _numbered(spotted: Sequence[Spotted], table: Table) -> list[Spotted]:
    """Stage, place and taster of each column, by what its heading says or by its turn."""
    named = _initials([_place_named(_labelled(one), table.columns[one.column]) for one in spotted])
    named = _letters_are_places(named)
    for name in ("stage", "stage_share", "stage_air", "stage_microwave"):
        named = _stages_in_turn(named, name, table)
    named = [replace(one, field="program") if one.field == "stage" and one.number is None else one for one in named]
    return _tasters(_from_one(named))


def _initials(spotted: list[Spotted]) -> list[Spotted]:
    """Columns headed B, T and M, all three of them, are browning, texture and moisture."""
    letters = {one.label.lower(): one for one in spotted if one.field == "scores" and one.label}
    letters |= {one.said.text.lower(): one for one in spotted if one.field == "ignore" and one.said.text in ("B", "T", "M")}
    if set(letters) != {"b", "t", "m"}:
        return spotted
    attribute = {letters[name[0]].column: name for name in ("browning", "texture", "moisture")}
    return [replace(one, field=attribute[one.column], label=None) if one.column in attribute else one for one in spotted]


def _labelled(one: Spotted) -> Spotted:
    number = one.said.numbers[-1] if one.said.numbers else None
    label = _as_written(one.said) or None
    if one.field in _ATTRIBUTES or one.field in ("scores", "taster"):
        who = _name_in(one.said.text) or label
        return replace(one, number=None, label=who or (str(number) if number is not None else None))
    if one.field == "core":
        extreme = (
            next((word for word in ("min", "max") if word in plain(one.said.text)), None)
            if "extreme" in one.said.things
            else None
        )
        return replace(one, number=number, label=label or extreme)
    if FIELDS[one.field].level == "stage":
        return replace(one, number=number, label=None)
    return one


def _name_in(text: str) -> str:
    """A taster's name in the heading of a score, whatever its words may mean elsewhere: "Browning (M. Kern)"."""
    aside = re.search(r"[(\[]([^)\]]+)[)\]]", text)
    if aside is None or not re.search(r"[^\W\d_]", aside[1]) or said(aside[0]).scale or unit_named(aside[1]):
        return ""
    words = re.findall(r"[\w.\-']+", aside[1])
    kept = [
        word
        for word in words
        if not things_of(plain(word.strip("."))) & {"taster", "score", "id", "browning", "texture", "moisture"}
    ]
    return " ".join(kept) if kept and not any(char.isdigit() and len(kept) == 1 for char in kept[0]) else ""


def _place_named(one: Spotted, column: Column) -> Spotted:
    """A place named below a group of cores, whatever its word may mean elsewhere: "Kern" over "links, Mitte, rechts"."""
    leaf = re.sub(r"\s*[\[(].*?[\])]", "", column.leaf).strip()
    below = one.field == "core" and column.groups and one.number is None and leaf
    if not below or unit_named(leaf) or said(leaf).things & {"temp", "end", "mean", "extreme"}:
        return one
    return replace(one, label=leaf)


def _as_written(heading: Said) -> str:
    """The words that name nothing known, as they stand in the heading: "R. Osei" keeps its point."""
    words = list(heading.rest)
    if not words:
        return ""
    first, last = words[0], words[-1]
    if len(words) == 1:
        return first
    found = re.search(rf"\b{re.escape(first)}\b(?:[^\w\[\](){{}}]+\w+)*?[^\w\[\](){{}}]+{re.escape(last)}\b", heading.text)
    written = found[0] if found else ""
    inside = re.findall(r"[^\W\d_]+", written)
    return written if inside == words else " ".join(words)


def _letters_are_places(spotted: list[Spotted]) -> list[Spotted]:
    """`Core A, Core B, Core C`: the C is a place, not °C, when its siblings are letters too."""
    cores = [one for one in spotted if one.field == "core"]
    letters = {one.label for one in cores if one.label and len(one.label) == 1}
    if not letters:
        return spotted
    return [
        replace(one, label=one.said.bare, said=replace(one.said, unit="", bare=""))
        if one.field == "core" and one.said.bare and not one.label and one.number is None
        else one
        for one in spotted
    ]


def _stages_in_turn(spotted: list[Spotted], name: str, table: Table) -> list[Spotted]:
    """Columns of one kind without a number are stages in their order, where there are several."""
    bare = [one for one in spotted if one.field == name and one.number is None]
    if len(bare) < 2 or any(one.field == name and one.number is not None for one in spotted):
        return spotted
    if len({table.columns[one.column].part for one in bare}) > 1:
        return spotted
    turn = {one.column: number for number, one in enumerate(bare, start=1)}
    return [replace(one, number=turn[one.column]) if one.column in turn else one for one in spotted]


def _from_one(spotted: list[Spotted]) -> list[Spotted]:
    """Stages counted from 0 are counted from 1."""
    numbers = [one.number for one in spotted if FIELDS[one.field].level == "stage" and one.number is not None]
    if 0 not in numbers:
        return spotted
    return [
        replace(one, number=one.number + 1) if FIELDS[one.field].level == "stage" and one.number is not None else one
        for one in spotted
    ]


def _tasters(spotted: list[Spotted]) -> list[Spotted]:
    """Labels of score columns are tasters where they tell columns apart; else they are only words of the heading."""
    by_field = Counter(one.field for one in spotted if one.field in _ATTRIBUTES[:3])
    own_column = any(one.field == "taster" and not one.said.numbers for one in spotted)
    spotted = _told_apart(spotted, by_field)
    labels = Counter(one.label for one in spotted if one.field in _ATTRIBUTES[:3])
    turn: Counter[str] = Counter()
    named = []
    for one in spotted:
        if one.field == "taster":
            one = replace(one, label=None, number=one.said.numbers[-1] if one.said.numbers else None)
        elif one.field in _ATTRIBUTES[:3]:
            turn[one.field] += 1
            several = by_field[one.field] > 1
            tells = one.label is not None and (several or labels[one.label] >= 2)
            label = one.label if tells else (str(turn[one.field]) if several and not own_column else None)
            one = replace(one, label=label)
        elif one.field == "other_score":
            one = replace(one, label=_other_name(one.said))
        named.append(one)
    return named


def _told_apart(spotted: list[Spotted], by_field: Counter[str]) -> list[Spotted]:
    """Score columns whose tasters have names that mean something else ("Browning Mark"): by what is left of the heading."""
    changed = list(spotted)
    for field in _ATTRIBUTES[:3]:
        columns = [one for one in spotted if one.field == field]
        labels = [one.label for one in columns]
        if by_field[field] < 2 or (all(labels) and len(set(labels)) == len(labels)):
            continue
        left = [_left_of(one.said.text, field) for one in columns]
        if all(left) and len(set(left)) == len(left):
            for one, label in zip(columns, left, strict=True):
                changed[spotted.index(one)] = replace(one, label=label)
    return changed


def _left_of(text: str, field: str) -> str:
    """Words of a heading that neither name its attribute nor say "score" or "taster"."""
    words = re.findall(r"[\w.\-']+", re.sub(r"[\[(]\s*(?:[\d\s\-–.]+|/\s*\d+)\s*[\])]", " ", text))
    return " ".join(
        word for word in words if not things_of(plain(word.strip("."))) & {field, "taster", "id"} and word.lower() != "score"
    )


def _other_name(heading: Said) -> str:
    return re.sub(r"\s*[\[(].*?[\])]", "", heading.text).strip() or "other"
