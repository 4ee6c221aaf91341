"""One measured value as typed, with the unit beside it where there is one, and its value in the project's units.

Reading and converting are apart: a value without a unit is read first, and converted only when its unit is settled.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from tuner.exchange.heading_words import unit_named
from tuner.exchange.number_text import REMEMBERED, Decimal, is_censored, read_number, straightened

MeasureKind = Literal["temperature", "mass", "duration", "percent"]

UNITS: dict[MeasureKind, dict[str, tuple[float, float]]] = {
    "temperature": {"°C": (1.0, 0.0), "°F": (1 / 1.8, -32 / 1.8), "K": (1.0, -273.15)},
    "mass": {"g": (1.0, 0.0), "kg": (1000.0, 0.0), "oz": (28.349523125, 0.0), "lb": (453.59237, 0.0)},
    "duration": {"s": (1.0, 0.0), "min": (60.0, 0.0), "h": (3600.0, 0.0)},
    "percent": {"%": (1.0, 0.0), "fraction": (100.0, 0.0)},
}
"""Factor and offset from each unit to the project's own, which comes first."""

CLOCK_UNITS = ("mm:ss", "hh:mm", "mm:ss:00", "h:mm:ss")
"""How colons in durations are meant."""

_CLOCK = re.compile(r"^(\d{1,4}):([0-5]?\d)(?::([0-5]?\d))?(?:[.,]\d+)?\s*(?:min|m|h|s|sec)?\.?$", re.IGNORECASE)
_WORDED = re.compile(
    r"^(?:(\d+)\s*(?:h|hr|hrs|hours?|std)\.?\s*)?(?:(\d+)\s*(?:m|min|mins|minutes?|minuten|mn|'|′)\.?\s*)?"
    r"(?:(\d+(?:[.,]\d+)?)\s*(?:s|sec|secs|seconds?|sek|sekunden|\"|''|″)?\.?)?$",
    re.IGNORECASE,
)
_POUNDS = re.compile(r"^(\d+)\s*(?:lbs?|pounds?|#)\.?\s*,?\s*(\d+(?:[.,]\d+)?)\s*(?:oz|ounces?)\.?$", re.IGNORECASE)
_ASIDE = re.compile(r"\s*[\[(][^\])]*[\])]\s*$")


@dataclass(frozen=True, slots=True)
class Typed:
    """A value as typed.

    Attributes
    ----------
    value
        In `unit`, or in a unit still to be settled where `unit` is empty.
    unit
        Unit beside the value, empty where there is none; `mm:ss` or `h:mm:ss` for a clock form.
    other
        Other reading of the number (decimal or thousands), where nothing tells which.
    soft
        True where the person marked it as approximate.
    """

    value: float
    unit: str
    other: float | None = None
    soft: bool = False


@lru_cache(maxsize=REMEMBERED)
def read_typed(text: str, kind: MeasureKind, mark: Decimal) -> Typed | None:
    """Read one value; None where the text is none of this kind, or only gives a bound."""
    plain = _ASIDE.sub("", straightened(text)) or straightened(text)
    if is_censored(plain):
        return None
    if kind == "duration":
        special = _duration(plain)
        if special:
            return special
    pounds = _POUNDS.match(plain) if kind == "mass" else None
    if pounds:
        return Typed(int(pounds[1]) + float(pounds[2].replace(",", ".")) / 16, "lb")
    number = read_number(plain, mark)
    if number is None:
        return None
    unit = unit_named(number.tail) if number.tail else ""
    known = {*UNITS[kind], "W", "kW", "m/s"} if kind == "percent" else set(UNITS[kind])
    if kind == "mass" and number.tail.lower() in {"#"}:
        unit = "lb"
    if number.tail and (unit not in known):
        return None
    return Typed(number.value, unit, number.other, number.soft)


def _duration(text: str) -> Typed | None:
    """Clock forms and worded ones: `3:30`, `0:03:30`, `3 min 30 s`, `3'30"`."""
    clock = _CLOCK.match(text)
    if clock:
        parts = [int(part) for part in clock.groups() if part is not None]
        seconds = 0.0
        for part in parts:
            seconds = seconds * 60 + part
        return Typed(seconds, "h:mm:ss" if len(parts) == 3 else "mm:ss")
    worded = _WORDED.match(text)
    if worded and (worded[1] or worded[2]) and (worded[3] or re.search(r"[a-z'′]", text, re.IGNORECASE)):
        if (worded[1] is not None) + (worded[2] is not None) + (worded[3] is not None) < 2:
            return None
        return Typed(int(worded[1] or 0) * 3600 + int(worded[2] or 0) * 60 + float((worded[3] or "0").replace(",", ".")), "s")
    return None


def converted(typed: Typed, kind: MeasureKind, unit: str) -> float:
    """Value in the project's own unit [°C, g, s, %]; `unit` counts for values typed without one.

    Raises
    ------
    KeyError
        If the unit is none of this kind.
    """
    if typed.unit in ("mm:ss", "h:mm:ss"):
        return _clock_seconds(typed, unit)
    if unit == "min.ss" and not typed.unit:
        return int(typed.value) * 60.0 + round(typed.value % 1 * 100, 6)
    factor, offset = UNITS[kind][typed.unit or (unit if unit not in CLOCK_UNITS else "s")]
    return round(typed.value * factor + offset, 9)


def _clock_seconds(typed: Typed, unit: str) -> float:
    """Seconds of a clock form: minutes and seconds, unless the column says hours and minutes."""
    if unit == "hh:mm" and typed.unit == "mm:ss":
        return typed.value * 60
    if unit == "mm:ss:00" and typed.unit == "h:mm:ss":
        return typed.value // 60
    return typed.value
