"""The program of a cook from its cells: stages in one cell, in columns, or a row each; shares as per cent, fraction or time."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from tuner.exchange.cell_lists import split_list
from tuner.exchange.cook_reading import CookReading
from tuner.exchange.mapping import LEAVE_OUT, ColumnUse
from tuner.exchange.number_text import read_number
from tuner.exchange.quantity_text import converted, read_typed
from tuner.exchange.stage_text import Slot, StagesRead, read_stages
from tuner.exchange.table import Row

_NEAR = 0.0051
"""Slack of a sum of shares, as part of the whole: what rounding to whole per cent or seconds leaves."""


@dataclass
class StageNumbers:
    """Numbers of the stages as they stand, one entry a stage; shares None where not told.

    `share_unit` is "%", "fraction", "s", "min" or empty (told by the sum); with `until` they are ends, not lengths.
    """

    shares: list[float | None]
    airs: list[float | None]
    microwaves: list[float | None]
    share_unit: str = ""
    until: bool = False


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
    shares, seconds = _shares(numbers, seconds, reading)
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
    stages = [
        {"share_pct": share, "air_speed_pct": air, "microwave_pct": level}
        for share, air, level in zip(shares, numbers.airs, numbers.microwaves, strict=True)
    ]
    return {"air_temperature_c": heat, "duration_s": seconds, "stages": stages}


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
    numbers.share_unit = "s" if "time" in roles else ""
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
        stage = use.number or _row_stage(row, reading) or 1
        pieces, _ = split_list(cell, reading.mark)
        for offset, piece in enumerate(pieces):
            value = _number(reading, row, use, piece)
            if value is not None:
                by_stage.setdefault(stage + offset, value)
    return by_stage


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
    if unit == "W" and rated is None:
        reading.problems.append(
            f"{use.words} {cell!r} stands in watts and the oven's rated power is not known. Add it to the oven"
        )
        return None
    factor = {"%": 1.0, "fraction": 100.0, "of 10": 10.0, "W": 100.0 / (rated or 1.0)}.get(unit, 1.0)
    return round(value * factor, 9)


def _shares(numbers: StageNumbers, seconds: float | None, reading: CookReading) -> tuple[list[float] | None, float | None]:
    """Shares in per cent that add up to exactly 100, and the duration where only the stages tell it."""
    if any(value is None for value in (*numbers.airs, *numbers.microwaves)):
        asked = any(question.code.startswith("level:") for question in reading.mapping.open_questions)
        what = "how air speed or microwave are meant is asked. Answer it first"
        lacking = "air speed or microwave of a stage is missing. Each stage needs both. Add what was set, or 0"
        reading.problems.append(what if asked else lacking)
        return None, seconds
    given = _completed([*numbers.shares], numbers, seconds)
    if given is None:
        told = [f"{share:g}" for share in numbers.shares if share is not None]
        reading.problems.append(
            f"shares of the time are told for {len(told)} of {len(numbers.shares)} stages. Each stage needs one. Add the missing ones"
        )
        return None, seconds
    if numbers.until:
        given = [later - earlier for earlier, later in zip([0.0, *given], given, strict=False)]
    return _normalised(given, numbers.share_unit, seconds, reading)


def _completed(shares: list[float | None], numbers: StageNumbers, seconds: float | None) -> list[float] | None:
    """Shares with the last one worked out where it alone is missing; a single stage has the whole time."""
    if len(shares) == 1 and shares[0] is None:
        return [100.0]
    known = [share for share in shares if share is not None]
    if len(known) == len(shares):
        return known
    if len(known) == len(shares) - 1 and shares[-1] is None:
        unit = numbers.share_unit
        whole = (seconds or 0.0) if unit in ("s", "mm:ss") else 1.0 if unit == "fraction" or max(known) < 1 else 100.0
        if unit == "" and sum(known) >= 100 and seconds:
            whole = seconds
        rest = whole - (known[-1] if numbers.until else sum(known))
        return [*known, whole if numbers.until else rest] if rest > 0 else None
    return None


def _normalised(
    given: list[float], unit: str, seconds: float | None, reading: CookReading
) -> tuple[list[float] | None, float | None]:
    total = sum(given)
    if total <= 0 or any(share < 0 for share in given):
        reading.problems.append(f"shares of the time add up to {total:g}. They must add up to 100 %. Correct them")
        return None, seconds
    targets = _targets(unit, seconds)
    slack = max(_NEAR, 0.5 * len(given) / total) if total > 1.5 else _NEAR
    for kind, target in targets:
        if abs(total - target) <= min(slack, 0.02) * target:
            if kind == "time":
                return _from_seconds(
                    [share * (seconds or total) / total for share in given], seconds or total, reading
                ), seconds
            return _exact([100 * share / target for share in given], given, reading), seconds
    if unit in ("s", "min", "mm:ss") and seconds is None:
        own = [share * (60.0 if unit == "min" else 1.0) for share in given]
        return _from_seconds(own, sum(own), reading), sum(own)
    shown = " + ".join(f"{share:g}" for share in given)
    against = f", the duration is {seconds:g} s" if unit in ("s", "min", "mm:ss") and seconds else ""
    reading.problems.append(
        f"shares of the time {shown} add up to {total:g}{against}. They must add up to 100 % or to the duration. Correct them"
    )
    return None, seconds


def _targets(unit: str, seconds: float | None) -> list[tuple[str, float]]:
    """What shares may add up to, by unit; all of it where no unit is told."""
    by_unit = {"%": [("part", 100.0)], "fraction": [("part", 1.0)]}
    if unit in by_unit:
        return [*by_unit[unit], ("part", 1.0)] if unit == "%" else by_unit[unit]
    timed = [("time", seconds)] if seconds else []
    minutes = [("time", seconds / 60)] if seconds else []
    if unit in ("s", "mm:ss", "h:mm:ss"):
        return timed
    if unit == "min":
        return minutes
    return [("part", 100.0), ("part", 1.0), *timed, *minutes]


def _exact(shares: list[float], given: list[float], reading: CookReading) -> list[float] | None:
    """Shares as written where they add up; thirds and the like are evened out; others are refused."""
    total = sum(shares)
    if abs(total - 100) <= 1e-6:
        rounded = [round(share, 6) for share in shares]
        rounded[-1] = round(100 - sum(rounded[:-1]), 6)
        return rounded
    equal = max(given) - min(given) <= 0.011 * max(given)
    fine = any(abs(share - round(share)) > 1e-9 for share in shares)
    if equal or fine:
        reading.remarks.append(f"shares add up to {total:g} % by rounding and were evened out")
        return _summed([share * 100 / total for share in shares])
    shown = " + ".join(f"{share:g}" for share in given)
    reading.problems.append(
        f"shares of the time {shown} add up to {total:g} %. They must add up to exactly 100 %. Correct them"
    )
    return None


def _from_seconds(times: list[float], seconds: float, reading: CookReading) -> list[float]:
    """Shares of stages given in time: on the oven's steps where those give the same whole seconds, else as they are."""
    steps = [step for step in (reading.mapping.expected.share_step_pct, 5.0, 1.0) if step]
    for step in dict.fromkeys(steps):
        shares = [round(round(100 * time / seconds / step) * step, 6) for time in times]
        apart = seconds * step / 100 >= 2.5  # then a stage between two rounded ends, up to a second off, is still told apart
        slack = 1.0 if step >= 5 and apart else 0.5
        close = all(abs(share * seconds / 100 - time) <= slack + 1e-9 for share, time in zip(shares, times, strict=True))
        if close and abs(sum(shares) - 100) <= 1e-6 and all(share > 0 for share in shares):
            return shares
    return _summed([100 * time / seconds for time in times])


def _summed(shares: list[float]) -> list[float]:
    rounded = [round(share, 6) for share in shares]
    rounded[-1] = round(100 - sum(rounded[:-1]), 6)
    return rounded
