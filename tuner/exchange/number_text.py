"""Numbers as people type them, and what is doubtful about them: decimal commas, thousands marks, footnote marks.

A text like `1,250` has two readings. Which one a file means is told by its other numbers, never by one cell alone.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from tuner.exchange.cell_words import MISSING

REMEMBERED = 30_000
"""Cells whose reading is kept: logs repeat themselves, and each cell is looked at several times."""

Decimal = Literal[".", ",", ""]
"""Decimal mark of a file; empty where nothing tells it."""

_FRACTIONS = {"½": 0.5, "¼": 0.25, "¾": 0.75, "⅓": 1 / 3, "⅔": 2 / 3, "⅛": 0.125, "⅜": 0.375, "⅝": 0.625, "⅞": 0.875}
NUMBER = (
    r"[+-]?(?:\d{1,3}(?:['’]\d{3})+(?:[.,]\d+)?|\d{1,3}(?:,\d{3})+\.\d+|\d{1,3}(?:\.\d{3})+,\d+"
    r"|\d{1,3}(?:\.\d{3}){2,}(?!\d)|\d{1,3}(?:,\d{3}){2,}(?!\d)|\d+(?:[.,]\d+)?|[.,]\d+)"
)
_NUMBER = re.compile(NUMBER)
_DOUBTFUL = re.compile(r"^[+-]?[1-9]\d{0,2}[.,]\d{3}$")
_GROUPED = re.compile(r"^[+-]?[1-9]\d{0,2}([.,])\d{3}(?:\1\d{3})+$")
_DASHES = dict.fromkeys(map(ord, "−–—‐‑‒﹣－"), "-")
_SOFT = re.compile(
    r"^(?:~|≈|ca\.?|c\.|approx\.?|about|circa|env\.?|aprox\.?|etwa|rund)\s*|\s*(?:\*+|\?+|!+|[¹²³†‡]|(?:±|\+/-|\+-)\s*\d+(?:[.,]\d+)?)$",
    re.IGNORECASE,
)
_CENSORED = re.compile(
    r"^(?:[<>≤≥]=?|under|over|below|above|unter|über|ueber|min\.?|max\.?|more than|less than)\s*(?=[\d.,+-])", re.IGNORECASE
)


@dataclass(frozen=True, slots=True)
class ReadNumber:
    """One number with what follows it.

    Attributes
    ----------
    value
        As read under the decimal mark that was told.
    other
        The other reading, where a comma or point before three digits leaves two and nothing tells which.
    tail
        What stands behind the number: a unit, a remark.
    soft
        A mark of doubt the person wrote beside it (`~76`, `76?`, `76*`).
    """

    value: float
    other: float | None
    tail: str
    soft: bool


def straightened(text: str) -> str:
    """One kind of minus sign, plain blanks."""
    return text.translate(_DASHES).strip()


@lru_cache(maxsize=REMEMBERED)
def is_missing(text: str) -> bool:
    """Whether a cell says that nothing was measured."""
    key = re.sub(r"\s+", "", text).lower()
    return not key or key in MISSING or not re.search(r"[^\W_]", key)


def is_censored(text: str) -> bool:
    """Whether a cell gives a bound instead of a value, as in `<76`."""
    return bool(_CENSORED.match(straightened(text)))


@lru_cache(maxsize=REMEMBERED)
def looks_numeric(text: str) -> bool:
    """Whether a cell is data: begins with a number, apart from marks, or is a date or time."""
    plain = _SOFT.sub("", straightened(text))
    found = _NUMBER.match(plain)
    if not found:
        return False
    tail = plain[found.end() :]
    return len(re.findall(r"[^\W\d_]", tail)) <= 6 and not re.match(r"^\.?\s*[^\W\d_]{3,}", tail)


def decimal_mark(texts: Iterable[str]) -> Decimal:
    """The decimal mark that a file's numbers tell, empty where they tell none or contradict each other."""
    comma = point = 0
    for text, times in Counter(texts).items():
        if "," not in text and "." not in text:
            continue
        for number in _NUMBER.findall(straightened(text)):
            told = _mark_of(number)
            comma += times * (told == ",")
            point += times * (told == ".")
    if comma and not point:
        return ","
    if point and not comma:
        return "."
    if max(comma, point) >= 10 * min(comma, point) and comma != point:
        return "," if comma > point else "."
    return ""


def _mark_of(number: str) -> Decimal:
    """Decimal mark that one number tells by itself."""
    if "," in number and "." in number:
        return "," if number.rfind(",") > number.rfind(".") else "."
    if _GROUPED.match(number):
        return "." if "," in number else ","
    if _DOUBTFUL.match(number):
        return ""
    return "," if "," in number else "." if "." in number else ""


@lru_cache(maxsize=REMEMBERED)
def read_number(text: str, mark: Decimal) -> ReadNumber | None:
    """Read a number at the beginning of a text, or None where there is none.

    Parameters
    ----------
    text
        As typed.
    mark
        Decimal mark of the file.
    """
    plain = straightened(text)
    plain = re.sub(r"^([1-9]) (\d{3})(?=,\d|\s*[^\d\s/]|$)(?!.*\d \d)", r"\1\2", plain)
    softened = _SOFT.sub("", plain)
    vulgar = re.match(r"^(\d+)?\s*([½¼¾⅓⅔⅛⅜⅝⅞])\s*(.*)$", softened)
    if vulgar:
        return ReadNumber(float(vulgar[1] or 0) + _FRACTIONS[vulgar[2]], None, vulgar[3].strip(), softened != plain)
    mixed = re.match(r"^(\d+)\s+(\d)/(\d{1,2})\b\s*(.*)$", softened)
    if mixed and int(mixed[3]):
        return ReadNumber(int(mixed[1]) + int(mixed[2]) / int(mixed[3]), None, mixed[4].strip(), softened != plain)
    found = _NUMBER.match(softened)
    if not found:
        return None
    value, other = values_of(found[0], mark)
    return ReadNumber(value, other, softened[found.end() :].strip(), softened != plain)


def values_of(number: str, mark: Decimal) -> tuple[float, float | None]:
    """Value of a number's text, and its other reading where it has two."""
    digits = re.sub(r"['’ ]", "", number)
    if _GROUPED.match(digits):
        return float(re.sub(r"[.,]", "", digits)), None
    if _DOUBTFUL.match(digits):
        used = "," if "," in digits else "."
        as_decimal = float(digits.replace(",", "."))
        as_thousands = float(digits.replace(used, ""))
        if mark:
            return (as_decimal if mark == used else as_thousands), None
        return as_decimal, as_thousands
    if "," in digits and "." in digits:
        thousands = "," if digits.rfind(".") > digits.rfind(",") else "."
        digits = digits.replace(thousands, "")
    return float(digits.replace(",", ".")), None
