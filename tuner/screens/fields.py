"""Fields of a form: what is typed is read by the domain's one reader, and how it was understood stands below the field."""

from __future__ import annotations

import re
from collections.abc import Mapping

import streamlit as st

from tuner.domain import InvalidDocument
from tuner.domain.quantities import Kind, Quantity, read_quantity
from tuner.screens.marks.notice import field_note
from tuner.screens.marks.words import number

_WORD = {
    "temperature": "°C",
    "mass": "g",
    "length": "mm",
    "duration": "s",
    "share": "%",
    "power": "W",
    "speed": "m/s",
    "plain": "",
}


class Form:
    """The fields of one entry; what could not be read is kept in `problems`.

    Parameters
    ----------
    prefix
        Begins all widget keys; another prefix is an empty form.
    """

    def __init__(self, prefix: str) -> None:
        self.prefix = prefix
        self.problems: list[str] = []

    def key(self, name: str) -> str:
        """Widget key of a field."""
        return f"{self.prefix}.{name}"

    def quantity(
        self,
        name: str,
        label: str,
        kind: Kind,
        *,
        value: float | None = None,
        required: bool = False,
        help_text: str | None = None,
        placeholder: str = "",
        of_oven: bool = False,
    ) -> float | None:
        """A typed quantity in the project's unit; None where the field is empty or could not be read.

        Parameters
        ----------
        name, label, kind
            Key, words before the field (the unit is added), and what it measures.
        value
            What the field begins with.
        required
            Whether an empty field is a problem.
        of_oven
            Whether it is the temperature of an oven's air, where 180 is no doubtful reading of a thermometer.
        """
        unit = _WORD[kind]
        typed = st.text_input(
            f"{label}, {unit}" if unit else label,
            value=f"{value:.9g}" if value is not None else "",
            key=self.key(name),
            help=help_text,
            placeholder=placeholder,
            autocomplete="off",
        )
        if not typed or not typed.strip():
            if required:
                self.problems.append(f"{label} is missing.")
            return None
        try:
            read = read_quantity(typed, kind, unit="c" if of_oven and kind == "temperature" else "", field=label)
        except InvalidDocument as error:
            self._refuse(error.problems[0])
            return None
        return self._settled(name, label, typed, kind, read)

    def _settled(self, name: str, label: str, typed: str, kind: Kind, read: Quantity) -> float | None:
        """The value once doubts are answered; says how it was understood where that is not plain."""
        if read.doubt:
            answers = _readings(typed, kind, label)
            # another number is another question: an answer given for 165 says nothing of 75
            chosen = st.segmented_control(read.doubt, list(answers), key=self.key(f"{name}.which.{typed}"))
            if chosen is None:
                self.problems.append(read.doubt)
                return None
            st.html(field_note(f"understood as {number(answers[chosen], 2)} {read.unit}"))
            return answers[chosen]
        if read.typed_unit not in ("", read.unit.strip("°").lower()) or "," in typed or ":" in typed:
            st.html(field_note(f"understood as {number(read.value, 2)} {read.unit}"))
        return read.value

    def _refuse(self, problem: str) -> None:
        self.problems.append(problem)
        st.html(field_note(problem, problem=True))

    def whole(self, name: str, label: str, *, value: int | None = None, help_text: str | None = None) -> int | None:
        """A whole number; None where empty or not one."""
        typed = st.text_input(
            label, value="" if value is None else str(value), key=self.key(name), help=help_text, autocomplete="off"
        )
        text = (typed or "").strip()
        if not text:
            return None
        if not re.fullmatch(r"\d{1,6}", text):
            self._refuse(f"{label} {text!r} is not a whole number. Type one, like 3.")
            return None
        return int(text)

    def text(
        self,
        name: str,
        label: str,
        *,
        value: str | None = None,
        required: bool = False,
        longest: int = 200,
        placeholder: str = "",
    ) -> str | None:
        """A line of text; None where empty."""
        typed = st.text_input(label, value=value or "", max_chars=longest, key=self.key(name), placeholder=placeholder) or ""
        typed = typed.strip()
        if not typed and required:
            self.problems.append(f"{label} is missing.")
        return typed or None

    def choice(
        self,
        name: str,
        label: str,
        names: Mapping[str, str],
        *,
        value: str | None = None,
        help_text: str | None = None,
        in_list: bool = False,
    ) -> str | None:
        """One of several, or None; side by side, or in a list where they would not fit."""
        if not in_list:
            chosen: str | None = st.segmented_control(
                label, list(names), format_func=names.__getitem__, default=value, key=self.key(name), help=help_text, wrap=True
            )
            return chosen
        index = list(names).index(value) if value is not None and value in names else None
        return st.selectbox(label, list(names), index=index, format_func=names.__getitem__, key=self.key(name), help=help_text)


def _readings(typed: str, kind: Kind, label: str) -> dict[str, float]:
    """The two ways a doubtful entry can be meant, each with its words."""
    if kind == "temperature":
        return {f"°{unit.upper()}": read_quantity(typed, kind, unit=unit, field=label).value for unit in ("c", "f")}
    decimal = read_quantity(typed.replace(",", "."), kind, field=label).value
    thousands = read_quantity(typed.replace(",", ""), kind, field=label).value
    return {number(decimal, 3): decimal, number(thousands, 3): thousands}
