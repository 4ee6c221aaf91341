"""When a cook was cooked and its thermometer checked, from days, times of day and the zone of the log."""

from __future__ import annotations

from datetime import date, datetime

from tuner.exchange.cook_reading import CookReading
from tuner.exchange.mapping import LEAVE_OUT, ColumnUse
from tuner.exchange.table import Row
from tuner.exchange.when_text import ORDERS, Order, WhenTyped, day_of, instant, orders_of, read_when, zone_named

Cell = tuple[Row | None, ColumnUse | None, str]


def cooked_at(reading: CookReading) -> str | None:
    """Time of the cook as text with its zone, None where the log does not tell or a question is open."""
    day_cell = _first(reading, "cooked_at") or _first(reading, "cooked_on")
    time_cell = _first(reading, "cooked_time")
    if day_cell is None:
        if time_cell is not None:
            reading.omit(time_cell[0], _heading(time_cell), time_cell[2], "a time of day without a day is no moment")
        return None
    return _moment(day_cell, time_cell, reading)


def checked_at(reading: CookReading) -> str | None:
    """Time of the thermometer check; a time of day alone is on the day of the cook."""
    cell = _first(reading, "thermometer_checked_at")
    if cell is None:
        return None
    typed = read_when(cell[2])
    if typed is not None and typed.numbers is None:
        day = _first(reading, "cooked_at") or _first(reading, "cooked_on")
        if day is None:
            reading.omit(cell[0], _heading(cell), cell[2], "a time of day without a day is no moment")
            return None
        return _moment(day, cell, reading)
    if typed is None:
        reading.omit(cell[0], _heading(cell), cell[2], "it does not say when")
        return None
    return _moment(cell, None, reading)


def _first(reading: CookReading, name: str) -> Cell | None:
    cells = reading.cells(name)
    if cells:
        return cells[0]
    constant = reading.mapping.constants.get(name, "")
    return (None, None, constant) if constant else None


def _heading(cell: Cell) -> str:
    return cell[1].heading if cell[1] else "told for all rows"


def _moment(day_cell: Cell, time_cell: Cell | None, reading: CookReading) -> str | None:
    typed = read_when(day_cell[2])
    clock = read_when(time_cell[2]) if time_cell else None
    if typed is None or typed.numbers is None:
        reading.problems.append(
            f"day {day_cell[2]!r} in column {_heading(day_cell)!r} can't be read. Write it like 2026-03-02. Correct the cell"
        )
        return None
    day = _day(typed, day_cell, reading)
    if day is None:
        return None
    seconds = clock.seconds if clock and clock.seconds is not None else typed.seconds
    offset = clock.offset_min if clock and clock.offset_min is not None else typed.offset_min
    zone_name = reading.mapping.time_zone
    zone = zone_named(zone_name) if zone_name and zone_name != LEAVE_OUT else None
    moment = instant(day, seconds or 0, offset, zone)
    if moment is None:
        reason = "left out as answered" if zone_name == LEAVE_OUT else "the time zone is asked"
        reading.omit(day_cell[0], _heading(day_cell), day_cell[2], reason)
        return None
    if seconds is None:
        reading.remarks.append("the log tells the day but no time of day; 00:00 is kept")
    return _text(moment)


def _day(typed: WhenTyped, cell: Cell, reading: CookReading) -> date | None:
    if typed.numbers is None:
        return None
    order = _order(typed, cell)
    if order is None:
        reading.omit(cell[0], _heading(cell), cell[2], "the order of day and month is asked")
        return None
    numbers = typed.numbers
    if numbers[2] == 0:
        year = reading.mapping.constants.get("year", "")
        if not year.isdecimal():
            reading.omit(cell[0], _heading(cell), cell[2], "the year is asked")
            return None
        numbers = (numbers[0], numbers[1], int(year))
    day = day_of(numbers, order)
    if day is None:
        reading.problems.append(f"day {cell[2]!r} is no day in the order {order}. Correct the cell")
    return day


def _order(typed: WhenTyped, cell: Cell) -> Order | None:
    alone = orders_of([typed])
    if len(alone) == 1:
        return alone[0]
    told = cell[1].order[0] if cell[1] and cell[1].order else ""
    return next((order for order in ORDERS if order == told and order in typed.orders), None)


def _text(moment: datetime) -> str:
    return moment.isoformat().replace("+00:00", "Z")
