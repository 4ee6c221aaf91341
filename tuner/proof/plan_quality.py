"""Quality on the cooks of a proof plan: instruments inside in every cook, the panel's mean inside with 90 % confidence.

On a full plan cook loss must also be capable: Ppk with a lower 95 % bound of at least 1. Scores are not held to that: windows
of half a mark would ask for a standard deviation of 0.13.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from tuner.domain import SCORES, Brief, FixedPlan
from tuner.proof.capability import capability
from tuner.proof.plan_cooks import CookStanding
from tuner.proof.tolerance import two_sided_limits

PROOF_TASTERS = 4
"""Tasters that a scored proof cook takes (common practice, no source)."""
CAPABLE = 1.0
SCORE_CONFIDENCE = 0.90


@dataclass(frozen=True, slots=True)
class Figure:
    """One statistic, with the name of its method.

    Attributes
    ----------
    needed
        What it must be, in words; empty where it only informs.
    passed
        None where it only informs.
    cooks
        How many cooks it rests on.
    """

    name: str
    method: str
    value: float
    unit: str
    needed: str
    passed: bool | None
    cooks: int


Check = tuple[bool | None, str]
"""(failed, words); None where it can still be mended."""


def quality(
    brief: Brief, plan: FixedPlan, cooks: Sequence[CookStanding], *, complete: bool
) -> tuple[list[Check], list[Figure]]:
    """Checks that are open or failed, and the figures behind them; figures only once all cooks are in."""
    checks: list[Check] = [
        (True, f"Cook {cook.entry.number}: {', '.join(cook.why)}.") for cook in cooks if cook.standing == "outside"
    ]
    checks += _extreme_marks(brief, cooks)
    if not complete:
        return checks, []
    figures: list[Figure] = []
    for attribute in SCORES:
        _panel(brief, plan, cooks, attribute, checks, figures)
    if plan.strength == "full":
        _loss(brief, cooks, checks, figures)
    return checks, figures


def _extreme_marks(brief: Brief, cooks: Sequence[CookStanding]) -> list[Check]:
    """Single marks of 1 or 5: one taster's plain rejection is not averaged away."""
    found: list[Check] = []
    for cook in cooks:
        for score in cook.entry.cook.scores or () if cook.fills else ():
            for attribute in SCORES:
                if brief.targets.of(attribute) is not None and getattr(score, attribute) in (1.0, 5.0):
                    found.append(
                        (True, f"Cook {cook.entry.number}: one taster marked {attribute} {getattr(score, attribute):g}.")
                    )
    return found


def _panel(
    brief: Brief,
    plan: FixedPlan,
    cooks: Sequence[CookStanding],
    attribute: str,
    checks: list[Check],
    figures: list[Figure],
) -> None:
    from scipy.stats import t

    window = brief.targets.of(attribute)
    if window is None:
        return
    scored = {cook.slot.number: cook for cook in cooks if cook.fills}
    means, short = [], []
    for slot in plan.slots:
        if not slot.scored or slot.number not in scored:
            continue
        cook = scored[slot.number].entry.cook
        marks = [mark for score in cook.scores or () if (mark := getattr(score, attribute)) is not None]
        if len(marks) < PROOF_TASTERS:
            short.append(scored[slot.number].entry.number)
        else:
            means.append(float(np.mean(marks)))
    if short:
        numbers = ", ".join(map(str, short))
        checks.append((None, f"{attribute}: cooks {numbers} have fewer than {PROOF_TASTERS} tasters."))
        return
    n, mean, sd = len(means), float(np.mean(means)), float(np.std(means, ddof=1))
    reach = float(t.isf((1 - SCORE_CONFIDENCE) / 2, n - 1)) * sd / math.sqrt(n)
    inside = window.holds(mean - reach) and window.holds(mean + reach)
    method = f"t interval, {100 * SCORE_CONFIDENCE:g} %"
    for end, value in (("low", mean - reach), ("high", mean + reach)):
        figures.append(Figure(f"{attribute}, {end} end of the panel's mean", method, value, "marks", "inside", inside, n))
    if not inside:
        checks.append((True, f"{attribute}: the panel's mean, {mean - reach:.2f} to {mean + reach:.2f}, leaves its window."))


def _loss(brief: Brief, cooks: Sequence[CookStanding], checks: list[Check], figures: list[Figure]) -> None:
    window = brief.targets.of("cook_loss_pct")
    losses = [
        loss
        for cook in cooks
        if cook.slot.part == "over ovens" and cook.fills and (loss := cook.entry.cook.cook_loss_pct) is not None
    ]
    if window is None or len(losses) < 2:
        return
    # A side that physics closes anyway (nothing lost) is no edge to be capable against.
    low = None if window.low is None or (window.low <= 0 and window.high is not None) else window.low
    found = capability(losses, low, window.high)
    passed = found.ppk_low >= CAPABLE
    figures.append(Figure("cook loss, Ppk lower bound", found.method, found.ppk_low, "", ">= 1", passed, len(losses)))
    limits = two_sided_limits(losses, 0.95, 0.95)
    for end, value in (("low", limits.low), ("high", limits.high)):
        if value is not None:
            figures.append(Figure(f"cook loss of 95 % of portions, {end}", limits.method, value, "%", "", None, len(losses)))
    if not passed:
        checks.append((True, f"Cook loss: Ppk is at least {found.ppk_low:.2f} only; the full plan asks for 1."))
