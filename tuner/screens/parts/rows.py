"""From records to marks: forecast rows, progress columns, panel rows. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from tuner.domain import ATTRIBUTES, SCORES, Brief, Forecast
from tuner.screens.marks.cooks import values_of
from tuner.screens.marks.panel import PanelRow
from tuner.screens.marks.progress import ProgressColumn
from tuner.screens.marks.windows import WindowRow
from tuner.screens.marks.words import PURPOSE, SHORT_NAME
from tuner.services import CookRecord, DevelopmentView

POINTS = 6
"""How many of the latest cooks are shown as dots beside a forecast."""


def searched(view: DevelopmentView) -> list[CookRecord]:
    """Cooks of programs that hold now, in order of their numbers; benchmark cooks left out."""
    return sorted((cook for cook in view.current_cooks if cook.cook.purpose != "benchmark"), key=lambda cook: cook.number)


def window_of(view: DevelopmentView, attribute: str) -> tuple[float | None, float | None]:
    """Edges a measurement has to keep to; the core's low edge is the higher of the window's and limit + guard."""
    window = view.brief.targets.of(attribute)
    low, high = (window.low, window.high) if window else (None, None)
    pass_line = view.limit.pass_line_c if attribute == "core_temperature_c" else None
    if pass_line is not None:
        low = pass_line if low is None else max(low, pass_line)
    return low, high


def forecast_rows(view: DevelopmentView, forecast: Forecast, *, before: Forecast | None = None) -> list[WindowRow]:
    """One row for each attribute of a forecast, with the latest measurements as dots."""
    latest = [values_of(record) for record in searched(view)][-POINTS:]
    rows = []
    for name in ATTRIBUTES:
        found = forecast.attributes[name]
        low, high = window_of(view, name)
        rows.append(
            WindowRow(
                attribute=name,
                low=low,
                high=high,
                mean=found.mean,
                spread=found.spread,
                chance=found.chance_inside,
                points=tuple(values[name] for values in latest if name in values),
                before=before.attributes[name].mean if before else None,
                limit=view.limit.core_temperature_c if name == "core_temperature_c" else None,
            )
        )
    return rows


def _column(record: CookRecord) -> ProgressColumn:
    margins = {name: margin for name, margin in record.margins.items() if margin is not None}
    worst = min(margins, key=margins.__getitem__, default="")
    result: Literal["pass", "fail", "pending"] = record.outcome.result
    return ProgressColumn(
        number=record.number,
        purpose=PURPOSE[record.cook.purpose],
        margin=margins.get(worst),
        worst=SHORT_NAME.get(worst, worst).lower(),
        outcome=result,
        unsafe=record.verdict.status == "not_safe",
        counts=record.counts,
    )


def progress_columns(view: DevelopmentView) -> list[ProgressColumn]:
    """One column for each cook of a program."""
    return [_column(record) for record in searched(view)]


def panel_rows(brief: Brief, record: CookRecord) -> list[PanelRow]:
    """The scores of one cook by attribute; those nobody gave are left out."""
    rows = []
    for name in SCORES:
        window = brief.targets.of(name)
        marks = tuple((score.taster, mark) for score in record.cook.scores or () if (mark := getattr(score, name)) is not None)
        if marks:
            rows.append(PanelRow(name, marks, window.low if window else None, window.high if window else None))
    return rows


def latest_scored(cooks: Sequence[CookRecord]) -> CookRecord | None:
    """The latest cook that somebody scored."""
    return next((record for record in reversed(cooks) if record.cook.scores), None)
