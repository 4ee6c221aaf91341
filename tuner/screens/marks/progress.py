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

_TIED = "\u00a0"

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


def _down(margin: float) -> float:
    return 100 * (HIGHEST - min(HIGHEST, max(LOWEST, margin))) / (HIGHEST - LOWEST)


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


def _column(column: ProgressColumn) -> str:
    margin = column.margin if column.margin is not None else 0.0
    end, zero = _down(margin), _down(0.0)
    glyph = {"pass": GLYPH["inside"], "fail": GLYPH["outside"], "pending": GLYPH["unknown"]}[column.outcome]
    tip = "" if column.unsafe else f'<b style="top:{end:.1f}%">{glyph}</b>'
    below = max(end, zero)  # words of a cook inside stand below the line too, where there is room for them
    return (
        f'<div class="tk-cook {_css(column)}" role="img" aria-label="{escape(_sentence(column))}">'
        f'<i style="top:{min(zero, end):.1f}%;height:{abs(end - zero):.1f}%"></i>{tip}'
        f'<span style="top:calc({below:.1f}% + {4 if column.unsafe else 12}px)">{escape(_words(column))}</span></div>'
    )


def progress(columns: Sequence[ProgressColumn]) -> str:
    """The whole mark; an empty sequence gives a sentence instead."""
    if not columns:
        return '<div class="tk tk-empty">No cook yet.</div>'
    zero = _down(0.0)
    rules = "".join(f'<span class="rule" style="top:{_down(-k):.1f}%"><small>{k} outside</small></span>' for k in (1, 2))
    runs = "".join(
        f'<span style="grid-column:span {len(list(run))}">{escape(purpose)}</span>'
        for purpose, run in groupby(columns, key=lambda column: column.purpose)
    )
    numbers = "".join(f"<span>{column.number}</span>" for column in columns)
    many = " many" if len(columns) > MANY else ""
    return (
        f'<div class="tk tk-progress{many}" style="--n:{len(columns)}"><div class="scroll" tabindex="0" role="region" '
        f'aria-label="Progress, one column a cook"><div class="sheet"><div class="plot">'
        f'<span class="zone" style="height:{zero:.1f}%"></span>'
        f'<span class="rule zero" style="top:{zero:.1f}%"><small>inside all windows</small></span>{rules}'
        f'<div class="columns">{"".join(_column(column) for column in columns)}</div></div>'
        f'<div class="under">{numbers}</div><div class="under why">{runs}</div></div></div></div>'
    )
