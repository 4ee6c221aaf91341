"""Progress: one column a cook, from the zero line (inside all windows) to its margin, with the name of what was worst."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape
from itertools import groupby
from typing import Literal

from tuner.screens.marks.words import GLYPH, number

LOWEST, HIGHEST = -3.0, 1.0
"""Ends of the scale in window half-widths; what lies beyond is drawn at the end and told in words."""
_FLOORS = (-1.4, -2.2, LOWEST)
"""Lower ends the scale can have: no more room is given to what is outside than needed."""

_TIED = "\u00a0"

PLOT_PX, LINE_PX, LETTER_PX = 200, 16, 6.6
"""Height of the plot as in the sheet, and how much room a line of words, and a letter of upright words, takes."""

MANY = 12
"""From this many cooks on the words stand upright at any width."""


@dataclass(frozen=True, slots=True)
class ProgressColumn:
    """One cook of the progress mark.

    Attributes
    ----------
    number
        Number of the cook in its development.
    purpose
        Its purpose in words.
    margin
        Distance of the worst attribute to its window's nearest edge in window half-widths, negative outside; None if
        nothing with a window was measured.
    worst
        Short name of that attribute.
    outcome
        pass, fail or pending by the rule which cooks pass.
    unsafe
        Whether the readings were below the critical limit.
    counts
        Whether the cook counts for its program.
    """

    number: int
    purpose: str
    margin: float | None
    worst: str
    outcome: Literal["pass", "fail", "pending"]
    unsafe: bool
    counts: bool = True


def floor_of(columns: Sequence[ProgressColumn]) -> float:
    """Lower end of the scale that holds all cooks, or the lowest one."""
    worst = min((column.margin for column in columns if column.margin is not None), default=0.0)
    return next((floor for floor in _FLOORS if floor <= worst), LOWEST)


def _down(margin: float, floor: float) -> float:
    return 100 * (HIGHEST - min(HIGHEST, max(floor, margin))) / (HIGHEST - floor)


def _css(column: ProgressColumn) -> str:
    if column.unsafe:
        return "unsafe"
    kind = {"pass": "inside", "fail": "outside", "pending": "pending"}[column.outcome]
    return kind if column.counts else f"{kind} aside"


def _words(column: ProgressColumn) -> str:
    if column.unsafe:
        return f"✕{_TIED}core: not{_TIED}safe"
    return column.worst if column.margin is not None else "not measured"


def _sentence(column: ProgressColumn) -> str:
    if column.margin is None:
        text = f"Cook {column.number}, {column.purpose}: nothing with a window was measured"
    else:
        where = "inside" if column.margin >= 0 else "outside"
        how_far = f"{number(abs(column.margin), 2)} half-widths {where}"
        text = f"Cook {column.number}, {column.purpose}: worst was {column.worst}, {how_far}"
    if column.outcome == "pending":
        text += ", something is still missing"
    if not column.counts:
        text += ", does not count"
    return text + (", not safe to taste" if column.unsafe else "")


def _column(column: ProgressColumn, floor: float) -> str:
    margin = column.margin if column.margin is not None else 0.0
    end, zero = _down(margin, floor), _down(0.0, floor)
    glyph = {"pass": GLYPH["inside"], "fail": GLYPH["outside"], "pending": GLYPH["unknown"]}[column.outcome]
    lifted = f"calc({end:.1f}% - 9px)" if column.outcome == "pending" and margin == 0 else f"{end:.1f}%"
    tip = "" if column.unsafe else f'<b style="top:{lifted}">{glyph}</b>'
    below = max(end, zero)  # words of a cook inside stand below the line too, where there is room for them
    return (
        f'<div class="tk-cook {_css(column)}" role="img" aria-label="{escape(_sentence(column))}">'
        f'<i style="top:{min(zero, end):.1f}%;height:{abs(end - zero):.1f}%"></i>{tip}'
        f'<span style="top:calc({below:.1f}% + {4 if column.unsafe else 12}px)">{escape(_words(column))}</span></div>'
    )


def _room_px(column: ProgressColumn, floor: float, *, upright: bool) -> float:
    """How far the words of a column reach below the plot."""
    margin = column.margin if column.margin is not None else 0.0
    begin = max(_down(margin, floor), _down(0.0, floor)) / 100 * PLOT_PX + 12
    return begin + (LETTER_PX * len(_words(column)) + 14 if upright else 2 * LINE_PX) - PLOT_PX


def _run(columns: int, purpose: str, every: int) -> str:
    short = ' class="short"' if columns < 3 and every > 5 else ""
    return f'<span{short} style="grid-column:span {columns}">{escape(purpose)}</span>'


def progress(columns: Sequence[ProgressColumn]) -> str:
    """The whole mark; an empty sequence gives a sentence instead."""
    if not columns:
        return '<div class="tk tk-empty">No cook yet.</div>'
    floor = floor_of(columns)
    return (
        f'<div class="tk tk-progress{" many" if len(columns) > MANY else ""}" style="{_measures(columns, floor)}">'
        '<div class="scroll" tabindex="0" role="region" aria-label="Progress, one column a cook"><div class="sheet">'
        f'<div class="plot">{_lines(floor)}'
        f'<div class="columns">{"".join(_column(column, floor) for column in columns)}</div></div>{_below(columns)}'
        "</div></div></div>"
    )


def _measures(columns: Sequence[ProgressColumn], floor: float) -> str:
    """What the sheet has to know: number of columns, and room below the plot for words that lie or stand."""
    flat, upright = (
        max(8, round(max(_room_px(column, floor, upright=turned) for column in columns))) for turned in (False, True)
    )
    return f"--n:{len(columns)};--flat:{flat}px;--upright:{upright}px"


def _lines(floor: float) -> str:
    zero = _down(0.0, floor)
    rules = "".join(
        f'<span class="rule" style="top:{_down(-k, floor):.1f}%"><small>{k} outside</small></span>'
        for k in (1, 2)
        if -k > floor
    )
    return (
        f'<span class="zone" style="height:{zero:.1f}%"></span>'
        f'<span class="rule zero" style="top:{zero:.1f}%"><small>inside all windows</small></span>{rules}'
    )


def _below(columns: Sequence[ProgressColumn]) -> str:
    """Numbers of the cooks, and the purpose as a word over its run."""
    numbers = "".join(f"<span>{column.number}</span>" for column in columns)
    runs = "".join(
        _run(len(list(run)), purpose, len(columns)) for purpose, run in groupby(columns, key=lambda column: column.purpose)
    )
    return f'<div class="under">{numbers}</div><div class="under why">{runs}</div>'
