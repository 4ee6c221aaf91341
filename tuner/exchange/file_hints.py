"""What lines above and below a table say about all its rows: units, the zone of times, the order of days, and single values."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace

from tuner.exchange.column_hearing import with_unit
from tuner.exchange.fields import FIELDS, candidates
from tuner.exchange.heading_words import plain, said, unit_named
from tuner.exchange.naming import unit_suits
from tuner.exchange.number_text import looks_numeric
from tuner.exchange.stage_text import read_stages
from tuner.exchange.value_shape import fits, shape_of
from tuner.exchange.when_text import read_when, zone_named

_CONSTANTS = frozenset(
    "air_temperature duration cooked_on cooked_at cook_name taster oven_name oven_serial dish lot load rest rest_covered mass_in"
    " start_temperature thermometer_checked_at purpose program".split()
)
_TEMPERATURE = re.compile(
    r"\b(?:temp\w*|core|kern\w*|readings?|oven|all)\b[^.;|]{0,40}?(?:°\s?([CF])|\b(?:in|deg\w*)\s+([CF])\b|\b(fahrenheit|celsius)\b)",
    re.IGNORECASE,
)
_MASS = re.compile(
    r"\b(?:weights?|mass\w*|gewicht\w*|poids|pesos?)\b[^.;|]{0,25}?\b(?:in\s+)?(g|grams?|gramm|kg|oz|ounces?|lbs?|pounds?)\b",
    re.IGNORECASE,
)
_DURATION = re.compile(
    r"\b(?:times?|durations?|zeiten|temps|tiempos)\b[^.;|]{0,25}?\b(?:in\s+)?(s|sec\w*|min\w*|mm:ss|sekunden|minuten)\b",
    re.IGNORECASE,
)
_ZONE = re.compile(
    r"\b(UTC(?:\s?[+-]\s?\d{1,2}(?::?\d{2})?)?|GMT(?:\s?[+-]\s?\d{1,2})?|CET|CEST|MEZ|MESZ|EST|EDT|PST|PDT|[A-Z][a-z]+/[A-Z][A-Za-z_]+)\b"
)
_SERIAL = re.compile(
    r"\b(?:serial(?:\s*(?:no|nr|number))?|s/n|seriennummer|serien-?nr|n[°o]\s*de\s*serie)\.?\s*[:#]?\s*([\w][\w./-]*\d[\w./-]*)",
    re.IGNORECASE,
)
_DATES = re.compile(r"\b([dtjm]{1,2}|[yja]{2,4})[./-]([dtjm]{1,2})[./-]([yjatd]{2,4})\b", re.IGNORECASE)
_SCALE = re.compile(
    r"\b(?:scores?|marks?|scale|skala|noten|ratings?|jar|panel)\b[^.;|]{0,40}?(-?\d)\s*(?:-|–|to|bis|\.\.)\s*\+?(\d{1,3})\b",
    re.IGNORECASE,
)
_ORDER = re.compile(r"\b(?:stages?|programs?|steps?|programme?|stufen?|format)\b[^|]{0,60}", re.IGNORECASE)


@dataclass
class Hints:
    """What is said for all rows; empty where nothing is said."""

    units: dict[str, str] = field(default_factory=dict)
    zone: str = ""
    dates: str = ""
    scale: tuple[int, int] | None = None
    order: tuple[str, ...] = ()
    constants: dict[str, str] = field(default_factory=dict)


def hints_from(lines: Iterable[Sequence[str]], headings: Sequence[str], known_fields: frozenset[str]) -> Hints:
    """Gather hints.

    Parameters
    ----------
    lines
        Cells of lines above and below the rows.
    headings
        Headings, which may carry zones and orders of days as well.
    known_fields
        Fields that have a column; for these no single value is taken.
    """
    hints = Hints()
    for cells in lines:
        text = " | ".join(cells)
        _units(text, hints)
        _marks(text, hints)
        serial = _SERIAL.search(text)
        if serial and "oven_serial" not in known_fields:
            hints.constants.setdefault("oven_serial", serial[1])
        for name, value in _pairs(cells, known_fields):
            hints.constants.setdefault(name, value)
    for heading in headings:
        _marks(heading, hints, only_time=True)
    return hints


def _units(text: str, hints: Hints) -> None:
    heat = _TEMPERATURE.search(text)
    if heat and not any(char.isdigit() for char in heat[0]):  # "Oven temp 250 °C" is a value, not a rule for all
        letter = (heat[1] or heat[2] or heat[3][0]).upper()
        hints.units.setdefault("temperature", f"°{letter}")
    for kind, pattern in (("mass", _MASS), ("duration", _DURATION)):
        found = pattern.search(text)
        if found and unit_named(found[1]):
            hints.units.setdefault(kind, unit_named(found[1]))


def _marks(text: str, hints: Hints, *, only_time: bool = False) -> None:
    zone = _ZONE.search(text)
    if zone and not hints.zone and zone_named(zone[1].replace(" ", "")) is not None:
        hints.zone = zone[1].replace(" ", "")
    dates = _DATES.search(text)
    if dates and not hints.dates:
        hints.dates = _order_of_letters(dates[1], dates[2])
    if only_time:
        return
    scale = _SCALE.search(text)
    if scale and hints.scale is None:
        hints.scale = (int(scale[1]), int(scale[2]))
    order = _ORDER.search(text)
    if order and not hints.order:
        told = roles_in_order(order[0])
        hints.order = told if {"air", "microwave"} <= set(told) else ()


def _order_of_letters(first: str, second: str) -> str:
    a, b = first[0].lower(), second[0].lower()
    if a in "yja" and len(first) >= 2:
        return "year/month/day"
    if a == "m" and b in "dtj":
        return "month/day/year"
    return "day/month/year" if b == "m" else ""


def roles_in_order(text: str) -> tuple[str, ...]:
    """Roles of a stage's numbers in the order in which a text names them."""
    order = []
    for thing in said(text).order:
        role = {
            "share": "share",
            "time": "time",
            "seconds": "time",
            "air": "air",
            "speed": "air",
            "microwave": "microwave",
            "power": "microwave",
        }.get(thing)
        if role and role not in order:
            order.append(role)
    if (
        "%" in text
        and "share" not in order
        and "time" not in order
        and text.find("%")
        < min((text.lower().find(w) for w in ("air", "fan", "luft", "mw", "mic") if w in text.lower()), default=len(text))
    ):
        order.insert(0, "share")
    if "time" in order and re.search(
        r"%\s*(?:of\s+)?(?:time|zeit|temps|tiempo|tempo|tijd)\b|\b(?:time|zeit|temps|tiempo|tempo|tijd)\s*%", text, re.I
    ):
        order[order.index("time")] = "share"
        order = list(dict.fromkeys(order))
    if "share" in order and "time" in order:
        order.remove("time")
    return tuple(order)


_TOLD = re.compile(r"^([^\d:=|;]{4,40}?)\s+(\d[^|;:=]*(?::\d\d)*)$")


def _carries(value: str) -> bool:
    """Whether a value without a sign before it says by itself what it is: a temperature with its unit, or a full day."""
    when = read_when(value)
    return shape_of((value,)).unit in ("°C", "°F") or (
        when is not None and when.numbers is not None and max(when.numbers) > 1000
    )


def _pairs(cells: Sequence[str], known_fields: frozenset[str]) -> Iterable[tuple[str, str]]:
    """Names with values: `Oven temp: 250 °C`, or a name in one cell and its value in the next."""
    pieces: list[tuple[str, str]] = []
    for cell in cells:
        name, sign, value = cell.partition(":")
        if sign and read_stages(value) is not None and "program" not in known_fields:
            pieces.append((name, value.strip()))
            continue
        for part in re.split(r"\s*[;|]\s*|,\s+(?=[^\d\s])", cell):
            name, sign, value = part.partition(":")
            if sign and value.strip() and not name.strip()[-1:].isdigit():
                pieces.append((name, value.strip()))
    pieces += [(told[1], told[2]) for cell in cells if (told := _TOLD.match(cell)) and _carries(told[2])]
    for name, value in itertools.pairwise(cells):
        if name.rstrip().endswith((":", "=")) or (len(cells) == 2 and not looks_numeric(name)):
            pieces.append((name.rstrip(" :="), value.strip()))
    for name, value in pieces:
        if len(name) > 40 or len(value) > 120 or ":" in name:
            continue
        heard = said(name)
        carried = shape_of((value,)).unit
        found = candidates(with_unit(replace(heard, unit=carried)) if carried and not heard.unit else heard)
        if not found or (found[0][0] not in _CONSTANTS and found[0][1] >= 6):
            continue
        found = tuple(pair for pair in found if pair[1] >= 3)
        chosen = next(
            (
                c
                for c, _ in found
                if c in _CONSTANTS and c not in known_fields and fits(c, shape_of((value,))) and unit_suits(c, heard.unit)
            ),
            "",
        )
        if chosen:
            unit = heard.unit if FIELDS[chosen].kind in ("temperature", "mass", "duration") else ""
            yield chosen, f"{value} {unit}" if unit and plain(value).replace(".", "").replace(",", "").isdigit() else value
