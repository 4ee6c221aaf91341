"""The numbers of one stage as typed, with the roles that words and units beside them tell."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from tuner.exchange.heading_words import plain, things_of, unit_named

Role = Literal["share", "time", "air", "microwave", ""]
"""What a number of a stage is; empty where nothing beside it tells. `time` is a share given in seconds."""


@dataclass(frozen=True, slots=True)
class Slot:
    """One number of a stage, its role where it is told, and whether a percent sign stands behind it."""

    value: float
    role: Role
    percent: bool


@dataclass(frozen=True, slots=True)
class _Token:
    kind: Literal["number", "word", "mark"]
    text: str
    value: float = 0.0
    unit: str = ""


CLOCK = re.compile(r"(?<![\d:])(\d{1,3}):([0-5]\d)(?![\d:])")


_TIMES = re.compile(r"(?<=[\d%])\s*[x×*@]\s*(?=\d)|(?<=\d)\s*@\s*")


NUMBERS = re.compile(r"\d+(?:\.\d+)?|\.\d+")


_UNIT_AFTER = re.compile(
    r"\s*(%|pct\b|percent\b|prozent\b|seconds?\b|secs?\b|sek(?:unden)?\b|s\b|minutes?\b|mins?\b|min\b|″|\"|'(?!')|W\b)",
    re.IGNORECASE,
)


def role_of(word: str) -> Role:
    """Role that a word beside a number tells; single letters as kitchens shorten them."""
    key = plain(word)
    short: dict[str, Role] = {
        "a": "air",
        "f": "air",
        "l": "air",
        "v": "air",
        "m": "microwave",
        "w": "microwave",
        "mw": "microwave",
        "µw": "microwave",
        "uw": "microwave",
        "mo": "microwave",
        "p": "microwave",
        "t": "time",
    }
    if key in short:
        return short[key]
    things = things_of(key)
    if "microwave" in things or "power" in things:
        return "microwave"
    if things & {"air", "speed"}:
        return "air"
    if "share" in things:
        return "share"
    return "time" if things & {"time", "seconds"} else ""


def _tokens(piece: str) -> list[_Token]:
    text = _TIMES.sub(" ", re.sub(r"\b(?:air|mw|fan)_?\w*_pct", lambda found: found[0].split("_")[0] + " ", piece))
    tokens: list[_Token] = []
    position = 0
    while position < len(text):
        clock = CLOCK.match(text, position)
        number = NUMBERS.match(text, position)
        word = re.compile(r"[^\W\d_]+").match(text, position)
        if clock:
            tokens.append(_Token("number", clock[0], int(clock[1]) * 60.0 + int(clock[2]), "s"))
            position = clock.end()
        elif number:
            unit = _UNIT_AFTER.match(text, number.end())
            named = unit_named(unit[1]) if unit else ""
            value = float(number[0]) * (60.0 if named == "min" else 1.0)
            tokens.append(_Token("number", number[0], value, "s" if named == "min" else named))
            position = unit.end() if unit else number.end()
        elif word:
            tokens.append(_Token("word", word[0]))
            position = word.end()
        else:
            position += 1
    return tokens


def slots_of(piece: str) -> tuple[Slot, ...]:
    """Numbers of a piece of text with the roles that words before or behind them tell."""
    tokens = _tokens(piece)
    numbers = [index for index, token in enumerate(tokens) if token.kind == "number"]
    before = [_word_role(tokens, index, -1) for index in numbers]
    behind = [_word_role(tokens, index, +1) for index in numbers]
    units = [tokens[index].unit for index in numbers]
    ends_in_word = bool(tokens) and tokens[-1].kind == "word"
    told = max((before, behind), key=lambda roles: (*_sense_of(roles, units), (roles is behind) == ends_in_word))
    slots = []
    for index, role in zip(numbers, told, strict=True):
        token = tokens[index]
        if token.unit == "s" and role in ("", "share", "time"):
            role = "time"
        elif token.unit == "W":
            role = "microwave"
        slots.append(Slot(token.value, role, token.unit == "%"))
    if (
        len(slots) == 3
        and [slot.percent for slot in slots].count(True) == 1
        and not any(slot.role for slot in slots if slot.percent)
    ):
        slots = [replace(slot, role="share") if slot.percent else slot for slot in slots]
    if len(slots) == 3 and [bool(slot.role) for slot in slots].count(True) == 2:
        slots = [replace(slot, role=_last_role([other.role for other in slots])) if not slot.role else slot for slot in slots]
    return tuple(slots)


def _sense_of(roles: Sequence[Role], units: Sequence[str]) -> tuple[int, int]:
    """Fewest seconds taken for a level, then most numbers named."""
    wrong = sum(1 for role, unit in zip(roles, units, strict=True) if unit == "s" and role in ("air", "microwave"))
    return -wrong, sum(1 for role in roles if role)


def _last_role(told: Sequence[Role]) -> Role:
    """The one role that is left when two of three are told."""
    every: tuple[Role, ...] = ("share", "air", "microwave")
    left = [role for role in every if role not in told and not (role == "share" and "time" in told)]
    return left[0] if len(left) == 1 else ""


def _word_role(tokens: Sequence[_Token], index: int, step: int) -> Role:
    """Role told by the words between a number and its neighbour on one side."""
    at = index + step
    while 0 <= at < len(tokens) and tokens[at].kind == "word":
        role = role_of(tokens[at].text)
        if role:
            return role
        at += step
    return ""
