"""How values read on a terminal: numbers with their unit, chances, states as mark and word."""

from __future__ import annotations

from collections.abc import Mapping

from tuner.domain import Assessment, Verdict, Window

ATTRIBUTE_WORDS: Mapping[str, str] = {
    "core_temperature_c": "core, lowest",
    "browning": "browning",
    "texture": "texture",
    "moisture": "moisture",
    "cook_loss_pct": "cook loss",
}

_UNITS = {"core_temperature_c": " °C", "cook_loss_pct": " %"}
_DIGITS = {"browning": 2, "texture": 2, "moisture": 2}

VERDICT_WORDS: Mapping[str, str] = {
    "safe_to_taste": "● safe to taste",
    "not_safe": "✕ NOT SAFE: do not taste",
    "unknown": "? unknown: handled as not safe",
}
VERDICT_STYLES: Mapping[str, str] = {"safe_to_taste": "cyan", "not_safe": "bold reverse red", "unknown": "bold yellow"}

VERDICT_CAUTIONS: Mapping[str, tuple[str, ...]] = {"not_safe": ("C1", "C11"), "unknown": ("C2",), "safe_to_taste": ()}
"""Codes of the cautions that go with each verdict."""

SHORT_VERDICTS: Mapping[str, str] = {"safe_to_taste": "● safe", "not_safe": "✕ NOT SAFE", "unknown": "? unknown"}

STATUS_WORDS: Mapping[str, str] = {
    "gathering": "○ gathering",
    "candidate": "◐ candidate",
    "confirming": "◐ confirming",
    "proven": "● proven",
    "stalled": "✕ stalled",
    "closed": "closed",
    "archived": "archived",
}

OUTCOME_WORDS: Mapping[str, str] = {"pass": "● pass", "fail": "✕ fail", "pending": "? pending"}

PURPOSE_WORDS: Mapping[str, str] = {"first_guess": "first guess", "search": "search", "confirm": "confirm"}


def measured(attribute: str, value: float | None) -> str:
    """A value of an attribute with its unit; a dash where nothing was measured."""
    if value is None:
        return "–"
    return f"{value:.{_DIGITS.get(attribute, 1)}f}{_UNITS.get(attribute, '')}"


def measured_range(attribute: str, low: float, high: float) -> str:
    """A range of an attribute, its unit written once."""
    digits = _DIGITS.get(attribute, 1)
    return f"{low:.{digits}f} to {high:.{digits}f}{_UNITS.get(attribute, '')}"


def chance(value: float | None) -> str:
    """A chance in whole percent; never rounded to 0 or 100 % unless it is exactly that."""
    if value is None:
        return "–"
    percent = round(100 * value)
    if percent == 100 and value < 1:
        return "> 99 %"
    if percent == 0 and value > 0:
        return "< 1 %"
    return f"{percent} %"


def window_words(attribute: str, window: Window | None, *, usable_low: float | None = None) -> str:
    """The acceptable range; for the core the usable low edge, which keeps clear of the critical limit."""
    low = usable_low if usable_low is not None else (window.low if window else None)
    high = window.high if window else None
    unit = _UNITS.get(attribute, "")
    if low is None and high is None:
        return "–"
    if low is None:
        return f"up to {high:g}{unit}"
    if high is None:
        return f"from {low:g}{unit}"
    return f"{low:g} to {high:g}{unit}"


def verdict_words(verdict: Verdict) -> str:
    """The verdict as mark and words."""
    return VERDICT_WORDS[verdict.status]


def cooks_left_words(assessment: Assessment) -> str:
    """How many cooks are left, with the range; words where nobody can say."""
    if assessment.status == "proven":
        return "none: proven"
    if assessment.cooks_left_estimate is None:
        return "can't be said yet"
    text = f"about {assessment.cooks_left_estimate:.0f}"
    if assessment.cooks_left_range:
        low, high = assessment.cooks_left_range
        text += f" ({low:.0f} to {high:.0f})"
    return text
