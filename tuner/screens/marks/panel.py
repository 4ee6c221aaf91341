"""A panel's scores: nine half steps, letters are tasters, the tinted middle is the window, the small triangle the mean."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape

from tuner.screens.marks.words import GLYPH, NAME, POLES, State, number

SPLIT = 2.0
"""Spread between tasters [marks] from which a mean hides a disagreement."""


@dataclass(frozen=True, slots=True)
class PanelRow:
    """Scores of one attribute: pairs of taster and mark, and the window (either edge may be open)."""

    attribute: str
    marks: tuple[tuple[str, float], ...]
    low: float | None = None
    high: float | None = None


def _inside(row: PanelRow, mark: float) -> bool:
    return (row.low is None or mark >= row.low) and (row.high is None or mark <= row.high)


def _has_window(row: PanelRow) -> bool:
    return row.low is not None or row.high is not None


def _state(row: PanelRow, mark: float) -> State:
    if not _has_window(row):
        return "unknown"
    return "inside" if _inside(row, mark) else "outside"


def _cells(row: PanelRow) -> str:
    cells = []
    for step in range(9):
        mark = 1 + step / 2
        css = " ".join(name for name, on in (("in", _has_window(row) and _inside(row, mark)), ("middle", step == 4)) if on)
        state = _state(row, mark)
        who = "".join(f'<span class="tk-{state}">{escape(taster[:3])}</span>' for taster, given in row.marks if given == mark)
        cells.append(f'<span class="{css}">{who}</span>')
    return "".join(cells)


def _row(row: PanelRow) -> str:
    given = [mark for _, mark in row.marks]
    mean = sum(given) / len(given)
    state = _state(row, mean)
    split = " <small>split</small>" if max(given) - min(given) >= SPLIT else ""
    low_pole, high_pole = POLES[row.attribute]
    each = ", ".join(f"{taster} {number(mark)}" for taster, mark in row.marks)
    said = f"{NAME[row.attribute]}: mean {mean:.1f} of 5, 3 is right{', split' if split else ''}; {each}"
    return (
        f'<div class="tk-row" role="img" aria-label="{escape(said)}"><div><b>{NAME[row.attribute]}</b> '
        f'<small>{low_pole} … {high_pole}</small></div><div class="tk-cells">{_cells(row)}'
        f'<i style="left:{(mean - 0.75) / 4.5 * 100:.1f}%"></i></div>'
        f'<div class="tk-figure tk-{state}"><b>{GLYPH[state]} {mean:.1f}</b>{split}</div></div>'
    )


def panel(rows: Sequence[PanelRow]) -> str:
    """All scored attributes; those nobody scored are left out."""
    return f'<div class="tk tk-rows">{"".join(_row(row) for row in rows if row.marks)}</div>'
