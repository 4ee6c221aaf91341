"""From a fixed plan and its cooks to the state of every part, the figures behind it, and what the card may say.

Nothing reassuring is told before a part is complete, and nothing is stopped early for success; one cook below the limit ends
the plan at once.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from tuner.domain import Brief, FixedPlan, Oven
from tuner.proof.acceptance import ToleranceRule
from tuner.proof.over_ovens import lower_limit_over_ovens
from tuner.proof.plan_cooks import CookStanding, PlanEntry, coldest_places, stand_all, y_unit
from tuner.proof.plan_quality import Figure, quality
from tuner.proof.shares import share_interval
from tuner.proof.tolerance import distribution_free_cooks, distribution_free_lower_limit, looks_normal, lower_limit

State = Literal["to cook", "passed", "failed"]
MOST_REASONS = 6
COLDEST_PLACES = 3


@dataclass(frozen=True, slots=True)
class PartState:
    """How one part of a plan stands.

    Attributes
    ----------
    needed, done
        Cooks it needs, and cooks that fill their slots.
    why
        What is missing or what failed, in words; empty where it passed.
    """

    name: str
    state: State
    needed: int
    done: int
    why: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class PlanState:
    """How a plan stands.

    Attributes
    ----------
    state
        `passed` only when every part has and no question is open.
    parts
        Parts of the plan, then quality, spread and the simple rule.
    figures
        Statistics with the names of their methods; only of complete parts.
    cooks
        Every cook given to the plan, failures and cooks left out included.
    failures
        Numbers of the cooks that were below limit + guard.
    questions
        What must be settled first: cooks off their conditions, proof cooks outside the plan, a changed brief.
    claim
        What the card may say.
    coldest_places
        From the maps, coldest first.
    """

    plan_hash: str
    state: State
    parts: tuple[PartState, ...]
    figures: tuple[Figure, ...]
    cooks: tuple[CookStanding, ...]
    failures: tuple[int, ...]
    questions: tuple[str, ...]
    claim: str
    coldest_places: tuple[str, ...]

    def part(self, name: str) -> PartState | None:
        """One part by its name, None where the plan has none."""
        return next((part for part in self.parts if part.name == name), None)

    @property
    def done(self) -> int:
        """Cooks that fill their slots."""
        return sum(cook.fills for cook in self.cooks)


def evaluate(
    brief: Brief,
    oven: Oven,
    plan: FixedPlan,
    entries: Sequence[PlanEntry],
    *,
    simple_rule_met: bool,
    open_questions: Sequence[str] = (),
) -> PlanState:
    """Evaluate a fixed plan.

    Parameters
    ----------
    brief, oven
        As the plan was fixed for; the oven is that of cooks without a serial number.
    entries
        Cooks given to slots, in the order of cooking.
    simple_rule_met
        Whether the simple rule, the floor of every plan, is met for the program.
    open_questions
        Further matters that keep the plan from passing.
    """
    cooks = stand_all(brief, oven, plan, entries)
    parts: list[PartState] = []
    figures: list[Figure] = []
    for name in dict.fromkeys(slot.part for slot in sorted(plan.slots, key=lambda slot: _RANK[slot.part])):
        part, behind = _part(brief, plan, name, [cook for cook in cooks if cook.slot.part == name])
        parts.append(part)
        figures += behind
    complete = all(part.state == "passed" for part in parts)
    judged, found = quality(brief, plan, cooks, complete=complete)
    parts.append(_of_checks("quality", judged, complete))
    figures += found
    parts.append(_of_checks("spread", [(None, text) for text in _spread(cooks)] if complete else [], complete))
    parts.append(
        PartState("simple rule", "passed", 1, 1)
        if simple_rule_met
        else PartState("simple rule", "to cook", 1, 0, ("The simple rule, the floor of every plan, is not met yet.",))
    )
    questions = (*open_questions, *_questions(cooks))
    state = _overall(parts, questions)
    if state == "passed":
        figures.append(_passed_share(cooks))
    return PlanState(
        plan_hash=plan.hash,
        state=state,
        parts=tuple(parts),
        figures=tuple(figures),
        cooks=cooks,
        failures=tuple(cook.entry.number for cook in cooks if cook.standing == "below"),
        questions=questions,
        claim=_claim(brief, plan, state, len([cook for cook in cooks if cook.fills])),
        coldest_places=coldest_places(plan, entries)[:COLDEST_PLACES],
    )


_RANK = {"map": 0, "stress": 1, "worst corner": 2, "over ovens": 3}


def _overall(parts: Sequence[PartState], questions: Sequence[str]) -> State:
    if any(part.state == "failed" for part in parts):
        return "failed"
    return "passed" if all(part.state == "passed" for part in parts) and not questions else "to cook"


def _of_checks(name: str, checks: Sequence[tuple[bool | None, str]], complete: bool) -> PartState:
    """A part made of checks: (failed, words); None where it can still be mended."""
    why = tuple(text for _, text in checks)
    if any(failed for failed, _ in checks):
        return PartState(name, "failed", 1, 0, why)
    return PartState(name, "passed", 1, 1) if complete and not why else PartState(name, "to cook", 1, 0, why)


def _part(brief: Brief, plan: FixedPlan, name: str, cooks: Sequence[CookStanding]) -> tuple[PartState, tuple[Figure, ...]]:
    slots = [slot for slot in plan.slots if slot.part == name]
    filled = {cook.slot.number: cook for cook in cooks if cook.fills}
    below = [cook for cook in cooks if cook.standing == "below"]
    first = [slot for slot in slots if not slot.contingent]
    done = sum(slot.number in filled for slot in first)
    if below:
        why = tuple(f"Cook {cook.entry.number} was below limit + guard." for cook in below[:MOST_REASONS])
        return PartState(name, "failed", len(first), done, why), ()
    if done < len(first):
        waiting = [f"Cook {c.entry.number}: {' '.join(c.why)}" for c in cooks if c.standing == "waiting"]
        why = (f"{len(first) - done} of {len(first)} cooks to come.", *waiting[:MOST_REASONS])
        return PartState(name, "to cook", len(first), done, why), ()
    values = [(cook.oven, cook.y) for cook in filled.values() if not cook.slot.contingent]
    known = [y for _, y in values if y is not None]
    if len(known) < len(values):  # nothing to kill: there is no Y to judge, the windows decide
        return PartState(name, "passed", len(first), done), ()
    if name == "worst corner":
        return _worst_corner(brief, plan, filled, known)
    if name == "over ovens" and plan.strength == "full":
        return _over_ovens(brief, plan, [(oven, y) for oven, y in values if y is not None])
    return PartState(name, "passed", len(first), done), ()


def _worst_corner(
    brief: Brief, plan: FixedPlan, filled: dict[int, CookStanding], first: list[float]
) -> tuple[PartState, tuple[Figure, ...]]:
    unit = y_unit(brief)
    if looks_normal(first):
        found = lower_limit(first, plan.coverage, plan.confidence)
        low = found.low if found.low is not None else float("nan")
        figure = Figure("lower limit at the worst corner", found.method, low, unit, ">= 0", low >= 0, len(first))
        factor = ToleranceRule(len(first), plan.coverage, plan.confidence).factor
        if low >= 0:
            return PartState("worst corner", "passed", len(first), len(first)), (figure,)
        why = f"mean - {factor:.3f} s is {low:.2f} {unit}, below limit + guard."
        return PartState("worst corner", "failed", len(first), len(first), (why,)), (figure,)
    values = [cook.y for cook in filled.values() if cook.y is not None]
    needed = distribution_free_cooks(plan.coverage, plan.confidence)
    if len(values) < needed:
        why = f"The values are not normal, so {needed} cooks are needed, none below; {needed - len(values)} to come."
        return PartState("worst corner", "to cook", needed, len(values), (why,)), ()
    free = distribution_free_lower_limit(values, plan.coverage, plan.confidence)
    if free is None or free.low is None:
        raise AssertionError("as many cooks as just counted always give a limit")
    figure = Figure("lower limit at the worst corner", free.method, free.low, unit, ">= 0", free.low >= 0, len(values))
    return PartState("worst corner", "passed", needed, len(values)), (figure,)


def _over_ovens(brief: Brief, plan: FixedPlan, values: Sequence[tuple[str, float]]) -> tuple[PartState, tuple[Figure, ...]]:
    by_oven: dict[str, list[float]] = {}
    for oven, y in values:
        by_oven.setdefault(oven, []).append(y)
    found = lower_limit_over_ovens(by_oven, plan.coverage, plan.confidence)
    unit, n = y_unit(brief), len(values)
    figures = (
        Figure("lower limit over ovens", found.method, found.low, unit, ">= 0", found.low >= 0, n),
        Figure("share of the variance between ovens", "analysis of variance", found.oven_share, "", "", None, n),
    )
    if found.low >= 0:
        return PartState("over ovens", "passed", n, n), figures
    why = f"The limit over ovens is {found.low:.2f} {unit}, below limit + guard."
    return PartState("over ovens", "failed", n, n, (why,)), figures


def _spread(cooks: Sequence[CookStanding]) -> Iterator[str]:
    """What a complete plan still lacks: people and lots that really differ."""
    filled = [cook for cook in cooks if cook.fills]
    worst = [cook.entry.cook for cook in filled if cook.slot.part == "worst corner"]
    for name, values in (("people", {cook.cook for cook in worst}), ("lots", {cook.lot for cook in worst})):
        if worst and len(values) < 2:
            yield f"The worst corner took {len(values)} of 2 {name}. Agree to leave some cooks out, and cook them again."


def _questions(cooks: Sequence[CookStanding]) -> Iterator[str]:
    for cook in cooks:
        if cook.standing == "off its conditions":
            why = " ".join(cook.why)
            yield f"Cook {cook.entry.number} does not fill its slot: {why} A second person must agree to leave it out."


def _passed_share(cooks: Sequence[CookStanding]) -> Figure:
    counted = sum(cook.fills for cook in cooks)
    found = share_interval(counted, counted, one_sided=True)
    return Figure("share of cooks like these that pass, at least", found.method, found.low, "", "", None, counted)


def _claim(brief: Brief, plan: FixedPlan, state: State, cooks: int) -> str:
    if state == "failed":
        return "nothing: the proof failed"
    if state == "to cook":
        return "nothing yet: the proof is not complete"
    from tuner.safety import effective_limit

    if plan.strength == "light" or effective_limit(brief).none:
        return f"checked on {cooks} cooks"
    return f"proven: 95 % sure that >= {100 * plan.coverage:g} % comply at the worst corner"
