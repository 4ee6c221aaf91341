"""Reads quantities as people type them: decimal commas, °F, oz, lb, mm:ss, percent signs.

Only the edges (files, forms, command line) use this; everything inside is SI. A value whose unit is doubtful is never
converted silently: `Quantity.doubt` then holds the question to ask.
"""

from __future__ import annotations

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
_NUMBER = re.compile(r"^([+-]?(?:\d+(?:\.\d*)?|\.\d+))\s*(.*)$")
_CLOCK = re.compile(r"^(\d+):([0-5]?\d)(?::([0-5]?\d))?(?:[.,](\d+))?$")


def _decimal_point(text: str) -> str:
    """Replace a decimal comma: 76,4 is 76.4 and 1.234,5 is 1234.5; a comma before exactly three digits is refused later."""
    if "," in text and "." in text:
        thousands, decimal = (",", ".") if text.rfind(".") > text.rfind(",") else (".", ",")
        return text.replace(thousands, "").replace(decimal, ".")
    return text.replace(",", ".")


def _tidy_unit(text: str) -> str:
    unit = text.strip().lower().removesuffix(".")
    for mark in ("°", "º", "˚", "deg ", "deg", "degrees ", "degrees"):
        unit = unit.removeprefix(mark).strip()
    return {
        "celsius": "c",
        "fahrenheit": "f",
        "grams": "g",
        "ounce": "oz",
        "ounces": "oz",
        "seconds": "s",
        "minutes": "min",
        "minute": "min",
    }.get(unit, unit)


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
    typed = text.strip().replace("\u00a0", " ").replace("\u2212", "-").replace("−", "-")
    clock = _CLOCK.match(typed) if kind == "duration" else None
    if clock:
        first, second, third, fraction = clock.groups()
        parts = [int(first), int(second)] + ([int(third)] if third else [])
        seconds = 0.0
        for part in parts:
            seconds = seconds * 60 + part
        return Quantity(seconds + (float(f"0.{fraction}") if fraction else 0.0), "s", "mm:ss" if third is None else "h:mm:ss")
    found = _NUMBER.match(_decimal_point(typed))
    if not found:
        example = {"temperature": "76.4", "duration": "210 or 3:30", "mass": "183 g"}.get(kind, "12.5")
        raise InvalidDocument(
            [f"{field} {text!r} is not a {kind if kind != 'plain' else 'number'}. Type a number, like {example}."]
        )
    number, written = float(found[1]), _tidy_unit(found[2])
    given = written or _tidy_unit(unit)
    factors = _FACTORS[kind]
    if given and given not in factors:
        raise InvalidDocument(
            [f"{field} {text!r}: unit {given!r} is not known for a {kind}. Use {', '.join(factors) or 'no unit'}."]
        )
    factor, offset = factors[given] if given else (1.0, 0.0)
    doubt = ""
    if not given and kind == "temperature" and 130 <= number <= 212:
        doubt = f"{field} {number:g}: in °F that would be {(number - 32) / 1.8:.1f} °C. Which is it, °C or °F?"
    if re.match(r"^[+-]?\d{1,3},\d{3}$", typed) and kind != "temperature":
        doubt = f"{field} {text!r}: is the comma a decimal comma ({number:g}) or a thousands mark ({number * 1000:g})?"
    return Quantity(number * factor + offset, _UNIT[kind], written, doubt)


def celsius_to_fahrenheit(temperature_c: float) -> float:
    """Temperature [°C] in °F, for sites that read °F."""
    return temperature_c * 1.8 + 32.0


def minutes_seconds(duration_s: float) -> str:
    """Duration [s] as m:ss, the way a cook reads it; 210 is '3:30'."""
    whole = round(duration_s)
    return f"{whole // 60}:{whole % 60:02d}"
