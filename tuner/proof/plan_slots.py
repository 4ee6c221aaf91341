"""The cooks of a proof plan: which there are, at what condition, and in what order.

Blocks are days and ovens; within a block the order is drawn by the seed, cooks on a hot oven last. Parts that ask for "none
below" get, for each further attempt, as many cooks as halve what they let through at the plan's coverage.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from tuner.domain import Brief, InvalidDocument, PlanPartName, PlanSetting, PlanSlot, PlanStrength
from tuner.domain.portion import START_RANGES_C
from tuner.proof.plans import strength_of
from tuner.proof.tolerance import distribution_free_cooks
from tuner.proof.two_level import two_level_runs

MOST_ATTEMPTS = 3
RISK = 0.05
MAP_PLACES = 9
USUAL_MASS_PCT = 5.0
"""Service tolerance of the mass where neither setting nor brief names one (common practice, no source) [%]."""
USUAL_COLDER_C = 3.0
"""How much colder than the brief a portion may come from the chiller, likewise [K]."""

_ORDER: tuple[PlanStrength, ...] = ("light", "standard", "full")
COVERAGE = {"light": 0.90, "standard": 0.90, "full": 0.95}
DAYS = {"light": 2, "standard": 2, "full": 3}
_FLEET = {"light": (2, 3), "standard": (3, 4), "full": (6, 5)}
_MAPS = {"light": 0, "standard": 2, "full": 3}
WORST_CORNER_COOKS = {"light": 0, "standard": 10, "full": 15}


def confidence_of(attempt: int) -> float:
    """Confidence that an attempt asks for: 0.95, 0.975, 0.9875.

    Raises
    ------
    InvalidDocument
        If there is no such attempt.
    """
    if not 1 <= attempt <= MOST_ATTEMPTS:
        raise InvalidDocument(
            [f"attempt is {attempt}. A program has {MOST_ATTEMPTS} attempts at its proof at most. Change the program."]
        )
    return 1.0 - RISK * 0.5 ** (attempt - 1)


def checked_setting(brief: Brief, setting: PlanSetting) -> PlanSetting:
    """The setting with the worst corner filled in, refused where it is weaker than it may be."""
    asked, portion = strength_of(brief), brief.portion
    strength = setting.strength or asked
    if _ORDER.index(strength) < _ORDER.index(asked):
        raise InvalidDocument(
            [f"strength is {strength!r}. This food class asks for {asked!r}. A plan may be stronger, never weaker."]
        )
    tolerance = portion.tolerance
    colder = (tolerance.start_temperature_c if tolerance else None) or USUAL_COLDER_C
    heavier = (tolerance.mass_pct if tolerance else None) or USUAL_MASS_PCT
    coldest = max(portion.start_temperature_c - colder, START_RANGES_C[portion.start_state][0])
    filled = setting.model_copy(
        update={
            "strength": strength,
            "coldest_c": coldest if setting.coldest_c is None else setting.coldest_c,
            "heaviest_g": round(portion.mass_g * (1 + heavier / 100), 1) if setting.heaviest_g is None else setting.heaviest_g,
        }
    )
    problems = []
    if filled.coldest_c is not None and filled.coldest_c > portion.start_temperature_c:
        problems.append(
            f"coldest_c is {filled.coldest_c:g} °C, warmer than the brief's portion. Give the coldest start allowed."
        )
    if filled.heaviest_g is not None and filled.heaviest_g < portion.mass_g:
        problems.append(f"heaviest_g is {filled.heaviest_g:g} g, lighter than the brief's portion. Give the heaviest allowed.")
    if len(set(setting.ovens)) != len(setting.ovens):
        problems.append("ovens names one oven twice. Each oven counts once. Correct the list.")
    if problems:
        raise InvalidDocument(problems)
    return filled


class SlotMaker:
    """Makes the slots of one plan."""

    def __init__(self, brief: Brief, setting: PlanSetting, attempt: int) -> None:
        self.brief, self.setting, self.attempt = brief, setting, attempt
        self.strength: PlanStrength = setting.strength or strength_of(brief)
        ovens, each = (3, 10) if setting.three_ovens and self.strength == "full" else _FLEET[self.strength]
        if self.strength != "full":
            each += math.ceil(_further_cooks(attempt, COVERAGE[self.strength]) / ovens)
        self.fleet = (ovens, each)
        named = list(setting.ovens[:ovens])
        self.ovens = named + [f"oven {number}" for number in range(len(named) + 1, ovens + 1)]
        self.people = setting.people or ("person 1", "person 2")
        self.lots = setting.lots or ("lot 1", "lot 2")

    def _slot(self, part: PlanPartName, condition: str, day: int, oven: str, **more: object) -> PlanSlot:
        portion = self.brief.portion
        fields = {
            "number": 1,
            "part": part,
            "condition": condition,
            "day": day,
            "oven": oven,
            "start_temperature_c": portion.start_temperature_c,
            "mass_g": portion.mass_g,
            "person": self.people[0],
            "lot": self.lots[0],
            "places": self.brief.places,
        }
        return PlanSlot.model_validate({**fields, **more})

    def all(self) -> Iterator[PlanSlot]:
        """All slots, not yet in order."""
        weakest, days = self.ovens[0], DAYS[self.strength]
        for _ in range(_MAPS[self.strength]):
            places = max(MAP_PLACES, self.brief.places)
            yield self._slot("map", f"brief's portion, {places} places", 1, weakest, places=places)
        yield from self._stress(days)
        worst = {
            "start_temperature_c": self.setting.coldest_c,
            "mass_g": self.setting.heaviest_g,
            "load": self.setting.greatest_load,
            "hot": True,
        }
        words = "weakest oven, hot, coldest and heaviest portion, greatest load"
        for index in range(WORST_CORNER_COOKS[self.strength]):
            yield self._slot("worst corner", words, index % days + 1, weakest, **worst)
        if WORST_CORNER_COOKS[self.strength]:
            wanted = distribution_free_cooks(COVERAGE[self.strength], confidence_of(self.attempt))
            for _ in range(wanted - WORST_CORNER_COOKS[self.strength]):
                yield self._slot("worst corner", words, days + 1, weakest, contingent=True, **worst)
        ovens, each = self.fleet
        scored_each = math.ceil(6 / ovens) if self.strength != "full" else 2
        for number, oven in enumerate(self.ovens):
            for index in range(each):
                day = (index + number) % days + 1
                yield self._slot("over ovens", "brief's portion", day, oven, scored=index < scored_each)

    def _stress(self, days: int) -> Iterator[PlanSlot]:
        cold = {"start_temperature_c": self.setting.coldest_c}
        heavy = {"mass_g": self.setting.heaviest_g}
        full = {"load": self.setting.greatest_load}
        weakest = self.ovens[0]
        if self.strength == "light":
            yield self._slot("stress", "coldest and heaviest portion", 1, weakest, **cold, **heavy)
            yield self._slot("stress", "hot oven at the greatest load", 2, weakest, hot=True, **full)
        elif self.strength == "standard":
            yield self._slot("stress", "coldest portion", 1, weakest, **cold)
            yield self._slot("stress", "heaviest portion", 1, weakest, **heavy)
            yield self._slot("stress", "greatest load", 2, weakest, **full)
            yield self._slot("stress", "hot oven", 2, weakest, hot=True)
        else:
            for index, levels in enumerate(two_level_runs()):
                yield self.at_levels(levels, index % days + 1)

    def at_levels(self, levels: dict[str, int], day: int) -> PlanSlot:
        """A cook at the levels of a two-level run."""
        portion, setting = self.brief.portion, self.setting
        reach_c = portion.start_temperature_c - (setting.coldest_c or portion.start_temperature_c)
        reach_g = (setting.heaviest_g or portion.mass_g) - portion.mass_g
        warmest = START_RANGES_C[portion.start_state][1]
        values = {
            "start_temperature_c": min(portion.start_temperature_c - levels["start"] * reach_c, warmest),
            "mass_g": round(portion.mass_g + levels["mass"] * reach_g, 1),
            "load": setting.greatest_load if levels["load"] > 0 else 1,
            "hot": levels["hot"] > 0,
        }
        oven = self.ovens[0] if levels["power"] >= 0 else self.ovens[-1]
        return self._slot("stress", _in_words(levels), day, oven, **values)

    def in_order(self) -> tuple[PlanSlot, ...]:
        """Slots in the order of cooking: by day, maps first, then ovens in random order, cold cooks before hot ones within.

        People and lots take turns along the order, so that every block has them all.
        """
        rng = np.random.default_rng(self.setting.seed)
        slots = list(self.all())
        chance = {id(slot): rng.random() for slot in slots}
        turn = {(day, oven): rng.random() for day in range(1, 6) for oven in self.ovens}
        slots.sort(key=lambda slot: (slot.day, slot.part != "map", turn[slot.day, slot.oven], slot.hot, chance[id(slot)]))
        seen: dict[str, int] = {}
        ordered = []
        for number, slot in enumerate(slots, 1):
            place = seen[slot.part] = seen.get(slot.part, -1) + 1
            who = self.people[place % len(self.people)]
            lot = self.lots[place // len(self.people) % len(self.lots)]
            ordered.append(slot.model_copy(update={"number": number, "person": who, "lot": lot}))
        return tuple(ordered)

    def remarks(self) -> Iterator[str]:
        """What must be said with the plan."""
        if self.setting.three_ovens and self.strength == "full":
            yield "Three ovens of ten cooks instead of six of five: the same test, but weaker evidence about further ovens."
        if self.attempt > 1:
            yield f"Attempt {self.attempt} at this program, with a stricter factor."
        unnamed = sum(oven not in self.setting.ovens for oven in self.ovens)
        if unnamed:
            yield f"{unnamed} of {len(self.ovens)} ovens are not named yet; the first cook on one names it."


def robustness_runs(brief: Brief, setting: PlanSetting) -> tuple[PlanSetting, tuple[PlanSlot, ...]]:
    """The ten robustness runs of a full plan's stress part by themselves, in an order drawn by the seed.

    Returns
    -------
    tuple
        The setting with its worst corner filled in, and the runs, numbered in order.

    Raises
    ------
    InvalidDocument
        If the worst corner is easier than the brief.
    """
    filled = checked_setting(brief, setting.model_copy(update={"strength": "full"}))
    made = SlotMaker(brief, filled, 1)
    runs = [made.at_levels(levels, 1) for levels in two_level_runs()]
    order = np.random.default_rng(setting.seed).permutation(len(runs))
    return filled, tuple(runs[place].model_copy(update={"number": number}) for number, place in enumerate(order, 1))


def _further_cooks(attempt: int, coverage: float) -> int:
    """Further "none below" cooks that halve, at the share 1 - coverage below, what passes, once for each further attempt."""
    return math.ceil((attempt - 1) * math.log(2.0) / -math.log(coverage))


def _in_words(levels: dict[str, int]) -> str:
    words = {
        "mass": ("light", "heavy"),
        "start": ("warm start", "cold start"),
        "load": ("one portion", "greatest load"),
        "power": ("strong oven", "weak oven"),
        "hot": ("not hot", "hot"),
    }
    said = [words[name][level > 0] for name, level in levels.items() if level]
    return ", ".join(["centre", *said] if len(said) == 1 else said)
