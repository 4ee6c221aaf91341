"""Cautions where they belong."""

from __future__ import annotations

from collections.abc import Collection

import streamlit as st

from tuner import services
from tuner.screens.marks.verdict import caution_lines
from tuner.services import DevelopmentView

OF_A_VERDICT = {"not_safe": ("C1", "C11"), "unknown": ("C2",), "safe_to_taste": ()}
"""Which cautions of the verdict go with which verdict."""


def show_cautions(*places: str, only: Collection[str] | None = None, but: Collection[str] = ()) -> None:
    """The cautions of some places, each once; `only` and `but` choose by code."""
    found = {one.code: one for place in places for one in services.cautions(place)}
    chosen = [one for code, one in found.items() if (only is None or code in only) and code not in but]
    if chosen:
        st.html(caution_lines(chosen))


def show_sheet_cautions(view: DevelopmentView) -> None:
    """Those of a cook sheet; what belongs to a verdict is said with the verdict, what it contains is named."""
    with_verdict = [one.code for one in services.cautions("verdict")]
    show_cautions("cook sheet", but=with_verdict)
    allergens = view.brief.allergens
    known = "unknown" if allergens is None else ", ".join(allergens) or "none declared"
    st.text(f"Allergens: {known}.")
