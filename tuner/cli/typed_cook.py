"""Makes a test cook of what was typed as flags: units, decimal commas and m:ss are understood, doubts are asked about."""

from __future__ import annotations

import argparse
import re
from collections.abc import Sequence
from datetime import datetime
from typing import Any

from tuner.domain import InvalidDocument, NeedsConfirmation, Program, Score, TestCook
from tuner.domain.plausibility import Question
from tuner.domain.quantities import Kind, read_quantity

COOK_FLAGS = (
    "program", "mass", "start", "core", "rest", "covered", "mass_out", "purpose", "cooked_at", "thermometer_checked_at",
    "interrupted_by", "cook", "lot", "load", "oven_serial", "note",
)  # fmt: skip
"""Flags that describe a cook, by the name argparse keeps them under."""

_PLAIN = {"purpose": "purpose", "cook": "cook", "lot": "lot", "load": "load", "oven_serial": "oven_serial", "note": "note"}
_QUANTITIES: tuple[tuple[str, str, Kind], ...] = (
    ("mass", "mass_g", "mass"),
    ("start", "start_temperature_c", "temperature"),
    ("rest", "rest_s", "duration"),
    ("mass_out", "mass_out_g", "mass"),
)
_CLOCK = re.compile(r"^([01]?\d|2[0-3]):([0-5]\d)$")
_MARKS = ("browning", "texture", "moisture")


def flags_typed(arguments: argparse.Namespace) -> list[str]:
    """Flags of a cook that were typed, as they are typed."""
    return [f"--{name.replace('_', '-')}" for name in COOK_FLAGS if getattr(arguments, name) is not None]


def _value(text: str, kind: Kind, field: str, meant: Sequence[str]) -> float:
    quantity = read_quantity(text, kind, field=field)
    code = f"unit.{field}"
    if quantity.doubt and code not in meant:
        question = f"{quantity.doubt} Type the unit with the number, or confirm {quantity.value:g} {quantity.unit}."
        raise NeedsConfirmation([Question(code=code, field=field, value=quantity.value, text=question)])
    return round(quantity.value, 2)


def read_time(text: str, *, now: datetime, field: str) -> datetime:
    """A moment: `now`, a clock time of today, or a time with its zone.

    Raises
    ------
    InvalidDocument
        If it is none of these, or has no zone.
    """
    typed = text.strip()
    if typed.casefold() == "now":
        return now
    clock = _CLOCK.match(typed)
    if clock:
        return now.astimezone().replace(hour=int(clock[1]), minute=int(clock[2]), second=0, microsecond=0)
    try:
        moment = datetime.fromisoformat(typed)
    except ValueError:
        moment = None
    if moment is None or moment.tzinfo is None:
        rule = "A time is `now`, 10:15 (today), or has its zone, like 2026-03-02T10:15:00Z"
        raise InvalidDocument([f"{field} {text!r} is not such a time. {rule}. Type it again."])
    return moment


def read_marks(text: str) -> Score:
    """One taster's marks: `A browning=2.5 texture=3`; other names are kept as further attributes.

    Raises
    ------
    InvalidDocument
        If it does not read so.
    pydantic.ValidationError
        If a mark is not legal.
    """
    words = text.split()
    pairs = [word.partition("=") for word in words[1:]]
    if not pairs or "=" in words[0] or not all(equals and name and mark for name, equals, mark in pairs):
        example = "A browning=2.5 texture=3 moisture=3.5"
        raise InvalidDocument([f"score {text!r} does not name a taster and marks. Write it like {example!r}."])
    document: dict[str, Any] = {"taster": words[0]}
    for name, _, mark in pairs:
        value = read_quantity(mark, "plain", field=f"{words[0]}, {name}").value
        if name in document or name in document.get("other", {}):
            raise InvalidDocument([f"score {text!r} gives {name} twice. One mark each. Remove one of the two."])
        if name in _MARKS:
            document[name] = value
        else:
            document.setdefault("other", {})[name] = value
    return Score.model_validate(document)


def read_scores(texts: Sequence[str]) -> list[dict[str, Any]]:
    """Marks of several tasters, as documents."""
    return [read_marks(text).model_dump(mode="json", exclude_unset=True) for text in texts]


def cook_of_flags(arguments: argparse.Namespace, *, program: Program | None, purpose: str | None, now: datetime) -> TestCook:
    """The cook that was typed as flags.

    Parameters
    ----------
    arguments
        What was typed.
    program
        What the oven did; None for a benchmark.
    purpose
        Purpose of the proposal that was cooked, where there is one; a typed purpose wins.
    now
        For times typed as `now` or without a date.

    Raises
    ------
    InvalidDocument
        If a value can't be read.
    NeedsConfirmation
        If the unit of a value is in doubt.
    pydantic.ValidationError
        If a value breaks a rule of cooks.
    """
    document: dict[str, Any] = {}
    if program is not None:
        document["program"] = program.model_dump(mode="json", exclude_unset=True)
    if purpose is not None:
        document["purpose"] = purpose
    for flag, field, kind in _QUANTITIES:
        if (text := getattr(arguments, flag)) is not None:
            document[field] = _value(text, kind, field, arguments.confirm)
    if arguments.core:
        document["core_temperature_c"] = [
            _value(text, "temperature", f"core_temperature_c.{place}", arguments.confirm)
            for place, text in enumerate(arguments.core, start=1)
        ]
    if arguments.covered is not None:
        document["rest_covered"] = arguments.covered
    if arguments.interrupted_by is not None:
        document.update(completed=False, interrupted_by=arguments.interrupted_by)
    else:
        document["completed"] = True
    for flag in ("cooked_at", "thermometer_checked_at"):
        if (text := getattr(arguments, flag)) is not None:
            document[flag] = read_time(text, now=now, field=flag).isoformat()
    document.update({field: value for flag, field in _PLAIN.items() if (value := getattr(arguments, flag)) is not None})
    if arguments.score:
        document["scores"] = read_scores(arguments.score)
    return TestCook.model_validate(document)
