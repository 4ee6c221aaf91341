"""How the columns of a cook log are read: shown with sample cells, corrected by hand, doubts answered."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

import streamlit as st

from tuner import services
from tuner.screens import state
from tuner.screens.marks.imported import column_block
from tuner.screens.marks.words import as_label
from tuner.services import ImportPreview

if TYPE_CHECKING:
    from typing import Any

Reader = Callable[["Any"], ImportPreview]
"""Reads the file again with a mapping."""

_UNITS = ("°C", "°F", "g", "kg", "oz", "lb", "s", "min", "mm:ss", "%", "fraction")
_ROUNDS = 8
"""How often answers may lead to further questions before the person is asked again."""


def _answer_key(prefix: str, code: str) -> str:
    return f"{prefix}.answer.{code}"


def with_answers(found: ImportPreview, read: Reader, prefix: str) -> ImportPreview:
    """The preview with every answer given so far carried out; an answer may lead to a further question."""
    for _ in range(_ROUNDS):
        given = {
            question.code: answer
            for question in found.mapping.open_questions
            if (answer := state.entered(_answer_key(prefix, question.code)))
        }
        if not given:
            return found
        mapping = found.mapping
        for code, answer in given.items():
            mapping = mapping.answered(code, answer)
        found = read(mapping)
    return found


def ask(found: ImportPreview, prefix: str) -> None:
    """All questions about the file, those answered with their answer."""
    if not found.mapping.questions:
        return
    st.subheader("What is doubtful")
    for question in found.mapping.questions:
        key = _answer_key(prefix, question.code)
        st.selectbox(
            question.text,
            list(question.choices),
            index=None,
            key=key,
            placeholder="choose, or type another answer" if question.free else "choose",
            accept_new_options=question.free,
            persist_state="session",
        )


def corrected(found: ImportPreview, prefix: str) -> Any:
    """The mapping with the columns as they are read by hand; draws one block a column."""
    st.subheader("How the columns are read")
    fields = services.import_fields()
    mapping = found.mapping
    for use in found.mapping.columns:
        left, right = st.columns([1, 1], gap="medium")
        with left:
            st.html(column_block(use.heading, use.part, use.samples, use.why))
        with right:
            key = f"{prefix}.column.{use.column}"
            if not st.toggle(f"{as_label(use.words)}: correct it", key=f"{key}.on", persist_state="session"):
                continue
            field = st.selectbox(
                "It holds", list(fields), index=list(fields).index(use.field), format_func=fields.__getitem__, key=key
            )
            number = st.text_input("Stage, place or taster number, if any", value=str(use.number or ""), key=f"{key}.number")
            known = [*_UNITS, *([use.unit] if use.unit and use.unit not in _UNITS else [])]
            unit = st.selectbox("Unit", known, index=known.index(use.unit) if use.unit else None, key=f"{key}.unit")
            settings = {"field": field, "number": int(number) if number.isdigit() else None, "unit": unit}
            if settings != {"field": use.field, "number": use.number, "unit": use.unit}:
                mapping = mapping.changed(use.column, **settings)
    return mapping
