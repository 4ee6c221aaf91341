"""The verdict in words and shape: unsafe a filled block, unknown a grey frame, safe a quiet frame; cautions; standings."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from tuner.domain import Caution, Verdict
from tuner.screens.marks.words import GLYPH, State, lines

_HEAD: dict[str, tuple[State, str]] = {
    "not_safe": ("outside", "Not hot enough. Do not taste."),
    "unknown": ("unknown", "Not known to be safe. Treat as not safe."),
    "safe_to_taste": ("inside", "Safe to taste"),
}


def verdict_block(verdict: Verdict) -> str:
    """The verdict with its reasons, announced to a screen reader as it changes."""
    state, head = _HEAD[verdict.status]
    reasons = "".join(f'<div class="because">{escape(reason)}</div>' for reason in verdict.reasons)
    return f'<div class="tk tk-verdict {verdict.status}" role="status"><b>{GLYPH[state]} {escape(head)}</b>{reasons}</div>'


def verdict_word(verdict: Verdict) -> str:
    """The verdict in one short piece for a table."""
    words = {"not_safe": "not safe", "unknown": "not known", "safe_to_taste": "safe to taste"}
    state = _HEAD[verdict.status][0]
    css = "tk-unsafe" if verdict.status == "not_safe" else f"tk-{state}"
    return f'<span class="{css} tk-nowrap">{GLYPH[state]} {words[verdict.status]}</span>'


def caution_lines(cautions: Sequence[Caution]) -> str:
    """The cautions of a place, one line each."""
    items = "".join(f"<li><b>{escape(caution.code)}</b> {escape(caution.text)}</li>" for caution in cautions)
    return f'<ul class="tk tk-lines tk-small" aria-label="Cautions">{items}</ul>' if items else ""


def standing(head: str, facts: Sequence[tuple[str, str]], *, proven: bool = False) -> str:
    """Where a development stands: ink on plate, nothing reassuring before it is proven.

    Parameters
    ----------
    head
        The headline.
    facts
        Pairs of state (or empty) and sentence.
    proven
        Whether the development is proven.
    """
    glyph = f'<span class="tk-inside">{GLYPH["inside"]}</span> ' if proven else ""
    css = "tk tk-standing proven" if proven else "tk tk-standing"
    return f'<div class="{css}"><b>{glyph}{escape(head)}</b>{lines(tuple(facts)) if facts else ""}</div>'
