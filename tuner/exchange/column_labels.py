"""Which stage, place or taster a column is about: by what its heading says, or by its turn."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from tuner.exchange.fields import FIELDS
from tuner.exchange.heading_words import Said, plain, said, things_of, unit_named
from tuner.exchange.spotted_columns import ATTRIBUTE_FIELDS, Spotted
from tuner.exchange.table import Column, Table

_MOST_STAGES = 12
"""Highest number in a heading that can be a stage's; "40/60 split" tells none."""


def numbered(spotted: Sequence[Spotted], table: Table) -> list[Spotted]:
    """Stage, place and taster of each column, by what its heading says or by its turn."""
    named = _initials([_place_named(_labelled(one), table.columns[one.column]) for one in spotted])
    named = _letters_are_places(named)
    for name in ("stage", "stage_share", "stage_air", "stage_microwave"):
        named = _stages_in_turn(named, name, table)
    named = [replace(one, field="program") if one.field == "stage" and one.number is None else one for one in named]
    return _tasters(_from_one(named))


def _initials(spotted: list[Spotted]) -> list[Spotted]:
    """Columns headed B, T and M, all three of them, are browning, texture and moisture."""
    letters = {one.label.lower(): one for one in spotted if one.field == "scores" and one.label}
    letters |= {one.said.text.lower(): one for one in spotted if one.field == "ignore" and one.said.text in ("B", "T", "M")}
    if set(letters) != {"b", "t", "m"}:
        return spotted
    attribute = {letters[name[0]].column: name for name in ("browning", "texture", "moisture")}
    return [replace(one, field=attribute[one.column], label=None) if one.column in attribute else one for one in spotted]


def _labelled(one: Spotted) -> Spotted:
    number = one.said.numbers[-1] if one.said.numbers else None
    label = _as_written(one.said) or None
    if one.field in ATTRIBUTE_FIELDS or one.field in ("scores", "taster"):
        who = _name_in(one.said.text) or label
        return replace(one, number=None, label=who or (str(number) if number is not None else None))
    if one.field == "core":
        extreme = (
            next((word for word in ("min", "max") if word in plain(one.said.text)), None)
            if "extreme" in one.said.things
            else None
        )
        return replace(one, number=number, label=label or extreme)
    if FIELDS[one.field].level == "stage":
        return replace(one, number=number if number is not None and number <= _MOST_STAGES else None, label=None)
    return one


def _name_in(text: str) -> str:
    """A taster's name in the heading of a score, whatever its words may mean elsewhere: "Browning (M. Kern)"."""
    aside = re.search(r"[(\[]([^)\]]+)[)\]]", text)
    if aside is None or not re.search(r"[^\W\d_]", aside[1]) or said(aside[0]).scale or unit_named(aside[1]):
        return ""
    words = re.findall(r"[\w.\-']+", aside[1])
    kept = [
        word
        for word in words
        if not things_of(plain(word.strip("."))) & {"taster", "score", "id", "browning", "texture", "moisture"}
    ]
    return " ".join(kept) if kept and not any(char.isdigit() and len(kept) == 1 for char in kept[0]) else ""


def _place_named(one: Spotted, column: Column) -> Spotted:
    """A place named below a group of cores, whatever its word may mean elsewhere: "Kern" over "links, Mitte, rechts"."""
    leaf = re.sub(r"\s*[\[(].*?[\])]", "", column.leaf).strip()
    below = one.field == "core" and column.groups and one.number is None and leaf
    if not below or unit_named(leaf) or said(leaf).things & {"temp", "end", "mean", "extreme"}:
        return one
    return replace(one, label=leaf)


def _as_written(heading: Said) -> str:
    """The words that name nothing known, as they stand in the heading: "R. Osei" keeps its point."""
    words = list(heading.rest)
    if not words:
        return ""
    first, last = words[0], words[-1]
    if len(words) == 1:
        return first
    found = re.search(rf"\b{re.escape(first)}\b(?:[^\w\[\](){{}}]+\w+)*?[^\w\[\](){{}}]+{re.escape(last)}\b", heading.text)
    written = found[0] if found else ""
    inside = re.findall(r"[^\W\d_]+", written)
    return written if inside == words else " ".join(words)


def _letters_are_places(spotted: list[Spotted]) -> list[Spotted]:
    """`Core A, Core B, Core C`: the C is a place, not °C, when its siblings are letters too."""
    cores = [one for one in spotted if one.field == "core"]
    letters = {one.label for one in cores if one.label and len(one.label) == 1}
    if not letters:
        return spotted
    return [
        replace(one, label=one.said.bare, said=replace(one.said, unit="", bare=""))
        if one.field == "core" and one.said.bare and not one.label and one.number is None
        else one
        for one in spotted
    ]


def _stages_in_turn(spotted: list[Spotted], name: str, table: Table) -> list[Spotted]:
    """Columns of one kind without a number are stages in their order, where there are several."""
    bare = [one for one in spotted if one.field == name and one.number is None]
    if len(bare) < 2 or any(one.field == name and one.number is not None for one in spotted):
        return spotted
    if len({table.columns[one.column].part for one in bare}) > 1:
        return spotted
    turn = {one.column: number for number, one in enumerate(bare, start=1)}
    return [replace(one, number=turn[one.column]) if one.column in turn else one for one in spotted]


def _from_one(spotted: list[Spotted]) -> list[Spotted]:
    """Stages counted from 0 are counted from 1."""
    numbers = [one.number for one in spotted if FIELDS[one.field].level == "stage" and one.number is not None]
    if 0 not in numbers:
        return spotted
    return [
        replace(one, number=one.number + 1) if FIELDS[one.field].level == "stage" and one.number is not None else one
        for one in spotted
    ]


def _tasters(spotted: list[Spotted]) -> list[Spotted]:
    """Labels of score columns are tasters where they tell columns apart; else they are only words of the heading."""
    by_field = Counter(one.field for one in spotted if one.field in ATTRIBUTE_FIELDS[:3])
    own_column = any(one.field == "taster" and not one.said.numbers for one in spotted)
    spotted = _told_apart(spotted, by_field)
    labels = Counter(one.label for one in spotted if one.field in ATTRIBUTE_FIELDS[:3])
    turn: Counter[str] = Counter()
    named = []
    for one in spotted:
        if one.field == "taster":
            one = replace(one, label=None, number=one.said.numbers[-1] if one.said.numbers else None)
        elif one.field in ATTRIBUTE_FIELDS[:3]:
            turn[one.field] += 1
            several = by_field[one.field] > 1
            tells = one.label is not None and (several or labels[one.label] >= 2)
            label = one.label if tells else (str(turn[one.field]) if several and not own_column else None)
            one = replace(one, label=label)
        elif one.field == "other_score":
            one = replace(one, label=_other_name(one.said))
        named.append(one)
    return named


def _told_apart(spotted: list[Spotted], by_field: Counter[str]) -> list[Spotted]:
    """Score columns whose tasters have names that mean something else ("Browning Mark"): by what is left of the heading."""
    changed = list(spotted)
    for field in ATTRIBUTE_FIELDS[:3]:
        columns = [one for one in spotted if one.field == field]
        labels = [one.label for one in columns]
        if by_field[field] < 2 or (all(labels) and len(set(labels)) == len(labels)):
            continue
        left = [_left_of(one.said.text, field) for one in columns]
        if all(left) and len(set(left)) == len(left):
            for one, label in zip(columns, left, strict=True):
                changed[spotted.index(one)] = replace(one, label=label)
    return changed


def _left_of(text: str, field: str) -> str:
    """Words of a heading that neither name its attribute nor say "score" or "taster"."""
    words = re.findall(r"[\w.\-']+", re.sub(r"[\[(]\s*(?:[\d\s\-–.]+|/\s*\d+)\s*[\])]", " ", text))
    return " ".join(
        word
        for word in words
        if re.search(r"\w", word)
        and not things_of(plain(word.strip("."))) & {field, "taster", "id"}
        and word.lower() != "score"
    )


def _other_name(heading: Said) -> str:
    return re.sub(r"\s*[\[(].*?[\])]", "", heading.text).strip() or "other"
