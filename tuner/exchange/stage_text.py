"""Stages written in one cell: `40% 30/80 | 60% 90/20`, `84s air 30 mw 80 / 126 s air 90 mw 20`, `40/30/80; 60/90/20`.

A cell is cut into stages at the first separator that leaves each stage the same two or three numbers. What the numbers are
is told by words and units beside them; bare numbers keep their place, and the column as a whole decides what places mean.
"""

from __future__ import annotations

import itertools
import json
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from tuner.exchange.number_text import REMEMBERED
from tuner.exchange.stage_slots import CLOCK, NUMBERS, Role, Slot, role_of, slots_of


@dataclass(frozen=True, slots=True)
class StagesRead:
    """What one cell says: stages of equally many numbers; air temperature and duration where the cell tells them."""

    stages: tuple[tuple[Slot, ...], ...]
    air_temperature: float | None = None
    temperature_unit: str = ""
    duration_s: float | None = None


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
    clock = CLOCK.search(text)
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
                stages = _alike([slots_of(piece) for piece in pieces])
                if stages:
                    return stages
    for text in dict.fromkeys((unlabelled, body)):
        slots = slots_of(text)
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
        role = role_of(word)
        if role:
            told: Role = "time" if role == "share" and unit.startswith("s") else role
            found[told] = [float(number) for number in NUMBERS.findall(numbers)]
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
