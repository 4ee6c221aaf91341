"""One development in the list of who waits for whom."""

from __future__ import annotations

from html import escape

from tuner.screens.marks.strip import strip
from tuner.screens.marks.words import GLYPH, State, counted, idle, number, percent
from tuner.services import DevelopmentSummary

_STATE: dict[str, tuple[State, str]] = {
    "gathering": ("unknown", "gathering"),
    "candidate": ("close", "candidate"),
    "confirming": ("close", "confirming"),
    "proven": ("inside", "proven"),
    "stalled": ("outside", "stalled"),
    "closed": ("unknown", "closed"),
    "archived": ("unknown", "archived"),
}


def state_word(status: str) -> str:
    """A status as glyph, word and colour."""
    state, word = _STATE.get(status, ("unknown", status))
    return f'<b class="tk-{state} tk-nowrap">{GLYPH[state]} {escape(word)}</b>'


def cooks_left(summary: DevelopmentSummary) -> str:
    """How many cooks are expected still, with the range; empty where nothing can be said or nothing is left."""
    if summary.cooks_left_estimate is None or summary.status in ("proven", "closed", "archived"):
        return ""
    text = f"about {counted(max(1, round(summary.cooks_left_estimate)), 'cook')} left"
    if summary.cooks_left_range:
        low, high = summary.cooks_left_range
        text += f" ({number(low, 0)} to {number(high, 0)})"
    return text


def card(summary: DevelopmentSummary) -> str:
    """The card below the dish's name: who waits for what, the best program so far, state and age."""
    whose = f"{summary.customer} · " if summary.customer else ""
    program = strip(summary.best_program) if summary.best_program else "<small>no program yet</small>"
    chance = f"{percent(summary.chance_reliable)} reliable" if summary.best_program else ""
    facts = "".join(f"<span>{escape(text)}</span>" for text in (cooks_left(summary), chance) if text)
    return (
        f'<div class="tk tk-card"><div class="what"><span>{escape(summary.waits_for)}</span><br>'
        f"<small>{escape(whose)}{escape(summary.oven_name)} · {counted(summary.cook_count, 'cook')}</small></div>"
        f'<div class="strip-cell">{program}</div>'
        f'<div class="state">{state_word(summary.status)}<br><small>{idle(summary.idle_days)}</small></div>'
        f'<small class="facts">{facts}</small></div>'
    )
