"""What changed between two versions of a brief, in words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from tuner.domain import Brief
from tuner.domain.wording import unit_of

_SILENT = frozenset({"confirmed"})


def brief_differences(old: Brief, new: Brief) -> tuple[str, ...]:
    """One line for each field that differs, as 'portion, mass: 180 g, now 190 g'."""
    return tuple(_changes((), old.model_dump(mode="json"), new.model_dump(mode="json")))


def _changes(place: tuple[str, ...], old: Any, new: Any) -> Iterator[str]:
    if isinstance(old, Mapping) and isinstance(new, Mapping):
        for name in dict.fromkeys([*old, *new]):
            if name not in _SILENT:
                yield from _changes((*place, name), old.get(name), new.get(name))
    elif _part_appeared(old, new):
        for name, value in (old or new).items():
            if value is not None:
                yield from _changes((*place, name), value if old else None, value if new else None)
    elif old != new:
        yield f"{_words(place)}: {_shown(old, place)}, now {_shown(new, place)}"


def _part_appeared(old: Any, new: Any) -> bool:
    """Whether a whole group of fields came or went, such as a window."""
    return (isinstance(old, Mapping) and new is None) or (isinstance(new, Mapping) and old is None)


def _words(place: Sequence[str]) -> str:
    return ", ".join(_plain(name) for name in place)


def _plain(name: str) -> str:
    for ending in ("_g", "_mm", "_c", "_s", "_pct", "_min"):
        if name.endswith(ending) and len(name) > len(ending) + 1:
            name = name.removesuffix(ending)
            break
    return name.replace("_", " ")


def _shown(value: Any, place: Sequence[str]) -> str:
    if value is None:
        return "not given"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        unit = next((unit for name in reversed(place) if (unit := unit_of(name))), "")
        return f"{value:g} {unit}".strip()
    if isinstance(value, list):
        return "; ".join(_item(entry) for entry in value) or "none"
    return str(value)


def _item(entry: Any) -> str:
    if isinstance(entry, Mapping):
        return " ".join(str(part) for part in (entry.get("name"), entry.get("amount_g")) if part is not None)
    return str(entry)
