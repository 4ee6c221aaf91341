"""Days and times as people write them; the order of day and month is settled over the whole column, never by one cell."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta, timezone, tzinfo
from functools import lru_cache
from typing import Literal
from zoneinfo import ZoneInfo

from tuner.exchange.heading_words import plain
from tuner.exchange.number_text import REMEMBERED, straightened

Order = Literal["day/month/year", "month/day/year", "year/month/day"]
ORDERS: tuple[Order, ...] = ("day/month/year", "month/day/year", "year/month/day")

_MONTHS = {
    name: number
    for number, names in enumerate(
        (
            "jan january januar janner janvier enero ene janv",
            "feb february februar fevrier febrero fev fevr",
            "mar march marz maerz mars marzo mrz",
            "apr april avril abril avr abr",
            "may mai mayo",
            "jun june juni juin junio",
            "jul july juli juillet julio juil",
            "aug august aout agosto ago",
            "sep sept september septembre septiembre",
            "oct october oktober octobre octubre okt",
            "nov november novembre noviembre",
            "dec december dezember decembre diciembre dez dic",
        ),
        start=1,
    )
    for name in names.split()
}
_ZONES = {
    "z": 0, "utc": 0, "gmt": 0, "wet": 0, "cet": 60, "mez": 60, "west": 60, "cest": 120, "mesz": 120, "eet": 120, "eest": 180,
    "edt": -240, "est": -300, "cdt": -300, "mdt": -360, "mst": -420, "pdt": -420, "pst": -480,
}  # fmt: skip
"""Abbreviations with one usual meaning, minutes east of Greenwich; those with several are asked."""

_ISO = re.compile(r"^(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})(?!\d)")
_COMPACT = re.compile(r"^(20\d{2})(\d{2})(\d{2})(?!\d)(?:[T ]?(\d{2})(\d{2})(\d{2})?(?!\d))?")
_NUMERIC = re.compile(r"^(\d{1,2})\s?([./-])\s?(\d{1,2})\s?\2\s?(\d{4}|\d{2})(?!\d)")
_YEARLESS = re.compile(r"^(\d{1,2})([./-])(\d{1,2})\.?(?![\d:])(?=$|[\sT,])")
_NAMED = re.compile(
    r"^(\d{1,2})(?:st|nd|rd|th|er)?[.\s/-]*(?:de\s+)?([^\W\d_]{3,})\.?[\s,./-]*(?:de\s+)?(\d{4}|'?\d{2}(?![:\d]))?"
)
_NAMED_FIRST = re.compile(r"^([^\W\d_]{3,})\.?[\s/-]*(\d{1,2})(?:st|nd|rd|th)?(?![\d:])[\s,./-]*(\d{4}|'?\d{2}(?![:\d]))?")
_YEAR_NAMED = re.compile(r"^(\d{4})[\s./-]*([^\W\d_]{3,})[\s./-]*(\d{1,2})(?!\d)")
_WEEKDAY = re.compile(r"^(?:mon|tue|wed|thu|fri|sat|sun|mo|di|mi|do|fr|sa|so|lun|mar|mer|jeu|ven|sam|dim|lunes|martes|mie|jue|vie|sab|dom)"
                      r"[a-zäöüéáí]*\.?,?\s+(?=\d|[^\W\d_]{3,}\s*\d)", re.IGNORECASE)  # fmt: skip
_TIME = re.compile(
    r"^[T,\s-]*(?:at |um |à )?(\d{1,2})(?:[:.h](\d{2}))?(?:[:.](\d{2})(?:[.,](\d{1,6}))?)?\s*(?:uhr|h\b)?\s*([ap])?\.?(?:m\.?)?(?=$|\W|z$|[a-z]{3,4}$)",
    re.IGNORECASE,
)
_OFFSET = re.compile(r"^\s*[(\[]?(?:(?:utc|gmt)\s*)?([+-])(\d{1,2}):?(\d{2})?[)\]]?\s*$", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class WhenTyped:
    """A day, a time of day, or both, as typed.

    Attributes
    ----------
    numbers
        The three numbers of the day as written, None where there is no day; the year is 0 where it was not written.
    orders
        Orders that the writing itself allows.
    seconds
        Seconds since midnight, None where there is no time of day.
    offset_min
        Minutes east of Greenwich, None where no zone is written.
    half
        True where `am` or `pm` is written.
    """

    numbers: tuple[int, int, int] | None
    orders: frozenset[Order]
    seconds: int | None
    offset_min: int | None
    half: bool = False


@lru_cache(maxsize=REMEMBERED)
def read_when(text: str) -> WhenTyped | None:
    """Read a day, a time of day, or both; None where the text is neither."""
    body = straightened(text).strip()
    serial = re.fullmatch(r"(4\d{4})(?:[.,](\d+))?", body)
    if serial:
        return _from_serial(float(body.replace(",", ".")))
    day, rest = _day(body)
    if day is None and _WEEKDAY.match(body):
        day, rest = _day(_WEEKDAY.sub("", body))
    if day is None:
        found = _time_of_day(body, alone=True)
        return found
    if not rest.strip(" ,T"):
        return day
    clock = _time_of_day(rest, alone=False)
    return None if clock is None else replace(day, seconds=clock.seconds, offset_min=clock.offset_min, half=clock.half)


def _day(body: str) -> tuple[WhenTyped | None, str]:
    """The day at the beginning of a text, and what follows it."""
    every = frozenset(ORDERS)
    iso = _ISO.match(body)
    if iso:
        return _typed((int(iso[1]), int(iso[2]), int(iso[3])), frozenset({ORDERS[2]})), body[iso.end() :]
    compact = _COMPACT.match(body)
    if compact:
        rest = f" {compact[4]}:{compact[5]}:{compact[6] or '00'}" if compact[4] else ""
        return _typed((int(compact[1]), int(compact[2]), int(compact[3])), frozenset({ORDERS[2]})), rest + body[compact.end() :]
    numeric = _NUMERIC.match(body)
    if numeric:
        numbers = (int(numeric[1]), int(numeric[3]), _year(numeric[4]) if len(numeric[4]) == 4 else int(numeric[4]))
        if numeric[2] == ".":
            orders = frozenset({ORDERS[0]})
        else:
            orders = every if len(numeric[4]) == 2 else frozenset(ORDERS[:2])
        return _typed(numbers, orders), body[numeric.end() :]
    return _named_day(body)


def _named_day(body: str) -> tuple[WhenTyped | None, str]:
    year_first, day_first, month_first = _YEAR_NAMED.match(body), _NAMED.match(body), _NAMED_FIRST.match(body)
    for found, places in ((year_first, (3, 2, 1)), (day_first, (1, 2, 3)), (month_first, (2, 1, 3))):
        if found:
            month = _month(found[places[1]])
            if month:
                year = found[places[2]]
                numbers = (int(found[places[0]]), month, _year(year) if year else 0)
                return _typed(numbers, frozenset({ORDERS[0]})), body[found.end() :]
    yearless = _YEARLESS.match(body)
    if yearless:
        orders = frozenset({ORDERS[0]}) if yearless[2] == "." else frozenset(ORDERS[:2])
        return _typed((int(yearless[1]), int(yearless[3]), 0), orders), body[yearless.end() :]
    return None, body


def _typed(numbers: tuple[int, int, int], orders: frozenset[Order]) -> WhenTyped | None:
    possible = frozenset(order for order in orders if day_of(numbers, order) is not None)
    return WhenTyped(numbers, possible, None, None) if possible else None


def _month(word: str) -> int:
    key = plain(word)
    return _MONTHS.get(key, 0) or _MONTHS.get(key[:3], 0) * (len(key) > 3 and key[:4] in {name[:4] for name in _MONTHS})


def _year(text: str) -> int:
    digits = text.strip("'")
    return int(digits) if len(digits) == 4 else 2000 + int(digits)


def _time_of_day(text: str, *, alone: bool) -> WhenTyped | None:
    found = _TIME.match(text)
    if not found or (alone and found[2] is None and not found[5] and not re.search(r"uhr|\dh", text, re.IGNORECASE)):
        return None
    if alone and re.match(r"\d+\.\d+$", text.strip()):
        return None
    hour, minute, second = int(found[1]), int(found[2] or 0), int(found[3] or 0)
    if found[5]:
        if not 1 <= hour <= 12:
            return None
        hour = hour % 12 + (12 if found[5].lower() == "p" else 0)
    if hour > 23 or minute > 59 or second > 59:
        return None
    known, offset = _zone(text[found.end() :])
    return WhenTyped(None, frozenset(ORDERS), hour * 3600 + minute * 60 + second, offset, bool(found[5])) if known else None


def _zone(text: str) -> tuple[bool, int | None]:
    """Whether the text behind a time is understood, and the offset it tells."""
    rest = text.strip().strip("()[]")
    if not rest:
        return True, None
    if rest.lower() in _ZONES:
        return True, _ZONES[rest.lower()]
    offset = _OFFSET.match(rest)
    if offset and int(offset[2]) <= 14:
        minutes = int(offset[2]) * 60 + int(offset[3] or 0)
        return True, minutes if offset[1] == "+" else -minutes
    return False, None


def _from_serial(serial: float) -> WhenTyped:
    """A day counted as spreadsheets do, from the end of 1899."""
    moment = datetime(1899, 12, 30) + timedelta(seconds=round(serial * 86400))
    seconds = moment.hour * 3600 + moment.minute * 60 + moment.second
    numbers = (moment.year, moment.month, moment.day)
    return WhenTyped(numbers, frozenset({ORDERS[2]}), seconds if serial % 1 else None, None)


def day_of(numbers: tuple[int, int, int], order: Order) -> date | None:
    """The day that three numbers mean in an order, None where there is no such day; a year of 0 is read as 2024."""
    places = {"day/month/year": (2, 1, 0), "month/day/year": (2, 0, 1), "year/month/day": (0, 1, 2)}[order]
    year, month, day = (numbers[place] for place in places)
    year = 2024 if year == 0 else year + 2000 if year < 100 else year
    if not 1990 <= year <= 2100:
        return None
    try:
        return date(year, month, day)
    except ValueError:
        return None


def orders_of(values: Iterable[WhenTyped]) -> tuple[Order, ...]:
    """Orders that all days of a column allow; several only where they would give different days."""
    dated = [value for value in values if value.numbers is not None]
    allowed = [order for order in ORDERS if all(order in value.orders for value in dated)]
    if len(allowed) > 1:
        read = {order: [day_of(value.numbers, order) for value in dated if value.numbers] for order in allowed}
        allowed = [order for index, order in enumerate(allowed) if all(read[order] != read[other] for other in allowed[:index])]
    return tuple(allowed)


def zone_named(name: str) -> tzinfo | None:
    """A time zone by its usual name (`Europe/Berlin`), an abbreviation, or an offset (`UTC+1`, `+01:00`)."""
    text = straightened(name).strip()
    known, offset = _zone(text)
    if known and offset is not None:
        return timezone(timedelta(minutes=offset)) if offset else UTC
    try:
        return ZoneInfo(text)
    except (ValueError, OSError, KeyError):
        return None


def instant(day: date, seconds: int, offset_min: int | None, zone: tzinfo | None) -> datetime | None:
    """The moment, in UTC; None where neither the writing nor the log tells the zone."""
    naive = datetime(day.year, day.month, day.day) + timedelta(seconds=seconds)
    if offset_min is not None:
        return (naive - timedelta(minutes=offset_min)).replace(tzinfo=UTC)
    return None if zone is None else naive.replace(tzinfo=zone).astimezone(UTC)
