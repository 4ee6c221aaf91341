"""Reads quantities as people type them: decimal commas, °F, oz, lb, mm:ss, percent signs.

Only the edges (files, forms, command line) use this; everything inside is SI. A value whose unit is doubtful is never
converted silently: `Quantity.doubt` then holds the question to ask.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from typing import Literal

from tuner.domain.errors import InvalidDocument

Kind = Literal["temperature", "mass", "length", "duration", "share", "power", "speed", "plain"]


@dataclass(frozen=True, slots=True)
class Quantity:
    """A value in SI-style units of the project (°C, g, mm, s, %, W, m/s).

    Attributes
    ----------
    value
        In the unit named by `unit`.
    unit
        Unit of `value`.
    typed_unit
        Unit the person wrote, empty where none was written.
    doubt
        A question to ask before the value is used, or empty.
    """

    value: float
    unit: str
    typed_unit: str
    doubt: str = ""


_UNIT = {
    "temperature": "°C",
    "mass": "g",
    "length": "mm",
    "duration": "s",
    "share": "%",
    "power": "W",
    "speed": "m/s",
    "plain": "",
}

_FACTORS: dict[Kind, dict[str, tuple[float, float]]] = {
    "temperature": {"c": (1, 0), "f": (1 / 1.8, -32 / 1.8), "k": (1, -273.15)},
    "mass": {
        "g": (1, 0),
        "gr": (1, 0),
        "gram": (1, 0),
        "kg": (1000, 0),
        "oz": (28.349523125, 0),
        "lb": (453.59237, 0),
        "lbs": (453.59237, 0),
    },
    "length": {"mm": (1, 0), "cm": (10, 0), "in": (25.4, 0), '"': (25.4, 0)},
    "duration": {
        "s": (1, 0),
        "sec": (1, 0),
        "secs": (1, 0),
        "second": (1, 0),
        "m": (60, 0),
        "min": (60, 0),
        "mins": (60, 0),
        "h": (3600, 0),
    },
    "share": {"%": (1, 0), "pct": (1, 0), "percent": (1, 0)},
    "power": {"w": (1, 0), "kw": (1000, 0)},
    "speed": {"m/s": (1, 0), "km/h": (1 / 3.6, 0)},
    "plain": {},
}
_NUMBER = re.compile(r"^([+-]?(?:\d[\d.,]*|[.,]\d+))\s*(.*)$", re.DOTALL)
_GROUPED = re.compile(r"(?<=\d)[ \u2009\u202f'’](?=\d{3}(?!\d))")
_THREE_DIGITS = re.compile(r"^[+-]?[1-9]\d{0,2}[.,]\d{3}$")
_CLOCK = re.compile(r"^(\d+):([0-5]?\d)(?::([0-5]?\d))?(?:[.,](\d+))?$")
_SPELT = re.compile(
    r"^(\d+)\s*(?:m|min|mins|minutes?|'|′)\.?\s*([0-5]?\d)\s*(?:s|sec|secs|seconds?|\"|″|'')?\.?$", re.IGNORECASE
)

_SPELT_UNITS = {
    "celsius": "c",
    "fahrenheit": "f",
    "grams": "g",
    "kilogram": "kg",
    "kilograms": "kg",
    "ounce": "oz",
    "ounces": "oz",
    "pound": "lb",
    "pounds": "lb",
    "inch": "in",
    "inches": "in",
    "seconds": "s",
    "minutes": "min",
    "minute": "min",
    "hr": "h",
    "hrs": "h",
    "hour": "h",
    "hours": "h",
    "watt": "w",
    "watts": "w",
}


def _decimal_point(number: str) -> str:
    """Write a number with a decimal point: 76,4 is 76.4, 1.234,5 is 1234.5, 1.234.567 is 1234567; what is neither stays."""
    for thousands, decimal in ((",", "."), (".", ",")):
        groups = rf"[+-]?\d{{1,3}}(?:{re.escape(thousands)}\d{{3}})+"
        if re.fullmatch(rf"{groups}{re.escape(decimal)}\d*", number) or re.fullmatch(
            rf"{groups}{re.escape(thousands)}\d{{3}}", number
        ):
            return number.replace(thousands, "").replace(decimal, ".")
    return number.replace(",", ".")


def _tidy_unit(text: str) -> str:
    unit = text.strip().lower().removesuffix(".")
    for mark in ("°", "º", "˚", "degrees", "degree", "deg.", "deg"):
        unit = unit.removeprefix(mark).strip()
    return _SPELT_UNITS.get(unit, unit)


def read_quantity(text: str, kind: Kind, *, unit: str = "", field: str = "value") -> Quantity:
    """Read one typed quantity.

    Parameters
    ----------
    text
        As typed: `165 °F`, `76,4`, `6.3 oz`, `3:30`, `40 %`.
    kind
        What it measures.
    unit
        Unit that a header or a setting gives for values typed without one.
    field
        Name used in the message.

    Raises
    ------
    InvalidDocument
        If the text is no such quantity: says what was typed, the rule and what to do.
    """
    typed = _GROUPED.sub("", text.strip().replace("\u00a0", " ")).replace("\u2212", "-")
    seconds = _clock_s(typed) if kind == "duration" else None
    if seconds is not None:
        return seconds
    found = _NUMBER.match(typed)
    number = _as_float(_decimal_point(found[1])) if found else None
    if found is None or number is None:
        example = {"temperature": "76.4", "duration": "210 or 3:30", "mass": "183 g"}.get(kind, "12.5")
        raise InvalidDocument(
            [f"{field} {text!r} is not a {kind if kind != 'plain' else 'number'}. Type a number, like {example}."]
        )
    written = _tidy_unit(found[2])
    given = written or _tidy_unit(unit)
    factors = _FACTORS[kind]
    if given and given not in factors:
        raise InvalidDocument(
            [f"{field} {text!r}: unit {given!r} is not known for a {kind}. Use {', '.join(factors) or 'no unit'}."]
        )
    factor, offset = factors[given] if given else (1.0, 0.0)
    doubt = _doubt(found[1], number, kind, given, field)
    return Quantity(number * factor + offset, _UNIT[kind], written, doubt)


def _clock_s(typed: str) -> Quantity | None:
    """Durations like 3:30, 1:02:05, 3 min 30 s and 3'30"; None for everything else."""
    clock = _CLOCK.match(typed)
    if clock:
        first, second, third, fraction = clock.groups()
        seconds = 60.0 * int(first) + int(second)
        if third is not None:
            seconds = 60.0 * seconds + int(third)
        return Quantity(seconds + float(f"0.{fraction or 0}"), "s", "mm:ss" if third is None else "h:mm:ss")
    spelt = _SPELT.match(typed)
    return Quantity(60.0 * int(spelt[1]) + int(spelt[2]), "s", "min s") if spelt else None


def _as_float(number: str) -> float | None:
    try:
        value = float(number)
    except ValueError:
        return None
    return value if math.isfinite(value) else None


def _doubt(typed: str, number: float, kind: Kind, given: str, field: str) -> str:
    """Question that must be answered before the number is used, or empty."""
    if not given and kind == "temperature" and 130 <= number <= 212:
        return f"{field} {number:g}: in °F that would be {(number - 32) / 1.8:.1f} °C. Which is it, °C or °F?"
    # 1,234 g may be 1.234 g or 1234 g. Three decimals after a point are usual for kg, lb and the like, not for g, s or W.
    grouped = _THREE_DIGITS.match(typed) and ("," in typed or given in {"", "g", "s", "w", "mm"})
    if grouped and kind not in {"temperature", "share"}:
        mark = "comma" if "," in typed else "point"
        return f"{field} {typed!r}: is the {mark} a decimal {mark} ({number:g}) or a thousands mark ({number * 1000:g})?"
    return ""


def celsius_to_fahrenheit(temperature_c: float) -> float:
    """Temperature [°C] in °F, for sites that read °F."""
    return temperature_c * 1.8 + 32.0


def minutes_seconds(duration_s: float) -> str:
    """Duration [s] as m:ss, the way a cook reads it; 210 is '3:30'."""
    whole = round(duration_s)
    return f"{whole // 60}:{whole % 60:02d}"
