"""What the trade would do about a symptom, held against what is proposed.

The rules are starting values of common practice (no source). They speak only where the symptom is one of theirs.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

Wrong = list[tuple[str, int]]


@dataclass(frozen=True)
class TradeRule:
    """Symptom as attributes with side (-1 too low, +1 too high); levers with the direction the trade moves them."""

    symptom: frozenset[tuple[str, int]]
    core_right: bool
    words: str
    levers: tuple[tuple[str, int], ...]


def _rule(symptom: list[tuple[str, int]], words: str, levers: tuple[tuple[str, int], ...], *, core_right: bool) -> TradeRule:
    return TradeRule(frozenset(symptom), core_right, words, levers)


_CORE, _BROWN, _MOIST = "core_temperature_c", "browning", "moisture"

_EARLY, _MIDDLE, _LATE = "early_microwave_pct", "middle_microwave_pct", "late_microwave_pct"
_EARLY_AIR, _LATE_AIR, _TIME = "early_air_pct", "late_air_pct", "duration_s"

TRADE_RULES = (
    _rule([(_CORE, -1), (_BROWN, -1)], "cold and pale: cook longer", ((_TIME, 1),), core_right=False),
    _rule(
        [(_CORE, -1), (_BROWN, 1)],
        "cold and dark: more early microwave, less air at the end",
        ((_EARLY, 1), (_LATE_AIR, -1)),
        core_right=False,
    ),
    _rule([(_CORE, 1), (_BROWN, 1)], "hot and dark: cook shorter", ((_TIME, -1),), core_right=False),
    _rule(
        [(_CORE, 1), (_BROWN, -1)],
        "hot and pale: less microwave, more air at the end",
        ((_EARLY, -1), (_LATE_AIR, 1)),
        core_right=False,
    ),
    _rule(
        [(_BROWN, -1), (_MOIST, 1)],
        "pale and wet: no microwave at the end, full air",
        ((_LATE, -1), (_LATE_AIR, 1)),
        core_right=True,
    ),
    _rule([(_CORE, -1)], "cold core: more microwave early and in the middle", ((_EARLY, 1), (_MIDDLE, 1)), core_right=False),
    _rule([(_CORE, 1)], "hot core: less microwave", ((_EARLY, -1), (_MIDDLE, -1)), core_right=False),
    _rule([(_BROWN, -1)], "pale with the core right: more air at the end", ((_LATE_AIR, 1),), core_right=True),
    _rule([(_BROWN, 1)], "dark with the core right: less air at the end", ((_LATE_AIR, -1), (_TIME, -1)), core_right=True),
    _rule([(_MOIST, -1)], "dry with the core right: less air, shorter", ((_EARLY_AIR, -1), (_TIME, -1)), core_right=True),
    _rule(
        [("cook_loss_pct", 1)],
        "loss too high: lower microwave peaks, a little less late air",
        ((_EARLY, -1), (_LATE_AIR, -1)),
        core_right=True,
    ),
)
"""The more special rule comes first."""

_MOVED = {"duration_s": 2.0, "air_temperature_c": 1.0}
_LEAST_MOVE = 2.0


def rule_for(wrong: Wrong) -> TradeRule | None:
    """The first rule whose symptom is all there; one for a right core only where the core is right."""
    symptoms = set(wrong)
    core_wrong = any(name == _CORE for name, _ in symptoms)
    return next((rule for rule in TRADE_RULES if rule.symptom <= symptoms and not (rule.core_right and core_wrong)), None)


def rule_words(wrong: Wrong, new: Mapping[str, float], old: Mapping[str, float]) -> str | None:
    """A sentence on whether the proposal does what the trade would; None where no rule speaks."""
    rule = rule_for(wrong)
    if rule is None:
        return None
    agrees = any((new[lever] - old[lever]) * side >= _MOVED.get(lever, _LEAST_MOVE) for lever, side in rule.levers)
    against = all((new[lever] - old[lever]) * side <= -_MOVED.get(lever, _LEAST_MOVE) for lever, side in rule.levers)
    if agrees:
        return f"The trade's rule agrees ({rule.words})."
    if against:
        return f"The trade's rule would go the other way ({rule.words}); this kitchen's cooks and the physics speak against it."
    return f"The trade's rule is another one ({rule.words}); the forecast reaches the windows without it."
