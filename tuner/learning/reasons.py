"""Why a program is proposed, in two to four short sentences for a chef.

Every number in a sentence is a `Figure`: a value or a difference of forecasts, kept with the programs it comes from, so that
it can be computed again to its last digit. Counts are written as words.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from tuner.domain import ATTRIBUTES, SCORES, Forecast, Program
from tuner.learning.aim import marks_of, offsets
from tuner.learning.learned import Learned
from tuner.learning.levers import Lever, lever_values, moved_levers
from tuner.learning.obstacles import Obstacle
from tuner.learning.running import Cooked
from tuner.learning.trade_rules import rule_words
from tuner.learning.unknowns import greatest_unknown
from tuner.physics import energy_balance

_UNITS = {"core_temperature_c": "°C", "cook_loss_pct": "points", "browning": "", "texture": "", "moisture": ""}
_WORDS = {
    "core_temperature_c": "core",
    "browning": "browning",
    "texture": "texture",
    "moisture": "moisture",
    "cook_loss_pct": "cook loss",
}
_WRONG = {
    ("core_temperature_c", -1): "not hot enough in the core",
    ("core_temperature_c", 1): "too hot in the core",
    ("browning", -1): "too pale",
    ("browning", 1): "too dark",
    ("texture", -1): "too soft",
    ("texture", 1): "too firm",
    ("moisture", -1): "too dry",
    ("moisture", 1): "too wet",
    ("cook_loss_pct", -1): "low in cook loss",
    ("cook_loss_pct", 1): "high in cook loss",
}
_NOTABLE = {"core_temperature_c": 0.5, "browning": 0.1, "texture": 0.1, "moisture": 0.1, "cook_loss_pct": 0.3}
_COUNT_WORDS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
DIGITS = 1
_SAME_TIME = 1.5
_DENSE_MM = 30.0
"""Portions thicker than this are dense: the middle is heated by microwave alone (common practice)."""


@dataclass(frozen=True)
class Figure:
    """A number in a sentence: forecast or lever `quantity` of `program`, less that of `less` where given."""

    text: str
    quantity: str
    program: Program
    less: Program | None = None


@dataclass(frozen=True)
class Reason:
    """One sentence and the numbers in it, in order."""

    text: str
    figures: tuple[Figure, ...] = ()


def in_words(count: int) -> str:
    """A count as a word, because digits are kept for figures."""
    return _COUNT_WORDS[count] if 0 <= count < len(_COUNT_WORDS) else "many"


def signed(value: float, digits: int) -> str:
    """A difference with its sign; zero has none."""
    rounded = round(value, digits) + 0.0
    return f"{rounded:+.{digits}f}" if rounded else f"{0:.{digits}f}"


def _problem(learned: Learned, old: Forecast) -> tuple[list[tuple[str, int]], str]:
    """Attributes that the old program misses or nearly misses, worst first, and a phrase for the worst two."""
    marks = marks_of(learned.outlook([old.program]).prediction.mean)
    found = offsets(marks, learned.goals)[0]
    order = np.argsort(-np.abs(found), kind="stable")
    wrong = [(ATTRIBUTES[k], 1 if found[k] > 0 else -1) for k in order if abs(found[k]) > 0.6]
    return wrong, " and ".join(_WRONG[item] for item in wrong[:2])


def _lever_phrase(lever: Lever, change: float, new: Program, old: Program) -> tuple[str, Figure]:
    text = signed(change, lever.digits)
    return f"{lever.words} by {text} {lever.unit}", Figure(text, lever.name, new, old)


def _change_phrase(name: str, new: Forecast, old: Forecast) -> tuple[str, Figure]:
    text = signed(new.attributes[name].mean - old.attributes[name].mean, DIGITS)
    unit = f" {_UNITS[name]}" if _UNITS[name] else ""
    return f"{_WORDS[name]} {text}{unit}", Figure(text, name, new.program, old.program)


def _value_phrase(name: str, forecast: Forecast) -> tuple[str, Figure]:
    text = f"{forecast.attributes[name].mean:.{DIGITS}f}"
    unit = {"core_temperature_c": " °C", "cook_loss_pct": " %"}.get(name, "")
    return f"{_WORDS[name]} {text}{unit}", Figure(text, name, forecast.program)


def _listed(parts: list[str]) -> str:
    return parts[0] if len(parts) == 1 else ", ".join(parts[:-1]) + " and " + parts[-1]


def _values_sentence(learned: Learned, forecast: Forecast, opening: str) -> Reason:
    names = [name for k, name in enumerate(ATTRIBUTES) if learned.goals.bound[k]] or ["core_temperature_c", "browning"]
    phrases = [_value_phrase(name, forecast) for name in names[:4]]
    return Reason(f"{opening} {_listed([text for text, _ in phrases])}.", tuple(figure for _, figure in phrases))


def _levers_sentence(new: Forecast, old: Forecast) -> Reason:
    moved = moved_levers(new.program, old.program)[:2]
    if not moved:
        return Reason("The levers stay nearly where they were; the stages are cut differently.")
    phrases = [_lever_phrase(lever, change, new.program, old.program) for lever, change in moved]
    return Reason(f"Change {_listed([text for text, _ in phrases])}.", tuple(figure for _, figure in phrases))


def _effects_sentence(new: Forecast, old: Forecast, wrong: list[tuple[str, int]]) -> Reason | None:
    changes = {name: new.attributes[name].mean - old.attributes[name].mean for name in ATTRIBUTES}
    wanted = [name for name, side in wrong if changes[name] * side < 0 and abs(changes[name]) >= _NOTABLE[name]]
    rest = [name for name in ATTRIBUTES if name not in wanted and abs(changes[name]) >= _NOTABLE[name]]
    rest.sort(key=lambda name: -abs(changes[name]) / _NOTABLE[name])
    gained = [_change_phrase(name, new, old) for name in wanted[:3]]
    costs = [_change_phrase(name, new, old) for name in rest[:2]]
    figures = tuple(figure for _, figure in [*gained, *costs])
    if gained and costs:
        return Reason(
            f"Expected from it: {_listed([text for text, _ in gained])}; "
            f"elsewhere it moves {_listed([text for text, _ in costs])}.",
            figures,
        )
    if gained or costs:
        return Reason(f"Expected from it: {_listed([text for text, _ in gained or costs])}.", figures)
    return None


def _search_reasons(learned: Learned, new: Forecast) -> list[Reason]:
    last = learned.view.calibration.observations.programs[-1]
    old = learned.forecast([last])[0]
    wrong, phrase = _problem(learned, old)
    opening = (
        f"The last program leaves the dish {phrase}."
        if phrase
        else ("The last program is close; this one lies better inside the windows.")
    )
    reasons = [Reason(opening), _levers_sentence(new, old)]
    effects = _effects_sentence(new, old, wrong)
    reasons.append(effects or _values_sentence(learned, new, "Expected:"))
    rule = rule_words(wrong, lever_values(new.program), lever_values(old.program))
    if rule:
        reasons.append(Reason(rule))
    return reasons


_HEAT_WORDS = ((0.85, "nearly all"), (0.6, "most"), (0.4, "about half"), (0.15, "a smaller part"), (0.0, "hardly any"))


def _heat_by_microwave(learned: Learned, program: Program) -> str:
    """What part of the heat of a program comes by microwave, in words."""
    portion = learned.brief.portion
    balance = energy_balance(
        learned.view.calibration.simulator.model,
        [program],
        mass_g=portion.mass_g,
        start_temperature_c=portion.start_temperature_c,
        theta=learned.view.calibration.theta,
    )
    taken = float(balance.microwave[0] + balance.air[0])
    share = float(balance.microwave[0]) / taken if taken > 0 else 0.0
    return next(words for least, words in _HEAT_WORDS if share >= least)


def _faster(ratio: float) -> str:
    """End of a sentence that tells how much sooner a program ends than the conventional method."""
    if ratio < _SAME_TIME:
        return "; it is hardly faster."
    times = round(ratio)
    return "; it takes about half the time." if times <= 2 else f"; it is about {in_words(times)} times as fast."


def _first_reasons(learned: Learned, forecast: Forecast) -> list[Reason]:
    stages = len(forecast.program.stages)
    icy = learned.brief.portion.start_state in {"frozen", "tempered"}
    if stages == 1:
        shape = "The oven runs one stage only, so microwave and air act side by side."
    elif icy or learned.brief.portion.thickness_mm > _DENSE_MM:
        shape = (
            "Much microwave early for the cold middle, then ever less of it, while the air rises to dry and brown the outside."
        )
    else:
        shape = "It starts with microwave to heat the inside and ends with air to dry and brown the outside."
    shape = f"{shape[:-1]}; {_heat_by_microwave(learned, forecast.program)} of its heat is microwave."
    conventional = learned.brief.conventional
    anchor = (
        "The program comes from the physics of what the conventional method does to this portion"
        + _faster(conventional.duration_s / forecast.program.duration_s)
        if conventional
        else "The program comes from the physics of heating this portion to its windows."
    )
    unknown = f"What is known least, and moves the core most, is {greatest_unknown(learned, forecast.program)}."
    return [Reason(anchor), Reason(shape), _values_sentence(learned, forecast, "Expected before any cook:"), Reason(unknown)]


def _confirm_reasons(learned: Learned, forecast: Forecast, cooked: Cooked) -> list[Reason]:
    place = next(k for k, program in enumerate(cooked.programs) if program.key == forecast.program.key)
    found = cooked.tallies[place]
    if found.failed_since:
        opening = "This program passed before and failed once since; the model still rates it higher than any new one."
    else:
        cooks = "cook" if found.passing == 1 else "cooks"
        opening = f"This program has {in_words(found.passing)} passing {cooks} in a row."
    left = cooked.passes_left(place)
    goal = (
        "Further passing cooks are needed before it may be called proven."
        if left
        else "The simple rule is met; another cook narrows what doubt is left whether nearly all portions would be inside."
    )
    return [Reason(opening), Reason(goal), _values_sentence(learned, forecast, "Expected again:")]


def explained(
    learned: Learned, forecast: Forecast, purpose: str, *, obstacle: Obstacle | None, cooked: Cooked
) -> tuple[Reason, ...]:
    """Reasons with the numbers in them."""
    if purpose == "confirm":
        return tuple(_confirm_reasons(learned, forecast, cooked))
    reasons: list[Reason] = []
    if obstacle is not None:
        reasons.append(Reason(f"No program is expected to reach every window: {obstacle.text}."))
        reasons.append(_values_sentence(learned, forecast, "This one comes nearest to what must be reached:"))
        return tuple(reasons)
    if learned.view.calibration.observations.programs:
        return tuple(_search_reasons(learned, forecast))
    return tuple(_first_reasons(learned, forecast))


def reasons_for(
    learned: Learned, forecast: Forecast, purpose: str, *, obstacle: Obstacle | None, cooked: Cooked
) -> tuple[str, ...]:
    """Reasons as plain sentences."""
    return tuple(reason.text for reason in explained(learned, forecast, purpose, obstacle=obstacle, cooked=cooked))


__all__ = ["SCORES", "Figure", "Reason", "explained", "in_words", "reasons_for", "signed"]
