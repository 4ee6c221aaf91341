"""The program of a cook from its cells: stages in one cell, in columns, or a row each; shares as per cent, fraction or time."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

from tuner.exchange.cell_lists import split_list
from tuner.exchange.cook_reading import CookReading
from tuner.exchange.mapping import LEAVE_OUT, ColumnUse
from tuner.exchange.number_text import read_number
from tuner.exchange.quantity_text import converted, read_typed
from tuner.exchange.row_parts import further_stage
from tuner.exchange.stage_shares import StageNumbers, shares_of
from tuner.exchange.stage_slots import Slot
from tuner.exchange.stage_text import StagesRead, read_stages
from tuner.exchange.table import Row


def program_of(reading: CookReading) -> dict[str, Any] | None:
    """Program of a cook as a document; None where the log tells none, with the problem noted where it should."""
    told = _from_text(reading)
    heat = reading.measure("air_temperature")
    seconds = reading.measure("duration")
    if told is not None:
        text_heat, text_seconds, numbers = told
        heat = heat if heat is not None else text_heat
        seconds = seconds if seconds is not None else text_seconds
    else:
        numbers = _from_columns(reading)
    if numbers is None or not numbers.airs:
        return None
    shares, seconds = shares_of(numbers, seconds, reading)
    if shares is None:
        return None
    missing = [words for words, value in (("air temperature", heat), ("duration", seconds)) if value is None]
    if missing:
        asked = (
            " Answer the question about it"
            if any(q.code.startswith(("unit:", "constant:")) for q in reading.mapping.open_questions)
            else ""
        )
        reading.problems.append(
            f"{' and '.join(missing)} of the program is not told. A program needs both.{asked or ' Add it to the log'}"
        )
        return None
    return {"air_temperature_c": heat, "duration_s": seconds, "stages": _stages(shares, numbers)}


def _from_text(reading: CookReading) -> tuple[float | None, float | None, StageNumbers | None] | None:
    """Stages of a cell, or of one cell for each stage; None where no column holds such text."""
    cells = reading.cells("program")
    parts = sorted(reading.cells("stage"), key=lambda found: found[1].number or 0)
    if not cells and not parts:
        constant = reading.mapping.constants.get("program", "")
        if not constant:
            return None
        read = read_stages(constant)
        return _read_slots(read, None, reading) if read else None
    if cells:
        _, use, cell = cells[0]
        read = read_stages(cell)
    else:
        use, cell = parts[0][1], " | ".join(text for _, _, text in parts)
        read = read_stages(cell)
    if read is None:
        reading.problems.append(
            f"stages {cell!r} in column {use.heading!r} can't be told apart. Each stage needs its share, air speed and microwave, "
            "like '40% 30/80 | 60% 90/20'. Write them so"
        )
        return None, None, None
    return _read_slots(read, use, reading)


def keyed_in(cell: str, use: ColumnUse, reading: CookReading, ordered: dict[str, Any] | None) -> dict[str, Any] | None:
    """The program keyed in as a document: what its cell does not tell is as in the ordered one; None where it tells no stages."""
    read = read_stages(cell)
    if read is None:
        return None
    if not use.order:
        use = use.model_copy(
            update={"order": next((one.order for one in reading.columns.of("program", "stage") if one.order), None)}
        )
    trial = CookReading(reading.group, reading.columns, reading.mapping)
    heat, seconds, numbers = _read_slots(read, use, trial)
    heat = heat if heat is not None else (ordered or {}).get("air_temperature_c")
    seconds = seconds if seconds is not None else (ordered or {}).get("duration_s")
    shares, seconds = shares_of(numbers, seconds, trial) if numbers is not None else (None, seconds)
    if numbers is None or shares is None or heat is None or seconds is None or trial.problems:
        return None
    return {"air_temperature_c": heat, "duration_s": seconds, "stages": _stages(shares, numbers)}


def _stages(shares: Sequence[float], numbers: StageNumbers) -> list[dict[str, Any]]:
    return [
        {"share_pct": share, "air_speed_pct": air, "microwave_pct": level}
        for share, air, level in zip(shares, numbers.airs, numbers.microwaves, strict=True)
    ]


def _read_slots(
    read: StagesRead, use: ColumnUse | None, reading: CookReading
) -> tuple[float | None, float | None, StageNumbers | None]:
    heat = None
    if read.air_temperature is not None:
        heat = (read.air_temperature - 32) / 1.8 if read.temperature_unit == "°F" else read.air_temperature
        heat = round(heat, 9)
    roles = _roles(read.stages[0], use)
    if roles is None:
        heading = use.heading if use else "program"
        reading.problems.append(
            f"which number in column {heading!r} is the air speed and which the microwave is asked. Answer it first"
        )
        return heat, read.duration_s, None
    numbers = StageNumbers([], [], [])
    for stage in read.stages:
        by_role = dict(zip(roles, stage, strict=True))
        share = by_role.get("share") or by_role.get("time")
        numbers.shares.append(share.value if share else None)
        numbers.airs.append(by_role["air"].value if "air" in by_role else None)
        numbers.microwaves.append(by_role["microwave"].value if "microwave" in by_role else None)
    timed = any(slot.role == "time" for slot in read.stages[0])
    numbers.share_unit = "s" if timed else ""  # "time" that only a heading says may be shares of it: their sum tells
    if any(slot.percent for stage in read.stages for role, slot in zip(roles, stage, strict=True) if role == "share"):
        numbers.share_unit = "%"
    own = _from_columns(reading) if all(share is None for share in numbers.shares) and len(numbers.shares) > 1 else None
    if own is not None and len(own.shares) == len(numbers.shares):
        numbers.shares, numbers.share_unit, numbers.until = own.shares, own.share_unit, own.until
    return heat, read.duration_s, _fractions_up(numbers)


def _roles(stage: Sequence[Slot], use: ColumnUse | None) -> tuple[str, ...] | None:
    """Roles of a stage's numbers: those told beside them, the others in the column's order."""
    bare = sum(1 for slot in stage if not slot.role)
    if not bare:
        return tuple(slot.role for slot in stage)
    told = {"share" if slot.role == "time" else slot.role for slot in stage if slot.role}
    order = [role for role in (use.order if use and use.order else ()) if role not in told]
    if len(order) > bare and "share" in order:
        order.remove("share")
    if len(order) != bare:
        return None
    waiting = iter(order)
    return tuple(slot.role or next(waiting) for slot in stage)


def _fractions_up(numbers: StageNumbers) -> StageNumbers:
    """Levels of 0.3 and 0.8 are 30 and 80 %."""
    levels = [value for value in (*numbers.airs, *numbers.microwaves) if value is not None]
    if levels and max(levels) <= 1 and any(value != int(value) for value in levels):
        numbers.airs = [None if value is None else round(value * 100, 9) for value in numbers.airs]
        numbers.microwaves = [None if value is None else round(value * 100, 9) for value in numbers.microwaves]
    return numbers


def _from_columns(reading: CookReading) -> StageNumbers | None:
    """Stages from columns of shares, air speeds and microwave levels: numbered, listed in one cell, or a row each."""
    found = {name: _by_stage(reading, name) for name in ("stage_share", "stage_air", "stage_microwave")}
    shares, airs, levels = found["stage_share"], found["stage_air"], found["stage_microwave"]
    stages = sorted({*airs, *levels} or {*shares})
    stages = [stage for stage in stages if not _unused(shares.get(stage), bool(shares), airs.get(stage), levels.get(stage))]
    uses = reading.columns.of("stage_share")
    unit = next((use.unit for use in uses if use.unit), "") or ""
    numbers = StageNumbers(
        [shares.get(stage) for stage in stages], [airs.get(stage) for stage in stages], [levels.get(stage) for stage in stages]
    )
    numbers.until = unit.startswith("until")
    numbers.share_unit = unit.removeprefix("until").strip()
    return numbers if stages else None


def _unused(share: float | None, shares_told: bool, air: float | None, level: float | None) -> bool:
    """A stage that was not set: no share, or a share of nothing."""
    if share == 0:
        return True
    return share is None and shares_told and not air and not level


def _by_stage(reading: CookReading, name: str) -> dict[int, float]:
    """Numbers of a field by stage."""
    by_stage: dict[int, float] = {}
    for row, use, cell in reading.cells(name):
        stage = use.number or _row_stage(row, reading) or _turn(row, reading)
        vulgar = re.fullmatch(r"\s*(\d)\s*/\s*(\d{1,2})\s*", cell) if name == "stage_share" else None
        if vulgar and 0 < int(vulgar[1]) < int(vulgar[2]) <= 20:
            by_stage.setdefault(stage, round(100 * int(vulgar[1]) / int(vulgar[2]), 9))
            continue
        pieces, _ = split_list(cell, reading.mark)
        for offset, piece in enumerate(pieces):
            value = _number(reading, row, use, piece)
            if value is not None:
                by_stage.setdefault(stage + offset, value)
    return by_stage


def _turn(row: Row, reading: CookReading) -> int:
    """Stage of a row that goes on with the program of the row above without a number; 1 for any other."""
    further = [other for other in reading.group.rows if further_stage(other, reading.columns)]
    return next((number for number, other in enumerate(further, start=2) if other is row), 1)


def share_numbers(reading: CookReading) -> list[float]:
    """Shares or times of the stages in columns as plain numbers, in order."""
    by_stage = _by_stage(reading, "stage_share")
    return [by_stage[stage] for stage in sorted(by_stage)]


def _row_stage(row: Row, reading: CookReading) -> int | None:
    cell = next((text for _, text in reading.columns.cells(row, "stage_number")), "")
    number = read_number(cell, "") if cell else None
    return int(number.value) if number and number.value >= 1 else None


def _number(reading: CookReading, row: Row, use: ColumnUse, cell: str) -> float | None:
    """One share or level as a plain number; levels in per cent."""
    if use.unit == LEAVE_OUT:
        reading.omit(row, use.heading, cell, "left out as answered")
        return None
    if use.field == "stage_share":
        duration = read_typed(cell, "duration", reading.mark)
        if duration and duration.unit:
            return converted(duration, "duration", "s")
    typed = read_typed(cell, "percent", reading.mark)
    if typed is None:
        reading.problems.append(
            f"{use.words} {cell!r} in column {use.heading!r} can't be read. It must be a number like 40. Correct the cell"
        )
        return None
    if use.field == "stage_share":
        return typed.value
    return _level(reading, row, use, cell, typed.value, typed.unit)


def _level(reading: CookReading, row: Row, use: ColumnUse, cell: str, value: float, unit: str) -> float | None:
    unit = unit or use.unit or ""
    if not unit:
        reading.omit(row, use.heading, cell, "how its numbers are meant is asked")
        return None
    rated = reading.mapping.expected.microwave_rated_w
    if unit in ("W", "kW") and rated is None:
        reading.problems.append(
            f"{use.words} {cell!r} stands in watts and the oven's rated power is not known. Add it to the oven"
        )
        return None
    full = reading.mapping.expected.air_speed_max_m_s
    if unit == "m/s" and full is None:
        reading.problems.append(
            f"{use.words} {cell!r} stands in m/s and the oven's top air speed is not known. Add it to the oven"
        )
        return None
    factor = {
        "m/s": 100.0 / (full or 1.0),
        "%": 1.0,
        "fraction": 100.0,
        "of 10": 10.0,
        "W": 100.0 / (rated or 1.0),
        "kW": 1e5 / (rated or 1.0),
    }.get(unit)
    if factor is None:
        reading.problems.append(f"{use.words} {cell!r} stands in {unit}, which can't be turned into per cent. Write per cent")
        return None
    return round(value * factor, 9)
