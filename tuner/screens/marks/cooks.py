"""The cooks of a development as a table: a real table at the desk, one block a cook on the phone."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import tzinfo
from html import escape

from tuner.domain import SCORES
from tuner.screens.marks.strip import strip
from tuner.screens.marks.verdict import verdict_word
from tuner.screens.marks.words import GLYPH, NAME, PURPOSE, SHORT_NAME, State, measured, moment
from tuner.services import CookRecord

_MISSING = {**SHORT_NAME, "rest_s": "Rest", "completed": "The end"}
_RESULT: dict[str, tuple[State, str]] = {
    "pass": ("inside", "passes"),
    "fail": ("outside", "fails"),
    "pending": ("unknown", "open"),
}


def values_of(record: CookRecord) -> dict[str, float]:
    """What was measured of a cook: lowest reading, panel means, cook loss; what is missing is left out."""
    cook = record.cook
    found: dict[str, float | None] = {
        "core_temperature_c": min(cook.readings_c, default=None),
        **{name: cook.panel_mean(name) for name in SCORES},
        "cook_loss_pct": cook.cook_loss_pct,
    }
    return {name: value for name, value in found.items() if value is not None}


def _result(record: CookRecord) -> str:
    if record.cook.purpose == "benchmark":
        return '<span class="tk-unknown">benchmark</span>'
    state, word = _RESULT[record.outcome.result]
    detail = ""
    if record.outcome.outside:
        detail = ", ".join(SHORT_NAME.get(name, name).lower() for name in record.outcome.outside)
    elif record.outcome.missing:
        detail = "missing: " + ", ".join(_MISSING.get(name, name).lower() for name in record.outcome.missing)
    aside = "" if record.counts else " <small>does not count</small>"
    return f'<b class="tk-{state} tk-nowrap">{GLYPH[state]} {word}</b> <small>{escape(detail)}</small>{aside}'


def _value_cells(record: CookRecord) -> str:
    found = values_of(record)
    cells = []
    for name in SHORT_NAME:
        if name == "duration_s":
            continue
        text = measured(name, found[name]) if name in found else ""
        outside = name in record.outcome.outside
        shown = f'<span class="tk-outside">{GLYPH["outside"]} {text}</span>' if outside and text else text
        cells.append(f'<td class="number" data-name="{SHORT_NAME[name]}">{shown}</td>')
    return "".join(cells)


def _row(record: CookRecord, zone: tzinfo | None) -> str:
    cook = record.cook
    program = strip(cook.done_program, height_px=28) if cook.done_program else "<small>conventional method</small>"
    when = moment(cook.cooked_at, zone)
    notes = [PURPOSE[cook.purpose]]
    if cook.history:
        notes.append("from an old log")
    if record.corrects:
        notes.append(f"corrected: {record.reason}" if record.reason else "corrected")
    css = ' class="past"' if record.superseded else ""
    by = f"<small>{escape(when)}<br>{escape(' · '.join(notes))}</small>"
    return (
        f'<tr{css}><td class="whole"><b>Cook {record.number}</b><br>{by}</td><td class="strip-cell whole">{program}</td>'
        f"{_value_cells(record)}"
        f'<td class="whole">{verdict_word(record.verdict)}</td><td class="whole">{_result(record)}</td></tr>'
    )


def cooks_table(records: Sequence[CookRecord], zone: tzinfo | None = None) -> str:
    """The table, newest cook first; times are told in `zone`."""
    if not records:
        return '<div class="tk tk-empty">No cook yet.</div>'
    heads = "".join(
        f'<th class="number">{SHORT_NAME[name]}</th>' for name in SHORT_NAME if name in NAME and name != "duration_s"
    )
    rows = "".join(_row(record, zone) for record in sorted(records, key=lambda record: record.number, reverse=True))
    return (
        f'<div class="tk tk-scroll" tabindex="0" role="region" aria-label="Cooks"><table class="tk-table fold"><thead><tr>'
        f"<th>Cook</th><th>Program</th>{heads}<th>Verdict</th><th>Windows</th></tr></thead><tbody>{rows}</tbody></table></div>"
    )
