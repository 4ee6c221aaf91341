"""How far inside its windows a cook was, in window half-widths."""

from __future__ import annotations

from tuner.domain import ATTRIBUTES, SCORES, Brief, TestCook
from tuner.safety import usable_core_window

USUAL_HALF_WIDTH = {"core_temperature_c": 5.0, "browning": 0.5, "texture": 0.5, "moisture": 0.5, "cook_loss_pct": 5.0}
"""Half-width that scales a window with one edge, or without room between its edges (K, marks, % of mass; common practice)."""


def edges(brief: Brief, attribute: str) -> tuple[float | None, float | None]:
    """Low and high edge of an attribute's window, None where open; for the core the usable window."""
    if attribute == "core_temperature_c":
        return usable_core_window(brief)
    window = brief.targets.of(attribute)
    return (window.low, window.high) if window else (None, None)


def _half_width(attribute: str, low: float | None, high: float | None) -> float:
    if low is None or high is None or high <= low:
        return USUAL_HALF_WIDTH[attribute]
    return (high - low) / 2.0


def margins(brief: Brief, cook: TestCook) -> dict[str, float | None]:
    """Distance of each attribute to the nearest edge of its window, in half-widths; negative is outside, 1 the middle.

    None where there is no window or nothing was measured. For the core the lowest reading is held against the usable low
    edge and the mean of the readings against the high one.
    """
    readings = cook.readings_c
    measured: dict[str, tuple[float | None, float | None]] = {
        "core_temperature_c": (min(readings), sum(readings) / len(readings)) if readings else (None, None),
        "cook_loss_pct": (cook.cook_loss_pct, cook.cook_loss_pct),
    }
    for attribute in SCORES:
        measured[attribute] = (cook.panel_mean(attribute), cook.panel_mean(attribute))
    return {name: _margin(name, *measured[name], *edges(brief, name)) for name in ATTRIBUTES}


def _margin(attribute: str, lowest: float | None, mean: float | None, low: float | None, high: float | None) -> float | None:
    if lowest is None or mean is None or (low is None and high is None):
        return None
    room = [lowest - low] if low is not None else []
    room += [high - mean] if high is not None else []
    return min(room) / _half_width(attribute, low, high)
