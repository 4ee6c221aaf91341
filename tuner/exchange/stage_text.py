"""Stages written in one cell: `40% 30/80 | 60% 90/20`, `84s air 30 mw 80 / 126 s air 90 mw 20`, `40/30/80; 60/90/20`.

A cell is cut into stages at the first separator that leaves each stage the same two or three numbers. What the numbers are
is told by words and units beside them; bare numbers keep their place, and the column as a whole decides what places mean.
"""

from __future__ import annotations

import itertools
import json
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any, Literal

from tuner.exchange.heading_words import plain, things_of, unit_named
from tuner.exchange.number_text import REMEMBERED

Role = Literal["share", "time", "air", "microwave", ""]
"""What a number of a stage is; empty where nothing beside it tells. `time` is a share given in seconds."""


@dataclass(frozen=True, slots=True)
class Slot:
    """One number of a stage, its role where it is told, and whether a percent sign stands behind it."""

    value: float
    role: Role
    percent: bool


@dataclass(frozen=True, slots=True)
class StagesRead:
    """What one cell says: stages of equally many numbers; air temperature and duration where the cell tells them."""

    stages: tuple[tuple[Slot, ...], ...]
    air_temperature: float | None = None
    temperature_unit: str = ""
    duration_s: float | None = None


@dataclass(frozen=True, slots=True)
class _Token:
    kind: Literal["number", "word", "mark"]
    text: str
    value: float = 0.0
    unit: str = ""


_CLOCK = re.compile(r"(?<![\d:])(\d{1,3}):([0-5]\d)(?![\d:])")
_LABEL = re.compile(
    r"(?:(?<=^)|(?<=[\s|;,/>\n(\[]))(?:stage|step|phase|stufe|[ée]tape|etapa|fase|segment|schritt|st|s|p)?\s*[#.]?\d{1,2}\s*[:)=](?=\s|[^\d])",
    re.IGNORECASE,
)
_STAGE_WORD = re.compile(
    r"\b(?:stage|step|phase|stufe|[ée]tape|etapa|fase|segment|schritt|stg)\s*[#.]?\s*\d{1,2}\b\s*[:=.)-]?"
    r"|(?<![\d\w])(?<!\d )s[#.]?\d{1,2}\b\s*[:=.)-]?",
    re.IGNORECASE,
)
_MINUTES = re.compile(r"(?<![\d.])(\d{1,2})\s*(?:m|min|')\s*(\d{1,2})\s*(?:s(?:ec)?\b|\"|''|″)", re.IGNORECASE)
_RANGE = re.compile(r"(?<![\d.:])(\d{1,4}(?::[0-5]\d)?)\s*(?:-|to|bis)\s*(\d{1,4}(?::[0-5]\d)?)\s*(s\b|sec\b|%|(?<=:\d\d))")
_THEN = re.compile(
    r"\s*(?:\b(?:and then|then|dann|danach|puis|ensuite|luego|despu[ée]s|followed by|next)\b|→|⇒|➔|➜|->|=>|>+)\s*",
    re.IGNORECASE,
)
_DEGREES = re.compile(r"(?<![\d.,])(\d{2,3}(?:[.,]\d+)?)\s*(?:°|º|deg\.?\s?)\s*([CFcf])\b|(?<![\d.,/])(\d{3})\s*([CF])\b")
_TIMES = re.compile(r"(?<=[\d%])\s*[x×*@]\s*(?=\d)|(?<=\d)\s*@\s*")
_CUTS: tuple[str, ...] = (
    r"\n",
    r"\|+",
    r";",
    r">",
    r"\s*\+\s*",
    r"\)\s*[,/]?\s*\(",
    r"\]\s*[,/]?\s*\[",
    r"\s-+\s",
    r"\s/+\s",
    r"//",
    r",\s+",
    r"\.\s+",
    r"&",
    r"\s{2,}",
    r"/",
    r",",
    r"\s+",
)
_NUMBERS = re.compile(r"\d+(?:\.\d+)?|\.\d+")
_UNIT_AFTER = re.compile(
    r"\s*(%|pct\b|percent\b|prozent\b|seconds?\b|secs?\b|sek(?:unden)?\b|s\b|minutes?\b|mins?\b|min\b|″|\"|'(?!')|W\b)",
    re.IGNORECASE,
)
_MAX_STAGES = 12


@lru_cache(maxsize=REMEMBERED)
def read_stages(text: str) -> StagesRead | None:
    """Stages of a cell, or None where they can't be told apart.

    A comma between digits is tried as a separator first where digits and commas alternate, else as a decimal comma.
    """
    if text.lstrip().startswith(("[{", "{")):
        return _from_json(text)
    for commas in (".", ","):
        found = _read(_prepared(text, commas))
        if found:
            return found
    return None


def _prepared(text: str, comma: str) -> str:
    """One kind of arrow and dash; a comma between digits as a point, or left as a separator."""
    body = text.translate(dict.fromkeys(map(ord, "–—−‐‑‒"), "-"))
    body = _MINUTES.sub(lambda found: f"{found[1]}:{int(found[2]):02d} ", body)
    body = _ranges_as_lengths(_THEN.sub(" > ", body))
    if comma == "." and not re.search(r"\d,\d+,\d", body):
        body = re.sub(r"(?<=\d),(?=\d)", ".", body)
    return body.strip()


def _ranges_as_lengths(body: str) -> str:
    """`0-84s 30/80; 84-210s 90/20` with the length of each stage, where the ranges join without a gap from 0."""
    ranges = [(_place(found[1]), _place(found[2]), found) for found in _RANGE.finditer(body)]
    begins = [begin for begin, _, _ in ranges]
    ends = [end for _, end, _ in ranges]
    if not ranges or begins[0] != 0 or begins[1:] != ends[:-1] or any(end <= begin for begin, end, _ in ranges):
        return body
    for begin, end, found in reversed(ranges):
        unit = "%" if found[3] == "%" else "s"
        body = f"{body[: found.start()]}{end - begin:g}{unit} {body[found.end() :]}"
    return body


def _place(text: str) -> float:
    minutes, colon, seconds = text.partition(":")
    return int(minutes) * 60.0 + int(seconds) if colon else float(minutes)


def _read(body: str) -> StagesRead | None:
    temperature = _DEGREES.search(body)
    heat, unit = None, ""
    if temperature:
        heat = float((temperature[1] or temperature[3]).replace(",", "."))
        unit = f"°{(temperature[2] or temperature[4]).upper()}"
        body = (body[: temperature.start()] + " " + body[temperature.end() :]).strip()
        body = re.sub(r"^[\s:;,/|>-]+", "", body)
    for attempt, duration in _without_duration(body):
        stages = _cut(attempt)
        if stages:
            return StagesRead(stages, heat, unit, duration)
    return None


def _without_duration(body: str) -> Iterator[tuple[str, float | None]]:
    """The text as it is, then without a total time at its beginning or end."""
    yield body, None
    head = re.match(
        r"^\s*(?:total|time|zeit|dur[a-z]*)?\s*[:=]?\s*(\d{1,3}:[0-5]\d|\d+(?:\.\d+)?\s*(?:s|sec|sek|min)\b)\s*[:;,|/>(-]*\s*(.+)$",
        body,
        re.DOTALL | re.IGNORECASE,
    )
    if head:
        seconds = _seconds(head[1])
        yield head[2].rstrip(")"), seconds
    tail = re.match(
        r"^(.+?)[\s:;,|/>(=-]+(?:total|time|in)?\s*(\d{1,3}:[0-5]\d|\d+(?:\.\d+)?\s*(?:s|sec|sek|min)\b)\s*\)?\s*(?:total)?$",
        body,
        re.DOTALL | re.IGNORECASE,
    )
    if tail:
        yield tail[1], _seconds(tail[2])


def _seconds(text: str) -> float:
    clock = _CLOCK.search(text)
    if clock:
        return int(clock[1]) * 60.0 + int(clock[2])
    number = float(re.match(r"\d+(?:\.\d+)?", text)[0])  # type: ignore[index]  # both patterns above begin with digits
    return number * 60 if "min" in text else number


def _cut(body: str) -> tuple[tuple[Slot, ...], ...] | None:
    """Stages by the first separator that leaves each the same two or three numbers, else by words that come again."""
    unlabelled = _STAGE_WORD.sub(" \n ", _LABEL.sub(" \n ", body)) if _LABEL.search(body) or _STAGE_WORD.search(body) else body
    lists = _by_lists(body)
    if lists:
        return lists
    for text in dict.fromkeys((unlabelled, body)):
        for cut in _CUTS:
            pieces = [piece for piece in re.split(cut, text.strip(" \n()[]")) if re.search(r"\d", piece)]
            if 2 <= len(pieces) <= _MAX_STAGES:
                stages = _alike([_slots(piece) for piece in pieces])
                if stages:
                    return stages
    for text in dict.fromkeys((unlabelled, body)):
        slots = _slots(text)
        for read in (_by_repeats(slots), _by_threes(slots), _alike([slots])):
            if read:
                return read
    return None


def _alike(stages: list[tuple[Slot, ...]]) -> tuple[tuple[Slot, ...], ...] | None:
    """Stages of two or three numbers with the same roles, in one order; None where they differ."""
    roles = [tuple(slot.role for slot in stage) for stage in stages]
    if len({len(stage) for stage in stages}) != 1 or len(stages[0]) not in (2, 3):
        return None
    if any(len(set(told)) != len(told) for told in ([role for role in line if role] for line in roles)):
        return None
    if len(set(roles)) == 1:
        return tuple(stages)
    if all("" not in line for line in roles) and len({frozenset(line) for line in roles}) == 1:
        return tuple(tuple(sorted(stage, key=lambda slot: roles[0].index(slot.role))) for stage in stages)
    return None


def _by_lists(text: str) -> tuple[tuple[Slot, ...], ...] | None:
    """Numbers listed by kind: `air 30/90 mw 80/20 split 40/60`."""
    found: dict[Role, list[float]] = {}
    for word, numbers, unit in re.findall(
        r"([^\W\d_]+)\s*[:=]?\s*((?:\d+(?:\.\d+)?\s*%?\s*[/,>\-]\s*)+\d+(?:\.\d+)?)\s*(%|s\b|sec\b)?", text
    ):
        role = _role_of(word)
        if role:
            told: Role = "time" if role == "share" and unit.startswith("s") else role
            found[told] = [float(number) for number in _NUMBERS.findall(numbers)]
    if not {"air", "microwave"} <= set(found) or len({len(values) for values in found.values()}) != 1:
        return None
    return tuple(
        tuple(Slot(values[index], role, False) for role, values in found.items()) for index in range(len(found["air"]))
    )


def _by_repeats(slots: Sequence[Slot]) -> tuple[tuple[Slot, ...], ...] | None:
    """A new stage begins where a role comes again: `air 30 mw 80 84 s air 90 mw 20 126 s`."""
    if len(slots) < 4 or not slots[0].role:
        return None
    starts = [index for index, slot in enumerate(slots) if slot.role == slots[0].role]
    if len(starts) < 2:
        return None
    edges = [*starts, len(slots)]
    return _alike([tuple(slots[begin:end]) for begin, end in itertools.pairwise(edges)])


def _by_threes(slots: Sequence[Slot]) -> tuple[tuple[Slot, ...], ...] | None:
    """Nothing but numbers: three for each stage."""
    if len(slots) % 3 or len(slots) < 6:
        return None
    return _alike([tuple(slots[index : index + 3]) for index in range(0, len(slots), 3)])


def _role_of(word: str) -> Role:
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
        clock = _CLOCK.match(text, position)
        number = _NUMBERS.match(text, position)
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


def _slots(piece: str) -> tuple[Slot, ...]:
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
        role = _role_of(tokens[at].text)
        if role:
            return role
        at += step
    return ""


def _from_json(text: str) -> StagesRead | None:
    """Stages as our own files write them."""
    try:
        content: Any = json.loads(text)
    except (ValueError, RecursionError):
        return None
    program = content if isinstance(content, dict) else {}
    listed = program.get("stages") if isinstance(content, dict) else content
    if not isinstance(listed, list) or not 1 <= len(listed) <= _MAX_STAGES:
        return None
    names: tuple[tuple[str, Role], ...] = (("share_pct", "share"), ("air_speed_pct", "air"), ("microwave_pct", "microwave"))
    stages = []
    for stage in listed:
        if not isinstance(stage, dict) or any(not isinstance(stage.get(name), int | float) for name, _ in names):
            return None
        stages.append(tuple(Slot(float(stage[name]), role, True) for name, role in names))
    heat, seconds = program.get("air_temperature_c"), program.get("duration_s")
    heat_c = float(heat) if isinstance(heat, int | float) else None
    return StagesRead(
        tuple(stages), heat_c, "°C" if heat_c is not None else "", float(seconds) if isinstance(seconds, int | float) else None
    )
