"""Notices: what stands in the way, what was done, whose work is invented."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from tuner.screens.marks.words import GLYPH


def problem_block(head: str, sentences: Sequence[str]) -> str:
    """What stands in the way: ink, not the filled crimson of unsafe food."""
    items = "".join(f"<p>{escape(sentence)}</p>" for sentence in sentences)
    return f'<div class="tk tk-problem" role="alert"><b>{GLYPH["outside"]} {escape(head)}</b>{items}</div>'


def done_block(words: str) -> str:
    """What was done, once."""
    return f'<div class="tk tk-done" role="status">{escape(words)}</div>'


def field_note(words: str, *, problem: bool = False) -> str:
    """One line below a field: how the entry was understood, or why it was not."""
    css, glyph = ("tk-outside", f"{GLYPH['outside']} ") if problem else ("", "")
    return f'<div class="tk tk-field-note {css}" role="status">{glyph}{escape(words)}</div>'


def is_invented(customer: str | None) -> bool:
    """Whether a development came with the demo: its customers carry the word behind their names."""
    return "(invented)" in (customer or "")


def demo_banner() -> str:
    """Says that what is shown is invented."""
    return (
        '<div class="tk tk-banner" role="note">Demo: every dish, oven, person and number of it is invented. '
        "Nothing here is advice for real food.</div>"
    )


def dish_head(dish: str, under: str) -> str:
    """The dish as the page's heading, with one line below it."""
    return f'<h1 class="tk-dish">{escape(dish)}</h1><div class="tk tk-under">{escape(under)}</div>'
