"""What each column holds: as headings and cells tell, as a person chose, and as answered where it was asked."""

from __future__ import annotations

import re
from collections.abc import Sequence

from tuner.exchange.asking import Asker, listed
from tuner.exchange.fields import FIELDS, candidates
from tuner.exchange.heading_words import plain
from tuner.exchange.mapping import ColumnMapping, ColumnUse, Expected
from tuner.exchange.naming import spot_columns, unit_suits
from tuner.exchange.number_text import is_missing
from tuner.exchange.rival_columns import SET_ASIDE
from tuner.exchange.spotted_columns import Spotted
from tuner.exchange.stage_text import read_stages
from tuner.exchange.table import Table
from tuner.exchange.unit_choice import usual
from tuner.exchange.value_shape import Shape, fits, shape_of

_ASKED = frozenset(
    {"air_temperature", "duration", "mass_in", "mass_out", "start_temperature", "rest", "cooked_on", "cooked_at"}
)
"""Fields for which two equally good columns are asked about; of others the first is taken."""
_OF_COOKS = frozenset(
    "cook_id mass_in mass_out core start_temperature program program_name stage stage_share stage_air stage_microwave air_temperature"
    " duration browning texture moisture other_score scores cooked_at cooked_on".split()
)
_MOST_ASKED = 8
_COLD_STORE = re.compile(r"fridge|freezer|chiller|cold|storage|kuhl|frigo|congel|nevera|koelkast|vriezer|heladera")


def choose_columns(
    table: Table, values: Sequence[tuple[str, ...]], known: ColumnMapping | None, expected: Expected, asker: Asker
) -> list[ColumnUse]:
    """The use of every column, in order.

    Parameters
    ----------
    table
        The file.
    values
        For each column its filled cells in rows of cooks.
    known
        An earlier mapping of the same layout; what a person chose in it is kept.
    expected
        What brief and oven let expect.
    asker
        Collects questions and gives answers.
    """
    spotted = spot_columns(table, values)
    uses = [_use(one, table, values[one.column]) for one in spotted]
    uses = _without_idle_parts(uses)
    chosen = {use.column: use for use in known.columns if use.by_person} if known else {}
    _ask_rivals(spotted, uses, values, asker)
    _ask_meanings(spotted, uses, values, asker)
    for column, use in chosen.items():
        if column < len(uses):
            uses[column] = use.model_validate({**use.model_dump(), "samples": uses[column].samples})
    _ask_unknown(spotted, uses, values, expected, asker)
    _note_unread(spotted, uses, values, asker)
    _note_unused(uses, values, asker)
    return uses


def _note_unused(uses: Sequence[ColumnUse], values: Sequence[tuple[str, ...]], asker: Asker) -> None:
    """Say which filled columns are not used although nobody was asked about them, so that nothing is dropped unseen."""
    asked = {column for question in asker.questions for column in question.columns}
    for use in uses:
        cells = [cell for cell in values[use.column] if not is_missing(cell)]
        if use.field == "ignore" and not use.by_person and use.column not in asked and cells:
            asker.note(f"Column {use.heading!r} ({listed(cells)}) is not used. Choose what it holds if it belongs to the cook.")


def _without_idle_parts(uses: list[ColumnUse]) -> list[ColumnUse]:
    """Columns of parts that say nothing of any cook (lists of names, limits) set aside, where another part does."""
    telling = {use.part for use in uses if use.field in _OF_COOKS}
    idle = {use.part for use in uses} - telling if telling else set()
    return [_changed(use, field="ignore") if use.part in idle else use for use in uses]


def _note_unread(
    spotted: Sequence[Spotted], uses: Sequence[ColumnUse], values: Sequence[tuple[str, ...]], asker: Asker
) -> None:
    """Say which columns have a plain heading but cells that can't be what it says."""
    for one in spotted:
        found = candidates(one.said)
        plain_heading = bool(found) and found[0][1] >= 6 and FIELDS[found[0][0]].kind != "none"
        if (
            uses[one.column].field == "ignore"
            and one.weight == 0
            and plain_heading
            and shape_of(tuple(values[one.column])).count
        ):
            words = FIELDS[found[0][0]].words
            asker.note(
                f"Column {uses[one.column].heading!r} ({listed(values[one.column])}) can't be read as {words}; it is left out."
            )


def _use(one: Spotted, table: Table, cells: Sequence[str]) -> ColumnUse:
    column = table.columns[one.column]
    return ColumnUse(
        column=one.column,
        heading=column.heading,
        part=column.part,
        field=one.field,
        number=one.number,
        label=one.label,
        unit=one.said.unit or None,
        scale=f"{one.said.scale[0]}-{one.said.scale[1]}" if one.said.scale else None,
        samples=tuple(cell[:60] for cell in dict.fromkeys(cells))[:3],
        why="the heading" if one.weight >= 4 else "heading and values" if one.weight > 0 else "nothing in heading or values",
    )


def _changed(use: ColumnUse, **changes: object) -> ColumnUse:
    return ColumnUse.model_validate({**use.model_dump(), **changes})


def _ask_rivals(spotted: Sequence[Spotted], uses: list[ColumnUse], values: Sequence[tuple[str, ...]], asker: Asker) -> None:
    """Two columns that may hold what a cook has once: somebody must say which."""
    for one in spotted:
        if one.weight != 0.5 or one.field == "ignore":
            continue
        rivals = [
            one,
            *(other for other in spotted if other.weight == 0.5 and other.field == "ignore" and one.field in other.other_names),
        ]
        if one.field not in _ASKED:
            continue
        names = {f"{uses[rival.column].heading} (column {rival.column + 1})": rival.column for rival in rivals}
        shown = "; ".join(f"{name}: {listed(values[column], 3)}" for name, column in names.items())
        words = FIELDS[one.field].words
        answer = asker.ask(
            f"which:{one.field}", f"Which column holds the {words}? {shown}", list(names), columns=list(names.values())
        )
        for column in names.values():
            field = one.field if answer is not None and names.get(answer) == column else "ignore"
            uses[column] = _changed(uses[column], field=field, why="the answer" if answer else "asked")


def _ask_meanings(spotted: Sequence[Spotted], uses: list[ColumnUse], values: Sequence[tuple[str, ...]], asker: Asker) -> None:
    """Headings that name one of several things: a time of day or a duration, one temperature or another."""
    for one in spotted:
        if one.weight != 1.0:
            continue
        tied = [one.field, *(name for name in one.other_names if FIELDS[name].kind in ("temperature", "mass"))]
        timed = "duration" in tied and "cooked_time" in one.other_names
        options = ["duration", "cooked_time"] if timed else ["core", "air_temperature", "start_temperature"]
        if not timed and "temp" not in one.said.things:
            options = tied
        _ask_field(one.column, options, uses, values, asker)


def _ask_field(
    column: int,
    options: Sequence[str],
    uses: list[ColumnUse],
    values: Sequence[tuple[str, ...]],
    asker: Asker,
    alike: Sequence[Spotted] = (),
) -> None:
    """Ask what a column holds; `alike` are columns named like it but for their number, which hold the same of other stages."""
    by_words = {FIELDS[name].words: name for name in options}
    others = [one.column for one in alike if one.column != column]
    names = " and ".join(repr(uses[index].heading) for index in (column, *others[:2]))
    cells = [cell for index in (column, *others) for cell in values[index]]
    text = f"What {'do columns' if others else 'does column'} {names} hold ({listed(cells)})?"
    answer = asker.ask(f"field:{column}", text, list(by_words), columns=[column, *others])
    field = by_words.get(answer or "", "ignore")
    numbers = {one.column: one.said.numbers[-1] for one in alike if one.said.numbers}
    for index in (column, *others):
        number = numbers.get(index) if FIELDS[field].level == "stage" else uses[index].number
        uses[index] = _changed(uses[index], field=field, number=number, why="the answer" if answer else "asked")


def _ask_unknown(
    spotted: Sequence[Spotted], uses: list[ColumnUse], values: Sequence[tuple[str, ...]], expected: Expected, asker: Asker
) -> None:
    """Columns whose headings say nothing, where something a log should hold is missing and their values could be it."""
    rows = max((len(cells) for cells in values), default=0)
    asked = 0
    settled: set[int] = set()
    for one in spotted:
        use = uses[one.column]
        _ask_mass_after(one, uses, values, asker)
        if use.field == "ignore" and not use.by_person and _COLD_STORE.search(plain(use.heading)):
            _ask_cold_store(one, uses, values, asker)
        if use.field != "ignore" or use.by_person or not _open_to_asking(one) or asked >= _MOST_ASKED:
            continue
        if _beside_cores(one, uses, values):
            asked += 1
            _ask_field(one.column, ["core"], uses, values, asker)
            continue
        shape = shape_of(tuple(values[one.column]))
        if shape.count < 0.4 * min(rows, 60) or shape.count == 0 or _counts(values[one.column]):
            continue
        options = [
            name
            for name in (*_wanted(uses, values), *_missing_marks(one, uses))
            if fits(name, shape) and unit_suits(name, use.unit or shape.unit) and _size_suits(name, shape, expected)
        ]
        if options and one.column not in settled:
            asked += 1
            family = _family(one, spotted, uses)
            settled |= {other.column for other in family}
            _ask_field(one.column, options, uses, values, asker, family)


def _ask_cold_store(one: Spotted, uses: list[ColumnUse], values: Sequence[tuple[str, ...]], asker: Asker) -> None:
    """Whether "Fridge temp" is the fridge's or what the portion starts with, where no column tells the latter."""
    shape = shape_of(tuple(values[one.column]))
    if shape.count and fits("start_temperature", shape) and all(use.field != "start_temperature" for use in uses):
        _ask_field(one.column, ["start_temperature"], uses, values, asker)


def _missing_marks(one: Spotted, uses: Sequence[ColumnUse]) -> list[str]:
    """Attributes that nothing scores yet, where the column stands next to one that scores another."""
    attributes = ("browning", "texture", "moisture")
    scored = [use.column for use in uses if use.field in attributes]
    held = {use.field for use in uses}
    if not any(abs(one.column - column) <= 2 for column in scored):
        return []
    return [name for name in attributes if name not in held]


def _open_to_asking(one: Spotted) -> bool:
    """Whether nothing else is known or asked of a column: it may hold what is still missing."""
    unasked_rival = one.weight == 0.5 and not set(one.other_names) & _ASKED
    return one.weight <= SET_ASIDE or unasked_rival


def _family(one: Spotted, spotted: Sequence[Spotted], uses: Sequence[ColumnUse]) -> list[Spotted]:
    """Columns that nothing is known of and that are named alike but for their number."""
    if not one.said.numbers:
        return [one]
    alike = [
        other
        for other in spotted
        if uses[other.column].field == "ignore" and other.said.numbers and other.said.rest == one.said.rest
    ]
    return alike if len({other.said.numbers[-1] for other in alike}) == len(alike) else [one]


def _ask_mass_after(one: Spotted, uses: list[ColumnUse], values: Sequence[tuple[str, ...]], asker: Asker) -> None:
    """Whether a mass that is set aside is the one after cooking, where no column tells that and it could be by its size."""
    use = uses[one.column]
    if use.field != "ignore" or use.by_person or any(other.field in ("mass_out", "loss", "yield") for other in uses):
        return
    before = next((other for other in uses if other.field == "mass_in" and other.part == use.part), None)
    if before is None or not (one.said.unit in ("g", "kg", "oz", "lb") or "mass" in one.said.things):
        return
    pairs = [
        (shape_of((a,)).highest, shape_of((b,)).highest)
        for a, b in zip(values[before.column], values[one.column], strict=False)
    ]
    if pairs and all(0.5 * first <= second < first for first, second in pairs):
        _ask_field(one.column, ["mass_out"], uses, values, asker)


def _beside_cores(one: Spotted, uses: Sequence[ColumnUse], values: Sequence[tuple[str, ...]]) -> bool:
    """Whether a column of temperatures that names nothing known lies so near the readings that it could be one more place."""
    shape = shape_of(tuple(values[one.column]))
    told = {use.unit for use in uses if use.field == "core" and use.part == uses[one.column].part}
    unit = uses[one.column].unit or shape.unit
    cores = [shape_of(tuple(values[use.column])) for use in uses if use.field == "core"]
    if not cores or not shape.count or unit not in ("°C", "°F") or (told - {None} and unit not in told):
        return False
    slack = 36.0 if unit == "°F" else 20.0
    low, high = min(core.lowest for core in cores) - slack, max(core.highest for core in cores) + slack
    return fits("core", shape) and low <= shape.lowest and shape.highest <= high


def _counts(cells: Sequence[str]) -> bool:
    """Whether cells only number the rows."""
    return len(cells) > 1 and list(cells) == [str(number) for number in range(1, len(cells) + 1)]


def _wanted(uses: Sequence[ColumnUse], values: Sequence[tuple[str, ...]]) -> list[str]:
    """Fields that a cook log should hold and that no column holds yet."""
    held = {use.field for use in uses}
    texts = [cell for use in uses if use.field in ("program", "stage") for cell in values[use.column][:5]]
    read = [stages for stages in map(read_stages, texts) if stages]
    wanted = []
    if not held & {"program", "stage"}:
        wanted += [
            name for name in ("program", "stage_air", "stage_microwave") if name not in held and not held & {"stage_air"}
        ]
    if "air_temperature" not in held and not any(stages.air_temperature is not None for stages in read):
        wanted.append("air_temperature")
    if "duration" not in held and not any(stages.duration_s is not None for stages in read):
        wanted.append("duration")
    wanted += [name for name in ("core", "mass_in") if name not in held]
    if not held & {"mass_out", "loss", "yield"}:
        wanted.append("mass_out")
    if not held & {"cooked_at", "cooked_on"}:
        wanted.append("cooked_at")
    if not held & {"browning", "texture", "moisture", "scores"}:
        wanted += ["browning", "texture", "moisture"]
    return wanted


def _size_suits(name: str, shape: Shape, expected: Expected) -> bool:
    """Whether a column's numbers have a size its field could have, in any usual unit."""
    if name == "program":
        return True
    if name == "mass_out" and not shape.unit:
        return False  # bare numbers that could be anything; masses with a unit are worth a question
    low, high = shape.lowest, shape.highest
    if name in ("browning", "texture", "moisture"):
        return low >= 1 and high <= 5 and shape.number >= 0.8
    if name in ("stage_air", "stage_microwave"):
        return low >= 0 and 5 < high <= 100 and shape.number >= 0.8
    least, most = usual(name, expected)
    scales = {"core": ((1.0, 0.0), (1.8, 32.0)), "air_temperature": ((1.0, 0.0), (1.8, 32.0))}.get(name, ((1.0, 0.0),))
    if name in ("cooked_at", "cooked_time"):
        return True
    if name == "duration" and shape.highest == 0:
        return True  # worded times only, like "3 min 20 s"
    if name == "duration" and shape.clock >= 0.6:
        return not shape.of_day
    return any(least * factor + shift <= low and high <= most * factor + shift for factor, shift in scales)
