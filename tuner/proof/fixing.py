"""Fixing a proof plan: every cook with its condition, in blocks over days and ovens, in an order drawn by a seed.

Further attempts on the same program need a documented cause and halve the risk each time: confidence 95, 97.5, 98.75 %, so
three attempts together accept wrongly at most 8.75 % of the time. Parts that ask for "none below" get as many further cooks as
halve what they let through at the plan's coverage.
"""

from __future__ import annotations

import hashlib

from tuner.domain import Brief, FixedPlan, InvalidDocument, PlanSetting, Program
from tuner.proof.acceptance import NoneBelowRule, ToleranceRule
from tuner.proof.over_ovens import OvensRule
from tuner.proof.plan_slots import COVERAGE, DAYS, WORST_CORNER_COOKS, SlotMaker, checked_setting, confidence_of
from tuner.proof.plans import SHARES_BELOW

_BOUND = {
    "food_class",
    "portion",
    "targets",
    "critical_limit",
    "rest_s",
    "eaters",
    "market",
    "places",
    "confirmation_cooks",
    "cook_before_eating",
}
_SAID = (0.1, 0.05, 0.01, 0.001)
DIFFERING = "over ovens that differ"
DIFFERING_SHARE = 0.5
"""Under this name a plan's chances hold for ovens that make up half of the variance."""


def brief_hash(brief: Brief) -> str:
    """SHA-256 of everything in a brief that a proof stands on: portion, windows, limit, rest, class, eaters, market."""
    bound = brief.model_dump_json(include=_BOUND, exclude_defaults=True)
    return hashlib.sha256(bound.encode()).hexdigest()


def error_rates(plan: FixedPlan) -> tuple[str, ...]:
    """What each part of a plan lets through, in words: "worst corner accepts a recipe that fails 1 in 20: 5 %"."""
    return tuple(
        f"{part} accepts a recipe that fails 1 in {round(1 / share):,}: {100 * chance:.2g} %"
        for part, chances in plan.chance_to_accept.items()
        for share, chance in chances.items()
        if share in _SAID
    )


def fix(
    brief: Brief,
    program: Program,
    setting: PlanSetting,
    *,
    attempt: int = 1,
    cause: str | None = None,
    brief_version: int = 1,
) -> FixedPlan:
    """Fix the plan of a program.

    Parameters
    ----------
    attempt, cause
        Which attempt at the proof of this program it is; from the second on the documented cause of the failure before.

    Raises
    ------
    InvalidDocument
        If a further attempt has no cause or is one too many, the strength is weaker than the class asks for, or the worst
        corner is easier than the brief.
    """
    confidence = confidence_of(attempt)
    if attempt > 1 and not (cause and cause.strip()):
        raise InvalidDocument(
            [f"cause is missing for attempt {attempt}. The same program is proven again only with a documented cause. Add it."]
        )
    made = SlotMaker(brief, checked_setting(brief, setting), attempt)
    slots = made.in_order()
    return FixedPlan(
        strength=made.strength,
        program=program,
        attempt=attempt,
        cause=cause,
        confidence=confidence,
        coverage=COVERAGE[made.strength],
        days=DAYS[made.strength],
        ovens=made.fleet[0],
        cooks_each=made.fleet[1],
        seed=setting.seed,
        brief_version=brief_version,
        brief_hash=brief_hash(brief),
        slots=slots,
        chance_to_accept=_chances(made, confidence),
        remarks=tuple(made.remarks()),
    )


def _chances(made: SlotMaker, confidence: float) -> dict[str, dict[float, float]]:
    coverage, cooks = COVERAGE[made.strength], WORST_CORNER_COOKS[made.strength]
    ovens, each = made.fleet
    found: dict[str, dict[float, float]] = {}
    if cooks:
        rule = ToleranceRule(cooks, coverage, confidence)
        found["worst corner"] = {share: rule.chance_to_accept(share) for share in SHARES_BELOW}
    for name, oven_share in (("over ovens", 0.0), (DIFFERING, DIFFERING_SHARE)):
        if made.strength == "full":
            over = OvensRule(ovens, each, coverage, confidence)
            found[name] = {share: min(1.0, over.chance_to_accept(share, oven_share)) for share in SHARES_BELOW}
        else:
            extra = 2 if made.strength == "light" and not oven_share else 0  # the light plan's stress cooks are of its eight
            none = NoneBelowRule(ovens * each + extra, ovens)
            found[name] = {share: none.chance_to_accept(share, oven_share) for share in SHARES_BELOW}
    return found
