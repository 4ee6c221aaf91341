"""Forecast against windows: every window stretched onto the same middle third, so that all bands line up.

The thick line is the 80 % range of what would be measured, the tick its mean, dots are what was measured, a dashed frame is
the mean as it was proposed. The core's band starts at the usable low edge; the critical limit is a double line left of it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape

from tuner.screens.marks.words import GLYPH, NAME, measured, number, percent, state_of_chance

EIGHTY_PCT = 1.2816
"""Standard normal deviations that hold 80 % of the values."""

_USUAL_WIDTH = {"core_temperature_c": 10.0, "browning": 1.0, "texture": 1.0, "moisture": 1.0, "cook_loss_pct": 12.0}
"""Width given to a window with one open side, so that it can be drawn."""


@dataclass(frozen=True, slots=True)
class WindowRow:
    """One attribute of a forecast.

    Attributes
    ----------
    attribute
        Name of the attribute.
    low, high
        Edges of the window (the core's low is the usable one); None where open or missing.
    mean, spread
        Of what would be measured; spread is one standard deviation.
    chance
        That the measurement lies inside; None without a window.
    points
        What was measured so far, the newest last.
    before
        Mean of the forecast it is compared with.
    limit
        Critical limit [°C], for the core only.
    """

    attribute: str
    low: float | None
    high: float | None
    mean: float
    spread: float
    chance: float | None
    points: tuple[float, ...] = ()
    before: float | None = None
    limit: float | None = None


def _ends(row: WindowRow) -> tuple[float, float]:
    width = _USUAL_WIDTH[row.attribute]
    if row.low is not None and row.high is not None:
        return (row.low, row.high) if row.high > row.low else (row.low - width / 2, row.low + width / 2)
    if row.low is not None:
        return row.low, row.low + width
    if row.high is not None:
        return row.high - width, row.high
    return row.mean - width / 2, row.mean + width / 2


def _place(value: float, ends: tuple[float, float]) -> float:
    low, high = ends
    return min(98.5, max(1.5, 100 / 3 * (1 + (value - low) / (high - low))))


def _at(css: str, percent_left: float) -> str:
    return f'<span class="{css}" style="left:{percent_left:.1f}%"></span>'


def _band(row: WindowRow, ends: tuple[float, float]) -> str:
    if row.low is None and row.high is None:
        return ""
    left = "0" if row.low is None else "33.33%"
    right = "0" if row.high is None else "33.33%"
    css = "window" + (" open-low" if row.low is None else "") + (" open-high" if row.high is None else "")
    edges = "".join(
        f'<span class="edge" style="left:{_place(edge, ends):.1f}%">{number(edge)}</span>'
        for edge in (row.low, row.high)
        if edge is not None
    )
    return f'<span class="{css}" style="left:{left};right:{right}"></span>{edges}'


def _dots(row: WindowRow, ends: tuple[float, float]) -> str:
    marks = []
    for index, value in enumerate(row.points):
        out = (row.low is not None and value < row.low) or (row.high is not None and value > row.high)
        css = "dot" + (" outside" if out else "") + (" last" if index == len(row.points) - 1 else "")
        marks.append(_at(css, _place(value, ends)))
    return "".join(marks)


def _limit(row: WindowRow, ends: tuple[float, float]) -> str:
    if row.limit is None:
        return ""
    place = _place(row.limit, ends)
    named = f'<span class="edge limit-name" style="left:{place:.1f}%">limit {number(row.limit)}</span>'
    return _at("limit", place) + named


def _sentence(row: WindowRow) -> str:
    low, high = row.mean - EIGHTY_PCT * row.spread, row.mean + EIGHTY_PCT * row.spread
    text = f"{NAME[row.attribute]}: forecast {measured(row.attribute, row.mean)}, 80 percent between {low:.1f} and {high:.1f}"
    if row.low is not None or row.high is not None:
        edges = [
            f"from {number(row.low)}" if row.low is not None else "",
            f"to {number(row.high)}" if row.high is not None else "",
        ]
        text += f"; window {' '.join(edge for edge in edges if edge)}, inside with {percent(row.chance)}"
    else:
        text += "; no window"
    if row.limit is not None:
        text += f"; critical limit {number(row.limit)}"
    if row.before is not None:
        text += f"; as proposed {measured(row.attribute, row.before)}"
    if row.points:
        text += f"; last measured {measured(row.attribute, row.points[-1])}"
    return text


def _row(row: WindowRow) -> str:
    ends = _ends(row)
    low, high = (_place(row.mean + side * EIGHTY_PCT * row.spread, ends) for side in (-1, 1))
    state = state_of_chance(row.chance)
    figure = f"<b>{GLYPH[state]} {percent(row.chance)}</b>" if row.chance is not None else "<small>no window</small>"
    before = _at("was", _place(row.before, ends)) if row.before is not None else ""
    return (
        f'<div class="tk-row" role="img" aria-label="{escape(_sentence(row))}">'
        f"<div><b>{escape(NAME[row.attribute])}</b> <small>{measured(row.attribute, row.mean)}</small></div>"
        f'<div class="tk-track">{_band(row, ends)}{_limit(row, ends)}'
        f'<span class="range" style="left:{low:.1f}%;width:{max(0.4, high - low):.1f}%"></span>'
        f"{_at('mean', _place(row.mean, ends))}{before}{_dots(row, ends)}</div>"
        f'<div class="tk-figure tk-{state}">{figure}</div></div>'
    )


def forecast_against_windows(rows: Sequence[WindowRow]) -> str:
    """All rows, one below the other."""
    return f'<div class="tk tk-rows">{"".join(_row(row) for row in rows)}</div>'


SAFE_ENOUGH = 0.9
"""Chance to be safe to taste below which the figure is a filled warning; nothing below it is proposed for confirmation."""


def chances(every: float, safe: float, *, before: float | None = None) -> str:
    """The line above the rows: chance of all windows at once, and of being safe to taste.

    Parameters
    ----------
    every
        Chance that every window is met at once.
    safe
        Chance that the lowest reading less the guard reaches the limit.
    before
        `every` of the program as proposed, where another one is looked at.
    """
    state = state_of_chance(every)
    was = f' <small class="tk-nowrap">as proposed {percent(before)}</small>' if before is not None else ""
    if safe >= SAFE_ENOUGH:
        taste = f"<span><b>{percent(safe)}</b> safe to taste</span>"
    else:
        taste = f'<span class="tk-unsafe">✕ {percent(safe)} safe to taste</span>'
    return (
        f'<div class="tk tk-chances" role="status"><span><b class="tk-{state}">{GLYPH[state]} {percent(every)}</b> '
        f"inside every window at once{was}</span>{taste}</div>"
    )
