"""Causes in a chef's words: evidence for and against, and what to check before anything is changed."""

from __future__ import annotations

import numpy as np

from tuner.domain import Brief, Oven, TestCook
from tuner.learning.goals import CORE, LOSS
from tuner.learning.shares_of_blame import Blame
from tuner.learning.suspects import CauseName, Facts

_CHECKS: dict[CauseName, tuple[str, ...]] = {
    "program": ("Change the program; the rules below say how.",),
    "keyed_in": ("Key in the program as ordered and cook again.",),
    "start_temperature": ("Measure the start temperature of the next portion at its middle, and keep to the brief's.",),
    "portion_mass": ("Weigh the next portion and keep to the brief's mass.",),
    "rest": ("Time the rest, and keep the cover as the brief says.",),
    "reading": (
        "Check the thermometer in ice water and in boiling water.",
        "Read again at the coldest place found, with the tip in the middle.",
    ),
    "oven": ("Run an oven check, cold and hot.", "Look at voltage, filters and the time since the last cook."),
    "lot": ("Ask for the lot's sugar, moisture, glaze and allergens.", "Cook a portion of the old lot beside it."),
    "panel": ("Taste against a hidden benchmark portion.", "Score again with the usual tasters."),
    "load": ("Cook one portion alone, or make a program of its own for this load.",),
    "interruption": ("Cook again without a break.",),
    "chance": ("Cook the same program again before changing anything.",),
}


def checks_for(cause: CauseName) -> tuple[str, ...]:
    """What to check or do first if this is the cause."""
    return _CHECKS[cause]


def evidence_for(
    cause: CauseName, brief: Brief, oven: Oven, cook: TestCook, facts: Facts, blame: Blame, *, favour: bool
) -> tuple[str, ...]:
    """What speaks for a cause (`favour`) or against it."""
    found = _FINDERS[cause](brief, oven, cook, facts, blame)
    return tuple(text for text, speaks_for in found if speaks_for is favour)


Findings = list[tuple[str, bool]]


def _surprised(blame: Blame, column: int) -> bool:
    value = blame.surprise[column]
    return bool(np.isfinite(value) and abs(value) > 1.5)


def _program(brief: Brief, oven: Oven, cook: TestCook, facts: Facts, blame: Blame) -> Findings:
    del brief, oven, cook, facts
    if np.nanmax(np.abs(blame.surprise), initial=0.0) < 1.5:
        return [("The model expected this result of this program.", True)]
    return [("The cooks before made the model expect another result of this program.", False)]


def _keyed_in(brief: Brief, oven: Oven, cook: TestCook, facts: Facts, blame: Blame) -> Findings:
    del brief, oven, facts, blame
    if cook.program_set is not None and cook.program is not None and cook.program_set.key != cook.program.key:
        return [("Another program was keyed in than was ordered.", True)]
    return [("The program was keyed in as ordered.", False)]


def _start(brief: Brief, oven: Oven, cook: TestCook, facts: Facts, blame: Blame) -> Findings:
    del oven, facts, blame
    if cook.start_temperature_c is None:
        return [("The start temperature was not written down.", True)]
    away = cook.start_temperature_c - brief.portion.start_temperature_c
    text = f"The portion started at {cook.start_temperature_c:g} °C; the brief says {brief.portion.start_temperature_c:g} °C."
    return [(text, abs(away) > 2.0)]


def _mass(brief: Brief, oven: Oven, cook: TestCook, facts: Facts, blame: Blame) -> Findings:
    del oven, facts, blame
    if cook.mass_g is None:
        return [("The portion was not weighed.", True)]
    away = cook.mass_g / brief.portion.mass_g - 1.0
    return [(f"The portion weighed {cook.mass_g:g} g; the brief says {brief.portion.mass_g:g} g.", abs(away) > 0.05)]


def _rest(brief: Brief, oven: Oven, cook: TestCook, facts: Facts, blame: Blame) -> Findings:
    del oven, facts, blame
    if cook.rest_s is None:
        return [("The rest was not written down.", True)]
    return [(f"It rested {cook.rest_s:g} s; the brief asks for {brief.rest_s:g} s.", abs(cook.rest_s - brief.rest_s) > 15)]


def _reading(brief: Brief, oven: Oven, cook: TestCook, facts: Facts, blame: Blame) -> Findings:
    del brief, oven
    found = []
    if facts.odd_place:
        found.append(("One place reads far from the others.", True))
    if not facts.thermometer_checked:
        found.append(("No check of the thermometer within a day is written down.", True))
    others = [column for column in range(1, 5) if np.isfinite(blame.surprise[column])]
    if _surprised(blame, CORE) and others:
        alone = not any(_surprised(blame, column) for column in others)
        text = "Only the core is unlike its forecast." if alone else "More than the core is unlike its forecast."
        found.append((text, alone))
    del cook
    return found


def _oven(brief: Brief, oven: Oven, cook: TestCook, facts: Facts, blame: Blame) -> Findings:
    del brief, oven, cook
    found = []
    if facts.other_oven:
        found.append(("It was cooked on another oven.", True))
    if facts.oven_hot:
        found.append(("The oven was still hot from the cook before.", True))
    both = _surprised(blame, CORE) and (_surprised(blame, LOSS) or any(_surprised(blame, k) for k in (1, 2, 3)))
    if both:
        found.append(("The core and other attributes are unlike their forecasts together.", True))
    elif np.isfinite(blame.surprise[CORE]) and not _surprised(blame, CORE):
        found.append(("The core is as forecast.", False))
    return found


def _lot(brief: Brief, oven: Oven, cook: TestCook, facts: Facts, blame: Blame) -> Findings:
    del brief, oven
    if cook.lot is None:
        return [("No lot is written down.", True)]
    found = [("The lot is another one than in the cook before.", True) if facts.new_lot else ("The lot is the same.", False)]
    if _surprised(blame, CORE):
        found.append(("The core is unlike its forecast, which a lot seldom does.", False))
    return found


def _panel(brief: Brief, oven: Oven, cook: TestCook, facts: Facts, blame: Blame) -> Findings:
    del brief, oven, cook
    found = []
    if facts.new_tasters:
        found.append((f"{', '.join(facts.new_tasters)} tasted for the first time.", True))
    if facts.odd_taster is not None:
        found.append((f"{facts.odd_taster} marked far from the others.", True))
    if _surprised(blame, CORE) or _surprised(blame, LOSS):
        found.append(("Instruments are unlike their forecasts too.", False))
    elif any(_surprised(blame, k) for k in (1, 2, 3)):
        found.append(("Scores moved while the instruments stayed.", True))
    return found


def _load(brief: Brief, oven: Oven, cook: TestCook, facts: Facts, blame: Blame) -> Findings:
    del brief, oven, blame
    return [("Several portions were cooked together.", True)] if facts.several_portions and cook.load else []


def _interruption(brief: Brief, oven: Oven, cook: TestCook, facts: Facts, blame: Blame) -> Findings:
    del brief, oven, cook, blame
    return [("The cook was interrupted.", True)] if facts.interrupted else []


def _chance(brief: Brief, oven: Oven, cook: TestCook, facts: Facts, blame: Blame) -> Findings:
    del brief, oven, cook, facts
    worst = float(np.nanmax(np.abs(blame.surprise), initial=0.0))
    if worst < 2.0:
        return [("Portions and measurements of one program differ by as much.", True)]
    return [("Portions and measurements of one program seldom differ by as much.", False)]


_FINDERS = {
    "program": _program,
    "keyed_in": _keyed_in,
    "start_temperature": _start,
    "portion_mass": _mass,
    "rest": _rest,
    "reading": _reading,
    "oven": _oven,
    "lot": _lot,
    "panel": _panel,
    "load": _load,
    "interruption": _interruption,
    "chance": _chance,
}
