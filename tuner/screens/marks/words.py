"""Words, glyphs and numbers as every mark writes them."""

from __future__ import annotations

import re
from datetime import datetime, tzinfo
from html import escape
from typing import Literal

from tuner.domain import ATTRIBUTES

State = Literal["inside", "close", "outside", "unknown"]

GLYPH: dict[State, str] = {"inside": "●", "close": "◐", "outside": "✕", "unknown": "?"}

NAME = {
    "core_temperature_c": "Core temperature",
    "browning": "Browning",
    "texture": "Texture",
    "moisture": "Moisture",
    "cook_loss_pct": "Cook loss",
    "duration_s": "Duration",
}
SHORT_NAME = {**NAME, "core_temperature_c": "Core", "cook_loss_pct": "Loss"}
UNIT = {"core_temperature_c": "°C", "browning": "", "texture": "", "moisture": "", "cook_loss_pct": "%", "duration_s": "s"}
POLES = {
    "browning": ("too pale", "too dark"),
    "texture": ("too soft", "too firm"),
    "moisture": ("too dry", "too wet"),
}
"""Both ends of each score, 1 and 5."""

PURPOSE = {
    "first_guess": "first guess",
    "search": "search",
    "confirm": "confirm",
    "benchmark": "benchmark",
    "proof": "proof",
    "site_check": "site check",
}

TIED = "\u00a0"
"""Space that does not break, between a number and its unit."""

SURE, LIKELY = 0.8, 0.5
"""Chances from which a state is called inside, and close (common practice, no source)."""


def state_of_chance(chance: float | None) -> State:
    """How a chance is shown; None (no window) is unknown."""
    if chance is None:
        return "unknown"
    return "inside" if chance >= SURE else "close" if chance >= LIKELY else "outside"


def percent(chance: float | None) -> str:
    """A chance in whole percent; certainty is never claimed by rounding."""
    if chance is None:
        return "no window"
    if 0 < chance < 0.005:
        return f"<{TIED}1{TIED}%"
    if 0.995 <= chance < 1:
        return f">{TIED}99{TIED}%"
    return f"{chance * 100:.0f}{TIED}%"


def number(value: float, places: int = 1) -> str:
    """A number with at most `places` decimals and no trailing zeros; minus as the true sign."""
    text = f"{value:.{places}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text.replace("-", "−")


def measured(attribute: str, value: float) -> str:
    """A value of an attribute with its unit: 79.6 °C, 2.9, 15.4 %."""
    unit = UNIT[attribute]
    return f"{value:.1f}".replace("-", "−") + (f"{TIED}{unit}" if unit else "")


def counted(count: int, one: str, many: str = "") -> str:
    """A count in words: `1 cook`, `9 cooks`."""
    return f"{count} {one if count == 1 else many or one + 's'}"


def idle(days: int) -> str:
    """How long nothing moved."""
    return "moved today" if days <= 0 else f"{counted(days, 'day')} idle"


def moment(instant: datetime | None, zone: tzinfo | None = None) -> str:
    """A time as people read it, in `zone`, or in the zone it carries."""
    if instant is None:
        return "time not given"
    here = instant.astimezone(zone) if zone else instant
    return f"{here.day} {here:%b %Y, %H:%M}"


_MARKUP = re.compile(r"([\\`*_{}\[\]()#+\-.!|<>~:$&@/^=])")


def as_label(text: str) -> str:
    """Text of a person for a label that would otherwise read it as markup: images, links and icons stay letters."""
    return _MARKUP.sub(r"\\\1", " ".join(text.split()))


def lines(entries: list[tuple[str, str]] | tuple[tuple[str, str], ...]) -> str:
    """A list of sentences; each entry is (state or empty, text). The state's glyph stands before its sentence."""
    items = []
    for state, text in entries:
        glyph = (
            f'<span class="tk-glyph tk-{state}">{GLYPH[state]}</span>' if state in GLYPH else '<span class="tk-glyph">–</span>'
        )
        items.append(f"<li>{glyph}{escape(text)}</li>")
    return f'<ul class="tk tk-lines">{"".join(items)}</ul>'


def sentences(texts: tuple[str, ...] | list[str]) -> str:
    """A plain list of sentences."""
    return lines([("", text) for text in texts])


__all__ = [
    "ATTRIBUTES",
    "GLYPH",
    "NAME",
    "POLES",
    "PURPOSE",
    "SHORT_NAME",
    "TIED",
    "UNIT",
    "State",
    "as_label",
    "counted",
    "idle",
    "lines",
    "measured",
    "moment",
    "number",
    "percent",
    "sentences",
    "state_of_chance",
]
