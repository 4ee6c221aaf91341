"""The unit of values written without one: told by the heading, by the file, by the only size that fits, else asked.

Sizes are the trade's usual ones (common practice, no source), narrowed by the brief and the oven. A value without a unit is
taken as °C, g or s where it fits so and not otherwise; nothing is turned from °F, ounces or minutes without a mark in the
file or an answer.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from tuner.exchange.asking import Asker, listed
from tuner.exchange.fields import FIELDS
from tuner.exchange.mapping import Expected
from tuner.exchange.quantity_text import CLOCK_UNITS, UNITS, MeasureKind, Typed, converted

_OWN: dict[MeasureKind, str] = {"temperature": "°C", "mass": "g", "duration": "s"}
_RIVALS: dict[MeasureKind, tuple[str, ...]] = {"temperature": ("°F",), "mass": ("oz", "kg", "lb"), "duration": ("min",)}
_LONGEST_S = 7200.0
"""Longest program and rest that can be kept [s]."""

_FITS = 0.8
"""Share of a column's values that must be usual in a unit for the unit to fit."""


@dataclass(frozen=True, slots=True)
class Bare:
    """A column whose values are read but whose unit is still open.

    Attributes
    ----------
    column, heading, field
        Which column, its heading, and what it holds.
    told
        Unit that the heading or the file tells, empty where neither does.
    typed
        The values as typed.
    shown
        Some of them as written.
    """

    column: int
    heading: str
    field: str
    told: str
    typed: tuple[Typed, ...]
    shown: tuple[str, ...]


def usual(field: str, expected: Expected) -> tuple[float, float]:
    """Lowest and highest usual value of a field, in the project's units."""
    if field == "air_temperature":
        low, high = expected.air_temperature_c or (150.0, 300.0)
        return low - 30, high + 30
    if field == "start_temperature":
        start = expected.start_temperature_c
        return (-26.0, 28.0) if start is None else (start - 8, start + 8)
    if field == "core":
        return 30.0, 106.0
    if field == "mass_in":
        return (40.0, 3000.0) if expected.mass_g is None else (expected.mass_g * 0.3, expected.mass_g * 3.5)
    if field == "mass_out":
        return (25.0, 3000.0) if expected.mass_g is None else (expected.mass_g * 0.2, expected.mass_g * 3.5)
    if field == "duration":
        return (20.0, 1500.0) if expected.duration_s is None else (expected.duration_s[0] * 0.9, expected.duration_s[1] * 1.1)
    if field == "rest":
        return 10.0, 1200.0
    if field in ("held", "serving_age"):
        return 0.0, 3600.0
    if field == "seconds_since_last_cook":
        return 60.0, 14400.0
    return 0.0, 100.0


def fit(bare: Bare, unit: str, expected: Expected) -> float:
    """Share of a column's unmarked values that would be usual in a unit."""
    kind = FIELDS[bare.field].kind
    low, high = usual(bare.field, expected)
    unmarked = [typed for typed in bare.typed if not typed.unit]

    def suits(value: float) -> bool:
        return low - 1e-9 <= converted(Typed(value, ""), kind, unit) <= high + 1e-9  # type: ignore[arg-type]  # a measured field

    hits = sum(1 for typed in unmarked if suits(typed.value) or (typed.other is not None and suits(typed.other)))
    return hits / len(unmarked) if unmarked else 0.0


def choose_units(columns: Sequence[Bare], expected: Expected, asker: Asker) -> dict[int, str | None]:
    """Unit of each column, None where it stays in doubt until somebody answers.

    Columns of one kind are settled in the order: told, fitting one unit only, then in the light of the others.
    """
    chosen: dict[int, str | None] = {}
    for kind, own in _OWN.items():
        group = [bare for bare in columns if FIELDS[bare.field].kind == kind]
        doubtful: list[Bare] = []
        for bare in group:
            unit = _plainly(bare, kind, own, expected)
            if unit is None:
                doubtful.append(bare)
            else:
                chosen[bare.column] = unit
        seen = {unit for bare in group if (unit := _system(bare, chosen.get(bare.column)))}
        settled = [bare for bare in doubtful if _told_by_others(bare, kind, own, seen, expected)]
        chosen.update((bare.column, own) for bare in settled)
        open_now = [bare for bare in doubtful if bare not in settled]
        _ask(open_now, kind, own, seen, expected, chosen, asker)
    return chosen


def _system(bare: Bare, unit: str | None) -> str:
    """Unit that a column shows to be in use in this file."""
    marked = next((typed.unit for typed in bare.typed if typed.unit and typed.unit not in CLOCK_UNITS), "")
    return marked or (unit or "")


def _plainly(bare: Bare, kind: MeasureKind, own: str, expected: Expected) -> str | None:
    """The unit where there is no doubt: all marked, told and fitting, or fitting nothing but our own."""
    unmarked = [typed for typed in bare.typed if not typed.unit]
    clocks = [typed for typed in bare.typed if typed.unit in CLOCK_UNITS]
    if kind == "duration" and clocks and _odd_clocks(bare, clocks, expected):
        return "mm:ss:00" if _only_minutes(bare, clocks, expected) else None
    if not unmarked:
        return bare.told if bare.told in (*UNITS[kind], *CLOCK_UNITS) else own
    if bare.told in UNITS[kind]:
        rivals = {"temperature": ("°C", "°F"), "mass": ("oz",), "duration": ("s", "min")}[
            kind
        ]  # what headings are mistaken for
        contradicted = fit(bare, bare.told, expected) < 0.2 and any(fit(bare, rival, expected) >= _FITS for rival in rivals)
        return None if contradicted and len(unmarked) >= 2 else bare.told
    if bare.told in CLOCK_UNITS:
        return None if kind == "duration" else own
    if kind == "duration" and _could_be_points(unmarked):
        return None
    fitting = [rival for rival in _RIVALS[kind] if fit(bare, rival, expected) >= 0.5]
    return own if fit(bare, own, expected) >= _FITS and not fitting else None


def _odd_clocks(bare: Bare, clocks: Sequence[Typed], expected: Expected) -> bool:
    """Three-part clock forms that end in :00 and would last for hours: minutes and seconds with zeros behind."""
    _, high = usual(bare.field, expected)
    three = [typed for typed in clocks if typed.unit == "h:mm:ss"]
    return (
        bool(three)
        and all(typed.value % 60 == 0 for typed in three)
        and sum(typed.value > max(high, 3599) for typed in three) * 2 > len(three)
    )


def _only_minutes(bare: Bare, clocks: Sequence[Typed], expected: Expected) -> bool:
    """Whether three-part forms are beyond what can be set as hours, and usual as minutes."""
    low, high = usual(bare.field, expected)
    most = high if bare.field == "duration" and expected.duration_s is not None else _LONGEST_S
    three = [typed.value for typed in clocks if typed.unit == "h:mm:ss"]
    return len(three) == len(bare.typed) and all(value > most and low <= value / 60 <= high for value in three)


def _could_be_points(unmarked: Sequence[Typed]) -> bool:
    """3.30 for three minutes and a half, or for 3.3 minutes."""
    parts = [typed.value % 1 for typed in unmarked if typed.value < 60]
    return any(part > 1e-9 for part in parts)


def _told_by_others(bare: Bare, kind: MeasureKind, own: str, seen: set[str], expected: Expected) -> bool:
    """Whether our own unit fits, and nothing in the file uses another."""
    fitting = seen == {own} and not bare.told and fit(bare, own, expected) >= _FITS
    return fitting and kind != "duration"


def options(bare: Bare, kind: MeasureKind, own: str, seen: set[str], expected: Expected) -> list[str]:
    """Units worth offering, the most likely first."""
    units = list(UNITS[kind]) if kind == "mass" else [own, *_RIVALS[kind]]
    preferred = seen - {own}

    def rank(unit: str) -> tuple[float, bool, bool, int]:
        return (round(fit(bare, unit, expected), 3), unit in preferred or unit == bare.told, unit == own, -units.index(unit))

    return sorted(units, key=rank, reverse=True)


def _ask(
    columns: Sequence[Bare],
    kind: MeasureKind,
    own: str,
    seen: set[str],
    expected: Expected,
    chosen: dict[int, str | None],
    asker: Asker,
) -> None:
    """One question for columns that lean the same way, so that nobody answers the same thing twice."""
    groups: dict[tuple[str, ...], list[Bare]] = {}
    for bare in columns:
        if kind == "duration":
            offered = tuple(_duration_choices(bare, expected))
        else:
            offered = tuple(options(bare, kind, own, seen, expected))
        groups.setdefault(offered, []).append(bare)
    for offered, bares in groups.items():
        names = " and ".join(f"{bare.heading!r} ({listed([*bare.shown])})" for bare in bares)
        code = "unit:" + "+".join(str(bare.column) for bare in bares)
        text = _question(kind, names, bares, offered)
        answer = asker.ask(code, text, offered, columns=[bare.column for bare in bares])
        for bare in bares:
            chosen[bare.column] = answer


def _question(kind: MeasureKind, names: str, bares: Sequence[Bare], offered: Sequence[str]) -> str:
    if kind == "duration":
        return f"How are the times in {names} meant?"
    told = next((bare.told for bare in bares if bare.told), "")
    if told:
        return f"The heading says {told}, but the values of {names} would be unusual so. Which unit is it?"
    return f"No unit stands with {names}. Which is it: {', '.join(offered[:-1])} or {offered[-1]}?"


def _duration_choices(bare: Bare, expected: Expected) -> list[str]:
    """Ways in which bare or clock-like times can be meant, the most likely first."""
    if any(typed.unit == "h:mm:ss" for typed in bare.typed) and all(typed.unit in CLOCK_UNITS for typed in bare.typed):
        return ["mm:ss:00", "h:mm:ss"]
    plain = [typed.value for typed in bare.typed if not typed.unit]
    points = [value for value in plain if abs(value - round(value)) > 1e-9]
    as_points = bool(points) and all(
        round(value % 1 * 100, 6) < 60 and abs(value * 100 - round(value * 100)) < 1e-6 for value in plain
    )
    halves = bool(points) and all(round(value % 1, 6) in (0, 0.25, 0.5, 0.75) for value in plain)
    shown_two = any(re.search(r"[.,]\d0\b", text) for text in bare.shown)
    ranked = ["min", "min.ss", "s"] if halves and not shown_two else ["min.ss", "min", "s"]
    if not as_points:
        ranked = ["min", "s"]
    if fit(bare, "s", expected) >= _FITS:
        ranked = ["s", *[unit for unit in ranked if unit != "s"]]
    return ranked


def outliers(
    bare: Bare, unit: str, expected: Expected, *, skip: Callable[[int], bool] = lambda _: False
) -> list[tuple[int, float, float]]:
    """Single values that are unusual in the column's unit and usual in the other scale: place, value in °C both ways.

    Only for temperatures: one reading typed in Fahrenheit among others in Celsius, or the other way round.
    """
    if FIELDS[bare.field].kind != "temperature" or unit not in ("°C", "°F"):
        return []
    other = "°F" if unit == "°C" else "°C"
    low, high = usual(bare.field, expected)
    found = []
    for place, typed in enumerate(bare.typed):
        if typed.unit or skip(place):
            continue
        as_told, as_other = converted(typed, "temperature", unit), converted(typed, "temperature", other)
        wild = as_told > high + (5 if bare.field == "core" else 60) or as_told < low - (5 if bare.field == "core" else 60)
        if wild and low <= as_other <= high:
            found.append((place, as_told, as_other))
    return found


def same_unit_by_ratio(before: Mapping[int, float], after: Mapping[int, Typed], units: Sequence[str]) -> str | None:
    """Unit of masses after cooking that leaves a possible part of the mass before, where only one does."""
    fitting = []
    for unit in units:
        ratios = [converted(after[row], "mass", unit) / before[row] for row in after if row in before and before[row] > 0]
        if ratios and sum(1 for ratio in ratios if 0.4 <= ratio <= 1.15) >= 0.8 * len(ratios):
            fitting.append(unit)
    return fitting[0] if len(fitting) == 1 else None
