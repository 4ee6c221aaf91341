"""Proof plans: the confirmation cooks a candidate must pass before its recipe may be released.

Strength follows the food class (common practice, no source). The plan is fixed before its first cook; search cooks never
belong to it; an approver may strengthen it, nobody may weaken it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from tuner.domain import Brief, PlanPart, ProofPlan
from tuner.proof.acceptance import NoneBelowRule, ToleranceRule
from tuner.safety import effective_limit, limit_class

Strength = Literal["light", "standard", "full"]

SHARES_BELOW = (0.2, 0.1, 0.05, 0.02, 0.01, 0.001, 0.0001)
"""True shares of cooks below the limit for which a plan states its chance to accept."""


@dataclass(frozen=True, slots=True)
class _Design:
    days: int
    ovens: int
    parts: tuple[PlanPart, ...]
    rules: tuple[ToleranceRule | NoneBelowRule, ...]


def _part(name: str, cooks: int, condition: str) -> PlanPart:
    return PlanPart(name=name, cooks=cooks, condition=condition)


def _light() -> _Design:
    parts = (
        _part("stress", 2, "one coldest and heaviest portion, one on a hot oven at the greatest load; 3 places each"),
        _part("over ovens", 6, "3 cooks on each of 2 ovens"),
    )
    return _Design(days=2, ovens=2, parts=parts, rules=(NoneBelowRule(8),))


def _standard() -> _Design:
    worst = ToleranceRule(10, 0.90, 0.95)
    parts = (
        _part("map", 2, "at least 9 places each"),
        _part("stress", 4, "coldest, heaviest, greatest load, hot oven"),
        _part("worst corner", 10, _worst_condition(worst)),
        _part("over ovens", 12, "4 cooks on each of 3 ovens, none below limit + guard"),
    )
    return _Design(days=2, ovens=3, parts=parts, rules=(worst, NoneBelowRule(12)))


def _full() -> _Design:
    worst = ToleranceRule(15, 0.95, 0.95)
    parts = (
        _part("map", 3, "at least 9 places each, then the 3 coldest; again if dose or pattern moves by more than 15 %"),
        _part("stress", 10, "8 runs over start temperature, mass, load, oven and hot oven, and 2 centre cooks"),
        _part("worst corner", 15, _worst_condition(worst)),
        _part("over ovens", 30, "5 cooks on each of 6 ovens, none below limit + guard, 95/95 limit over ovens at or above 0"),
    )
    return _Design(days=3, ovens=6, parts=parts, rules=(worst, NoneBelowRule(30)))


def _worst_condition(rule: ToleranceRule) -> str:
    claim = f"{rule.coverage * 100:g} % of cooks with {rule.confidence * 100:g} % confidence"
    return (
        "weakest oven, hot, coldest and heaviest portion, at least 2 people and 2 lots; every cook at or above limit + guard, "
        f"mean - {rule.factor:.3f} s at or above it ({claim})"
    )


_DESIGNS = {"light": _light, "standard": _standard, "full": _full}


def strength_of(brief: Brief) -> Strength:
    """Strength of the plan that the food class asks for.

    `light` only with an approved "nothing to kill"; `full` for raw animal food, stuffed food, bakery with a raw component (a
    limit of its own) and for vulnerable eaters; `standard` for the rest.
    """
    if brief.eaters == "vulnerable":
        return "full"
    food_class, limit = limit_class(brief), effective_limit(brief)
    if food_class in {"plant", "bakery"} and not brief.cook_before_eating and limit.none and limit.approved:
        return "light"
    if food_class in {"reheated", "plant"} or (food_class == "bakery" and limit.none):
        return "standard"
    return "full"


def plan(brief: Brief) -> ProofPlan:
    """Default proof plan of a brief.

    `chance_to_accept` states, for a true share of cooks below limit + guard at the condition of a part, the chance that the
    strictest part of the plan accepts it. A plan accepts only what every part accepts, so however its parts depend on each
    other the chance of the whole plan is at most this. Parts over ovens count with their "none below" only.
    """
    strength = strength_of(brief)
    design = _DESIGNS[strength]()
    return ProofPlan(
        strength=strength,
        cooks=sum(part.cooks for part in design.parts),
        days=design.days,
        ovens=design.ovens,
        parts=design.parts,
        chance_to_accept={share: min(rule.chance_to_accept(share) for rule in design.rules) for share in SHARES_BELOW},
    )
