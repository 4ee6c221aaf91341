"""Doubts about days and times over a whole column: the order of day and month, the year, the zone."""

from __future__ import annotations

from collections.abc import Sequence

from tuner.exchange.asking import Asker, listed
from tuner.exchange.file_hints import Hints
from tuner.exchange.heading_words import plain
from tuner.exchange.mapping import LEAVE_OUT, ColumnUse
from tuner.exchange.settings import with_settings
from tuner.exchange.table import Table
from tuner.exchange.when_text import ORDERS, Order, WhenTyped, day_of, orders_of, read_when

_LANGUAGES = {
    "german": frozenset(
        "gewicht kern kerntemperatur dauer zeit datum uhrzeit bemerkung braunung textur luft mikrowelle ruhezeit stufe".split()
    ),
    "french": frozenset("poids masse coeur duree heure remarque remarques coloration essai four etape repos depart".split()),
    "spanish": frozenset("peso nucleo tiempo fecha hora horno aire microondas etapa reposo observaciones prueba".split()),
}
_DAYS = ("cooked_at", "cooked_on", "thermometer_checked_at")


def choose_dates(uses: Sequence[ColumnUse], values: Sequence[tuple[str, ...]], hints: Hints, asker: Asker) -> list[ColumnUse]:
    """Uses with the order of day, month and year; asked where the column allows several that differ."""
    american = _american(uses, values)
    chosen = []
    for use in uses:
        if use.field not in _DAYS or (use.by_person and use.order):
            chosen.append(use)
            continue
        typed = [when for when in map(read_when, values[use.column]) if when is not None and when.numbers is not None]
        allowed = _allowed(typed)
        order: str | None = allowed[0] if len(allowed) == 1 else None
        if len(allowed) > 1 and hints.dates in allowed:
            order = hints.dates
        elif len(allowed) > 1:
            order = _ask_order(use, values[use.column], typed, allowed, american, asker)
        chosen.append(with_settings(use, order=(order,) if order and order != LEAVE_OUT else None))
    return chosen


def _allowed(typed: Sequence[WhenTyped]) -> tuple[Order, ...]:
    """Orders that the days written with numbers alone allow; days that tell their own order are left aside."""
    open_days = [when for when in typed if len(orders_of([when])) > 1]
    if not open_days:
        return ()
    told = [when for when in typed if len(when.orders) == 1 and "year/month/day" not in when.orders and _numeric(when)]
    return orders_of([*open_days, *told]) or orders_of(open_days)


def _numeric(when: WhenTyped) -> bool:
    return when.numbers is not None and max(when.numbers[:2]) <= 31


def _american(uses: Sequence[ColumnUse], values: Sequence[tuple[str, ...]]) -> bool:
    """Whether the file looks like one from where the month comes first; only for which choice comes first."""
    units = any(use.unit in ("°F", "oz", "lb") for use in uses)
    halves = any(
        (when := read_when(cell)) and when.half for use in uses if use.field in _DAYS for cell in values[use.column][:5]
    )
    return units or bool(halves)


def _ask_order(
    use: ColumnUse, cells: Sequence[str], typed: Sequence[WhenTyped], allowed: Sequence[Order], american: bool, asker: Asker
) -> str | None:
    def days_apart(order: Order) -> int:
        days = [day for when in typed if when.numbers and (day := day_of(when.numbers, order))]
        return (max(days) - min(days)).days if days else 0

    preferred = ORDERS[1] if american else ORDERS[0]
    ranked = sorted(
        allowed, key=lambda order: (days_apart(order) > 2 * min(map(days_apart, allowed)) + 7, order != preferred, order)
    )
    example = next(
        (cell for cell, when in zip(cells, map(read_when, cells), strict=True) if when and len(orders_of([when])) > 1), cells[0]
    )
    text = f"In which order are the days in {use.heading!r} written, for example {example}?"
    return asker.ask(f"dates:{use.column}", text, ranked, columns=[use.column])


def choose_zone(
    uses: Sequence[ColumnUse],
    values: Sequence[tuple[str, ...]],
    table: Table,
    hints: Hints,
    constants: dict[str, str],
    asker: Asker,
) -> str | None:
    """Zone of times written without one: told in the file, else asked; None where it is in doubt or not needed."""
    columns = [use for use in uses if use.field in _DAYS]
    told = [constants[name] for name in _DAYS if name in constants]
    typed = [(cell, when) for use in columns for cell in values[use.column] if (when := read_when(cell)) and when.numbers]
    typed += [(cell, when) for cell in told if (when := read_when(cell)) and when.numbers]
    _ask_year(typed, constants, asker)
    clocks = [when for use in uses if use.field == "cooked_time" for cell in values[use.column] if (when := read_when(cell))]
    zoned = bool(clocks) and all(when.offset_min is not None for when in clocks)
    naive = [cell for cell, when in typed if when.offset_min is None]
    if not naive or zoned:
        return hints.zone or None
    if hints.zone:
        return hints.zone
    timed = bool(clocks) or any(when.seconds is not None for _, when in typed)
    what = "Times" if timed else "Days (taken as beginning at 00:00)"
    text = f"{what} like {listed(naive, 2)} carry no time zone. Which one is it? Any name like Europe/Berlin or UTC+1 may be given."
    return asker.ask("time_zone", text, _zones(table), columns=[use.column for use in columns], free=True)


def _ask_year(typed: Sequence[tuple[str, WhenTyped]], constants: dict[str, str], asker: Asker) -> None:
    yearless = [cell for cell, when in typed if when.numbers and when.numbers[2] == 0]
    years = sorted(
        {
            when.numbers[0] if when.numbers[0] > 1000 else when.numbers[2]
            for _, when in typed
            if when.numbers and max(when.numbers) > 1000
        }
    )
    if yearless:
        text = f"Days like {listed(yearless, 2)} have no year. Which year is it?"
        answer = asker.ask("year", text, [str(year) for year in years], free=True)
        if answer and answer != LEAVE_OUT:
            constants["year"] = answer.strip()


def _zones(table: Table) -> list[str]:
    """Zones worth offering, by the language of the headings."""
    text = plain(" ".join(column.heading for column in table.columns))
    words = set(text.replace("_", " ").split())
    by_language = {"german": "Europe/Berlin", "french": "Europe/Paris", "spanish": "Europe/Madrid"}
    spoken = max(by_language, key=lambda name: len(words & _LANGUAGES[name]))
    first = [by_language[spoken]] if words & _LANGUAGES[spoken] else []
    return list(
        dict.fromkeys(
            [*first, "UTC", "Europe/London", "Europe/Berlin", "America/New_York", "America/Chicago", "America/Los_Angeles"]
        )
    )
