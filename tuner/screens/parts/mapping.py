"""How the columns of a cook log are read: shown with sample cells, corrected by hand, doubts answered."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import streamlit as st

from tuner import services
from tuner.screens import state
from tuner.screens.marks.imported import column_block
from tuner.screens.marks.words import as_label
from tuner.services import ImportPreview

Reader = Callable[[Any], ImportPreview]
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


def _column_key(prefix: str, column: int) -> str:
    return f"{prefix}.column.{column}"


def by_hand(guess: ImportPreview, prefix: str) -> Any:
    """The guessed mapping with the columns that are corrected by hand, as the fields hold them now."""
    mapping = guess.mapping
    for use in guess.mapping.columns:
        key = _column_key(prefix, use.column)
        if not state.entered(f"{key}.on"):
            continue
        number = str(state.entered(f"{key}.number") or "")
        settings = {
            "field": state.entered(key) or use.field,
            "number": int(number) if number.isdigit() else None,
            "unit": state.entered(f"{key}.unit"),
        }
        if settings != {"field": use.field, "number": use.number, "unit": use.unit}:
            mapping = mapping.changed(use.column, **settings)
    return mapping


def show_columns(guess: ImportPreview, found: ImportPreview, prefix: str) -> None:
    """One block a column: heading, sample cells, how it is read now, and fields to correct that."""
    st.subheader("How the columns are read")
    fields = services.import_fields()
    guessed = {use.column: use for use in guess.mapping.columns}
    with st.container(gap="xsmall", key="import-columns"):
        for use in found.mapping.columns:
            _show_column(use, guessed.get(use.column, use), fields, _column_key(prefix, use.column))


def _show_column(use: Any, guessed: Any, fields: dict[str, str], key: str) -> None:
    left, right = st.columns([1, 1], gap="medium", vertical_alignment="center")
    with left:
        st.html(column_block(use.heading, use.part, use.samples, use.why))
    with right:
        unit = f", in {use.unit}" if use.unit else ""
        if st.toggle(f"{as_label(use.words + unit)}: correct it", key=f"{key}.on", persist_state="session"):
            _correction_fields(key, guessed, fields)


def _correction_fields(key: str, use: Any, fields: dict[str, str]) -> None:
    state.begin(key, use.field)
    state.begin(f"{key}.number", str(use.number or ""))
    state.begin(f"{key}.unit", use.unit)
    units = [*_UNITS, *([use.unit] if use.unit and use.unit not in _UNITS else [])]
    st.selectbox("It holds", list(fields), format_func=fields.__getitem__, key=key, persist_state="session")
    st.text_input("Stage, place or taster number, if any", key=f"{key}.number", persist_state="session")
    st.selectbox("Unit", units, index=None, key=f"{key}.unit", persist_state="session")
