"""Where one cook of a proof plan stands: in, below the limit, outside a window, waiting, off its conditions, or left out.

A completed cook of the plan's program below limit + guard is a failure whatever else is wrong with it; nobody can leave it
out. A correction that lifts such a cook changes nothing until a second person has agreed to it.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal

from tuner.domain import Brief, FixedPlan, Oven, PlanSlot, TestCook
from tuner.domain.brief import EDGE
from tuner.proof.simple_rule import judge
from tuner.safety import effective_limit, verdict
from tuner.safety.trace_evidence import minutes, series_by_place

Standing = Literal["in", "below", "outside", "waiting", "off its conditions", "left out"]

MASS_OFF_PCT = 3.0
START_OFF_C = 1.5
HOT_WITHIN_S = 300.0
"""Tolerances of mass [%] and start [K]; longest pause after which an oven still counts as hot [s]: common practice."""
INSTRUMENTS = ("core_temperature_c", "cook_loss_pct")
_UNNAMED = re.compile(r"^oven \d+$")


@dataclass(frozen=True, slots=True)
class PlanEntry:
    """One cook given to a slot.

    Attributes
    ----------
    slot, cook_id, number
        Slot of the plan, id and number of the cook.
    cook
        As it stands now.
    earlier
        Rows of the same cook that were corrected since.
    agreed
        Whether a second person agreed to the last correction.
    left_out
        Why it is left out, and who agreed; None where it is not.
    too_early
        Whether it was cooked before the plan was fixed.
    """

    slot: int
    cook_id: str
    number: int
    cook: TestCook
    earlier: tuple[TestCook, ...] = ()
    agreed: bool = False
    left_out: str | None = None
    too_early: bool = False


@dataclass(frozen=True, slots=True)
class CookStanding:
    """Where a cook stands.

    Attributes
    ----------
    y
        Lowest reading less limit less guard [K]; log10 of minutes over required minutes where the rule is a table; None
        where nothing needs killing or nothing was measured.
    oven
        The oven it was cooked on.
    why
        Reasons, in words.
    """

    entry: PlanEntry
    slot: PlanSlot
    standing: Standing
    y: float | None
    oven: str
    why: tuple[str, ...]

    @property
    def fills(self) -> bool:
        """Whether it fills its slot."""
        return self.standing in {"in", "below", "outside"}


def coldest_places(plan: FixedPlan, entries: Sequence[PlanEntry]) -> tuple[str, ...]:
    """Places of the plan's maps by their mean reading, coldest first; only maps whose places have names."""
    readings: dict[str, list[float]] = {}
    for entry in entries:
        slot = plan.slot(entry.slot)
        if slot is not None and slot.part == "map" and entry.left_out is None:
            for name, value in zip(entry.cook.probe_places or (), entry.cook.readings_c, strict=False):
                readings.setdefault(_place(name), []).append(value)
    return tuple(sorted(readings, key=lambda name: (sum(readings[name]) / len(readings[name]), name)))


def _place(name: str | int) -> str:
    return f"place {name}" if isinstance(name, int) else name


def _coldest_unread(slot: PlanSlot, cook: TestCook, coldest: str | None) -> Iterator[str]:
    """Once the coldest place is mapped, every cook reads it."""
    if coldest is None or slot.part == "map" or not cook.readings_c:
        return
    if coldest not in {_place(name) for name in cook.probe_places or ()}:
        yield f"{coldest} is the coldest place of the maps, and it is not among the places read. Name and read it."


def y_unit(brief: Brief) -> str:
    """Unit of Y for a brief."""
    return "log10" if effective_limit(brief).minutes_rule else "K"


def y_of(brief: Brief, cook: TestCook) -> float | None:
    """Y of a cook; see `CookStanding`."""
    limit = effective_limit(brief)
    if limit.minutes_rule:
        required, reference_c, z_c = limit.minutes_rule
        found = [minutes(series, limit, cook, reference_c=reference_c, z_c=z_c) for series in series_by_place(cook.trace or ())]
        return math.log10(max(min(found), 1e-9) / required) if found else None
    if limit.pass_line_c is None or not cook.readings_c:
        return None
    return round(min(cook.readings_c) - limit.pass_line_c, 9)


@dataclass(frozen=True, slots=True)
class _Bound:
    """What other cooks have settled: label -> oven, (oven, date) -> day of the plan, and the coldest place of the maps."""

    ovens: dict[str, str]
    days: dict[tuple[str, date], int]
    coldest: str | None

    def keep(self, slot: PlanSlot, cook: TestCook, on: str) -> None:
        """Keep what this cook settles."""
        self.ovens.setdefault(slot.oven, on)
        if cook.cooked_at is not None:
            self.days.setdefault((on, cook.cooked_at.date()), slot.day)


def stand_all(brief: Brief, oven: Oven, plan: FixedPlan, entries: Sequence[PlanEntry]) -> tuple[CookStanding, ...]:
    """Where every cook of a plan stands, in the order given; ovens without a name are bound by the first cook on them."""
    bound = _Bound({}, {}, next(iter(coldest_places(plan, entries)), None))
    found = []
    for entry in entries:
        slot = plan.slot(entry.slot)
        if slot is not None:
            found.append(_stand(brief, oven, plan, entry, slot, bound))
    return tuple(found)


def _stand(brief: Brief, oven: Oven, plan: FixedPlan, entry: PlanEntry, slot: PlanSlot, bound: _Bound) -> CookStanding:
    on = entry.cook.oven_serial or oven.serial or oven.name

    def at(standing: Standing, *why: str) -> CookStanding:
        return CookStanding(entry, slot, standing, y_of(brief, entry.cook), on, why)

    if _below(brief, plan, entry.cook):
        return at("below", *verdict(brief, entry.cook).reasons)
    if not entry.agreed and any(_below(brief, plan, row) for row in entry.earlier):
        return at("below", "It was below the limit as first logged; a second person has not agreed to the correction.")
    if entry.left_out is not None:
        return at("left out", entry.left_out)
    off = [*_off(plan, entry, slot), *_wrong_oven(slot, on, bound.ovens), *_wrong_day(slot, entry.cook, on, bound.days)]
    if off:
        return at("off its conditions", *off)
    bound.keep(slot, entry.cook, on)
    missing = [*_missing(brief, plan, slot, entry.cook), *_coldest_unread(slot, entry.cook, bound.coldest)]
    if missing:
        return at("waiting", *missing)
    outside = [name for name in judge(brief, entry.cook).outside if name in INSTRUMENTS]
    if _for_quality(plan, slot) and outside:
        return at("outside", *(f"{name} is outside its window" for name in outside))
    return at("in")


def _for_quality(plan: FixedPlan, slot: PlanSlot) -> bool:
    """Whether every window must be met: cooks of the brief's own portion, and all cooks of a light plan."""
    return slot.part == "over ovens" or plan.strength == "light"


def _below(brief: Brief, plan: FixedPlan, cook: TestCook) -> bool:
    if cook.completed is False or cook.done_program is None or cook.done_program.key != plan.program.key:
        return False
    return verdict(brief, cook).status == "not_safe"


def _off(plan: FixedPlan, entry: PlanEntry, slot: PlanSlot) -> Iterator[str]:
    cook, worst = entry.cook, slot.part == "worst corner"
    if entry.too_early:
        yield "It was cooked before the plan was fixed."
    other = next((row.purpose for row in (*entry.earlier, cook) if row.purpose != "proof"), None)
    if other is not None:
        yield f"Its purpose is or was {other}, not proof: only cooks meant for the proof count."
    if cook.completed is False:
        yield "It was interrupted."
    if cook.done_program is None or cook.done_program.key != plan.program.key:
        yield "It was another program than the plan's."
    if cook.mass_g is not None:
        off_pct = 100.0 * (cook.mass_g - slot.mass_g) / slot.mass_g
        if off_pct < -MASS_OFF_PCT - EDGE or (off_pct > MASS_OFF_PCT + EDGE and not worst):
            yield f"Mass {cook.mass_g:g} g; the plan asks for {slot.mass_g:g} g."
    if cook.start_temperature_c is not None:
        off_c = cook.start_temperature_c - slot.start_temperature_c
        if off_c > START_OFF_C + EDGE or (off_c < -START_OFF_C - EDGE and not worst):
            yield f"Start {cook.start_temperature_c:g} °C; the plan asks for {slot.start_temperature_c:g} °C."
    load = cook.load or 1
    if load < slot.load or (load > slot.load and not worst):
        yield f"Load {load}; the plan asks for {slot.load}."
    if slot.hot and cook.seconds_since_last_cook is not None and cook.seconds_since_last_cook > HOT_WITHIN_S:
        pause = cook.seconds_since_last_cook
        yield f"{pause:g} s after the last cook; the plan asks for a hot oven, at most {HOT_WITHIN_S:g} s."


def _wrong_oven(slot: PlanSlot, on: str, bound: Mapping[str, str]) -> Iterator[str]:
    wanted = bound.get(slot.oven, slot.oven)
    if slot.oven not in bound and _UNNAMED.match(slot.oven):
        taken = next((label for label, name in bound.items() if name == on), None)
        if taken is not None:
            yield f"Oven {on} is already {taken} of the plan; this cook needs a further one."
    elif wanted != on:
        yield f"Cooked on oven {on}; the plan asks for {wanted}."


def _wrong_day(slot: PlanSlot, cook: TestCook, on: str, days: Mapping[tuple[str, date], int]) -> Iterator[str]:
    """On one oven, cooks of different days of the plan are cooked on different dates."""
    if cook.cooked_at is None:
        return
    day = days.get((on, cook.cooked_at.date()), slot.day)
    if day != slot.day:
        yield f"Oven {on} cooked day {day} of the plan on that date; day {slot.day} needs another date."


def _missing(brief: Brief, plan: FixedPlan, slot: PlanSlot, cook: TestCook) -> Iterator[str]:
    decided = verdict(brief, cook)
    if decided.status == "unknown":
        yield from decided.reasons
    limit = effective_limit(brief)
    if not limit.none and len(cook.readings_c) < slot.places:
        yield f"{len(cook.readings_c)} of {slot.places} places are read."
    if limit.minutes_rule and y_of(brief, cook) is None:
        yield "The limit is in equivalent minutes: the temperature trace is missing."
    if cook.mass_g is None:
        yield "mass_g is missing."
    if cook.start_temperature_c is None:
        yield "start_temperature_c is missing."
    if slot.hot and cook.seconds_since_last_cook is None:
        yield "seconds_since_last_cook is missing: it shows that the oven was hot."
    if _for_quality(plan, slot) and "cook_loss_pct" in judge(brief, cook).missing:
        yield "mass_out_g is missing."
    if slot.part == "worst corner":
        for name, value in (("cook", cook.cook), ("lot", cook.lot)):
            if not value:
                yield f"{name} is missing: the worst corner takes two people and two lots."
    if cook.cooked_at is None:
        yield "cooked_at is missing."
