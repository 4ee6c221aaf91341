"""What a cook log gave: columns with their samples, the cooks it would add, rows and values that are not taken."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape
from typing import TYPE_CHECKING

from tuner.domain import SCORES
from tuner.screens.marks.strip import strip
from tuner.screens.marks.words import SHORT_NAME, counted, measured, moment

if TYPE_CHECKING:
    from tuner.domain import TestCook
    from tuner.services import ImportPreview

SHOWN = 30
"""Rows shown before the rest is only counted."""


def column_block(heading: str, part: str, samples: Sequence[str], why: str) -> str:
    """One column of the file: what stands above it, its first cells, and what it was told by."""
    where = f" <small>{escape(part)}</small>" if part else ""
    cells = " · ".join(escape(sample) for sample in samples[:3]) or "empty"
    told = f" <small>told by {escape(why)}</small>" if why else ""
    return f'<div class="tk"><b>{escape(heading or "no heading")}</b>{where}{told}<br>{cells}</div>'


def _values(cook: TestCook) -> str:
    found = {
        "core_temperature_c": min(cook.readings_c, default=None),
        **{name: cook.panel_mean(name) for name in SCORES},
        "cook_loss_pct": cook.cook_loss_pct,
    }
    texts = [f"{SHORT_NAME[name].lower()} {measured(name, value)}" for name, value in found.items() if value is not None]
    return ", ".join(texts) or "nothing measured"


def cooks_found(preview: ImportPreview) -> str:
    """The cooks that would go in, as far as they are shown."""
    rows = []
    for one in preview.result.cooks[:SHOWN]:
        program = strip(one.cook.done_program, height_px=24) if one.cook.done_program else "<small>no program</small>"
        when = moment(one.cook.cooked_at)
        remarks = f"<br><small>{escape('; '.join(one.remarks))}</small>" if one.remarks else ""
        rows.append(
            f'<tr><td class="whole"><b>line {one.line}</b> <small>{escape(one.label)}<br>{escape(when)}</small></td>'
            f'<td class="strip-cell whole">{program}</td><td class="whole">{escape(_values(one.cook))}{remarks}</td></tr>'
        )
    more = len(preview.result.cooks) - SHOWN
    foot = f'<div class="tk tk-small">and {counted(more, "more cook", "more cooks")}</div>' if more > 0 else ""
    head = "<thead><tr><th>Where</th><th>Program</th><th>Measured and what to look at</th></tr></thead>"
    return f'<table class="tk tk-table fold">{head}<tbody>{"".join(rows)}</tbody></table>{foot}'


def rows_not_taken(rows: Sequence[tuple[int, str]], *, what: str) -> str:
    """Lines of a file with the reason why they are not taken."""
    items = "".join(f"<tr><td>line {line}</td><td>{escape(reason)}</td></tr>" for line, reason in rows[: SHOWN * 4])
    more = len(rows) - SHOWN * 4
    foot = f'<div class="tk tk-small">and {more} more</div>' if more > 0 else ""
    head = f"<thead><tr><th>Where</th><th>{escape(what)}</th></tr></thead>"
    return f'<table class="tk tk-table">{head}<tbody>{items}</tbody></table>{foot}'
