"""Columns that claim the same field: one holds it, the others fall back, stay in doubt, or are set aside."""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Sequence
from dataclasses import replace

from tuner.exchange.fields import FIELDS
from tuner.exchange.spotted_columns import Spotted
from tuner.exchange.stage_slots import role_of
from tuner.exchange.table import Table
from tuner.exchange.value_shape import Shape, shape_of

SET_ASIDE = 0.01
"""Weight of a column whose field another holds: it may be asked about, but is told as nothing else."""

_REPEATABLE = frozenset(
    "core place stage stage_share stage_air stage_microwave taster browning texture moisture other_score scores note ignore computed".split()
)


def one_each(spotted: list[Spotted], table: Table, values: Sequence[tuple[str, ...]]) -> list[Spotted]:
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
    claim = sorted(
        claim, key=lambda one: (bool(values[one.column]), not table.columns[one.column].continued, one.weight), reverse=True
    )
    winner, *rest = claim
    if winner.field == "mass_in":
        chilled = [one for one in claim if "start_temperature" in one.other_names and _at_most(values[one.column], 75)]
        if 0 < len(chilled) < len(claim):  # "Raw 181" and "Start 4": only one of them can be a temperature
            return [replace(one, field="start_temperature", weight=3.6) for one in chilled]
    if winner.field == "mass_in" and len(rest) == 1 and rest[0].weight == winner.weight and not _both_before(claim):
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


def _at_most(cells: Sequence[str], most: float) -> bool:
    return bool(cells) and shape_of(tuple(cells)).highest <= most


def _both_before(claim: Sequence[Spotted]) -> bool:
    """Whether all say that they were measured before cooking: then none is the mass after it."""
    return all("start" in one.said.things for one in claim)


def _second_best(one: Spotted, taken: str) -> Spotted:
    """What else a column holds whose field another holds, where its heading says that nearly as plainly."""
    other = next(
        ((name, weight) for name, weight in one.others if name != taken and weight >= max(2.0, one.weight - 2.5)), None
    )
    if other is None:
        return replace(one, field="ignore", weight=SET_ASIDE, others=())
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


def after_the_rest(spotted: list[Spotted]) -> list[Spotted]:
    """Where cores stand both at the end of the cook and after the rest, only those after the rest are the readings."""
    rested = [one for one in spotted if one.field == "core" and "rest" in one.said.things]
    if not rested:
        return spotted
    return [replace(one, field="ignore", weight=4.0) if one.field == "core" and one not in rested else one for one in spotted]


def shares_beside_levels(spotted: list[Spotted], values: Sequence[tuple[str, ...]]) -> list[Spotted]:
    """`P1 %` or `Blast 1 length` beside the air speed and the microwave of stage 1 is the share or the time of that stage."""
    if any(one.field in ("stage_share", "stage") for one in spotted):
        return spotted
    airs, levels = (
        {one.said.numbers[-1] for one in spotted if one.field == name and one.said.numbers}
        for name in ("stage_air", "stage_microwave")
    )
    stages = airs & levels
    bare = [one for one in spotted if _could_be_share(one, values[one.column]) and one.said.numbers[-1] in stages]
    if len({one.said.numbers[-1] for one in bare}) != len(bare) or len(bare) < max(1, len(stages) - 1):
        return spotted
    chosen = {one.column for one in bare}
    return [replace(one, field="stage_share", weight=3.0, others=()) if one.column in chosen else one for one in spotted]


def lettered_levels(spotted: list[Spotted]) -> list[Spotted]:
    """`S1 t%`, `S1 L%`, `S1 M%`: of several shares of one stage those with a letter for air or microwave are levels."""
    claims = Counter(one.said.numbers[-1] for one in spotted if one.field == "stage_share" and one.said.numbers)
    roles = {
        one.column: role_of(one.said.rest[0])
        for one in spotted
        if one.field == "stage_share" and one.said.numbers and claims[one.said.numbers[-1]] > 1 and len(one.said.rest) == 1
    }
    if set(roles.values()) < {"air", "microwave"}:
        return spotted
    names = {"air": "stage_air", "microwave": "stage_microwave"}
    return [
        replace(one, field=names[role], weight=3.0) if (role := roles.get(one.column, "")) in names else one for one in spotted
    ]


def _could_be_share(one: Spotted, cells: Sequence[str]) -> bool:
    """Whether a column numbered like a stage names nothing but a part of the time."""
    nothing_else = not one.said.things - {"seconds", "time", "lasts", "end"}
    in_time = one.field in ("ignore", "duration") and one.said.unit in ("%", "fraction", "s", "min", "mm:ss", "")
    shape = shape_of(tuple(cells))
    return nothing_else and in_time and bool(one.said.numbers) and (shape.number >= 0.5 or shape.duration >= 0.5)


def tied_columns(spotted: list[Spotted]) -> list[Spotted]:
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


def lettered_cores(spotted: list[Spotted], shapes: list[Shape]) -> list[Spotted]:
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
