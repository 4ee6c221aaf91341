"""Ovens: watts into water at the last check on one scale; a check older than thirty days, or none, is unknown."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from html import escape

from tuner.domain import Oven, OvenCheck, Setting
from tuner.screens.marks.words import GLYPH, counted, number

STALE_DAYS = 30
"""Age from which a check says nothing any more (common practice, no source)."""


def last_check(oven: Oven) -> OvenCheck | None:
    """The latest check that measured watts."""
    measured = [check for check in oven.checks or () if check.watts_w is not None]
    dated = [check for check in measured if check.checked_at is not None]
    if dated:
        return max(dated, key=lambda check: check.checked_at.timestamp() if check.checked_at else 0.0)
    return measured[-1] if measured else None


def age_days(check: OvenCheck, now: datetime) -> int | None:
    """Whole days since a check; None where it has no date."""
    return None if check.checked_at is None else max(0, (now - check.checked_at).days)


def _range(setting: Setting, unit: str) -> str:
    if setting.step is None:
        return f"{number(setting.low)} {unit}"
    return f"{number(setting.low)} to {number(setting.high)} {unit} in steps of {number(setting.step)}"


def settings_line(oven: Oven) -> str:
    """What can be set, in one line."""
    return " · ".join(
        (
            f"air {_range(oven.air_temperature_c, '°C')}",
            f"air speed {_range(oven.air_speed_pct, '%')}",
            f"microwave {_range(oven.microwave_pct, '%')}",
            f"{_range(oven.duration_s, 's')}",
            f"{counted(oven.max_stages, 'stage')} at most, shares in {number(oven.share_step_pct)} %",
        )
    )


def _figure(check: OvenCheck | None, age: int | None) -> tuple[str, str]:
    if check is None or check.watts_w is None:
        return "unknown", f"{GLYPH['unknown']} not checked"
    known = age is not None and age <= STALE_DAYS
    old = "no date" if age is None else counted(age, "day")
    return ("inside" if known else "unknown"), f"{GLYPH['inside' if known else 'unknown']} {number(check.watts_w, 0)} W, {old}"


def _track(check: OvenCheck | None, top_w: float) -> str:
    if check is None or check.watts_w is None:
        return '<div class="tk-track"></div>'
    error = 1.96 * (check.standard_error_w or 0.0)
    at = 100 * check.watts_w / top_w
    left, width = 100 * max(0.0, check.watts_w - error) / top_w, 200 * error / top_w
    return (
        f'<div class="tk-track"><span class="range" style="left:{left:.1f}%;width:{width:.1f}%"></span>'
        f'<span class="dot last" style="left:{at:.1f}%"></span></div>'
    )


def oven_row(oven: Oven, *, now: datetime, top_w: float) -> str:
    """One oven on a watt scale from 0 to `top_w`."""
    check = last_check(oven)
    age = age_days(check, now) if check else None
    css, words = _figure(check, age)
    serial = f" <small>{escape(oven.serial)}</small>" if oven.serial else ""
    said = escape(f"{oven.name}: {words}")
    return (
        f'<div class="tk-row" role="img" aria-label="{said}"><div><b>{escape(oven.name)}</b>{serial}</div>'
        f'{_track(check, top_w)}<div class="tk-figure tk-{css}"><b>{words}</b></div></div>'
        f"<small>{escape(settings_line(oven))}</small>"
    )


def top_of(ovens: Sequence[Oven]) -> float:
    """End of the watt scale for these ovens."""
    known = [oven.microwave_rated_w or 0.0 for oven in ovens] + [
        check.watts_w or 0.0 for oven in ovens for check in oven.checks or ()
    ]
    return max([*known, 1000.0]) * 1.1
