"""A workbook's cell as the text a person saw in it."""

from __future__ import annotations

import math
import re
from datetime import date, datetime, time, timedelta
from typing import Any

NOT_CALCULATED = "#NOT_CALCULATED!"
"""Stands in a cell whose formula was never calculated, so that nobody takes it for an empty one."""

_LITERAL = re.compile(r'"([^"]*)"|\\(.)')


def shown(value: Any, number_format: str) -> str:
    """Text of a cell's value under its number format.

    Numbers are written with a point and without binary noise. A number with exactly three decimals gets a zero, since
    `1.234` as text could be a thousand; a number in a cell is never in doubt.
    """
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return _number(float(value), number_format)
    if isinstance(value, datetime):
        return _moment(value)
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, time):
        return _time_of_day(value, number_format)
    if isinstance(value, timedelta):
        return _span(value)
    return str(value)


def _number(value: float, number_format: str) -> str:
    if not math.isfinite(value):
        return ""
    suffix = _suffix(number_format)
    if "%" in _LITERAL.sub("", number_format):
        return plain_number(value * 100) + "%"
    return plain_number(value) + (f" {suffix}" if suffix else "")


def plain_number(value: float) -> str:
    """Shortest decimal text of a number, never in powers of ten."""
    text = f"{value:.10f}".rstrip("0").rstrip(".") if abs(value) < 1e15 else f"{value:.0f}"
    text = "0" if text == "-0" else text
    whole, point, decimals = text.partition(".")
    return f"{whole}.{decimals}0" if point and len(decimals) == 3 else text


def _suffix(number_format: str) -> str:
    """Unit that the number format writes behind the number, as in `0.0" °F"`."""
    first = number_format.partition(";")[0]
    literals = "".join(quoted or single for quoted, single in _LITERAL.findall(first))
    return literals.strip()


def _moment(value: datetime) -> str:
    if value.microsecond >= 500_000:  # days are stored as fractions: 10:15 comes back a hair early
        value += timedelta(seconds=1)
    value = value.replace(microsecond=0)
    if value.hour == value.minute == value.second == 0:
        return value.date().isoformat()
    return value.isoformat(sep=" ", timespec="seconds")


def _time_of_day(value: time, number_format: str) -> str:
    """As shown: a cell typed as 3:30 holds half past three, but reads 3:30."""
    lowered = _LITERAL.sub("", number_format).lower()
    if "h" not in lowered and "m" in lowered and "s" in lowered:
        return f"{value.hour * 60 + value.minute}:{value.second:02d}"
    if "s" in lowered or value.second:
        return f"{value.hour}:{value.minute:02d}:{value.second:02d}"
    return f"{value.hour}:{value.minute:02d}"


def _span(value: timedelta) -> str:
    seconds = round(value.total_seconds())
    return f"{seconds // 3600}:{seconds % 3600 // 60:02d}:{seconds % 60:02d}"
