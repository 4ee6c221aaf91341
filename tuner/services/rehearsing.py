"""Rehearsals: a whole development cooked in a simulated kitchen, told as a story."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING

from tuner.domain import ATTRIBUTES, Assessment, Brief, InvalidDocument, Proposal, TestCook
from tuner.domain.quantities import minutes_seconds
from tuner.services.views import RehearsalReport

if TYPE_CHECKING:
    from tuner.rehearsal import Kitchen

MOST_COOKS = 200
PORTIONS_TRIED = 400
"""Portions behind the share that is truly inside."""
_FIRST_COOK = datetime(2026, 3, 2, 8, 0, tzinfo=UTC)
_COOKS_A_DAY = 12
_BETWEEN = timedelta(minutes=40)
_GIVE_UP_AFTER = 3
"""Assessments running that say 'stalled' before the rehearsal ends."""
_WORDS = {"core_temperature_c": "core", "cook_loss_pct": "cook loss"}


def rehearsal_names() -> tuple[str, ...]:
    """Names of the simulated kitchens; any whole number is the seed of a further one."""
    from tuner.rehearsal import names

    return tuple(names())


def rehearse(
    *, kitchen: str | int, seed: int = 0, budget: int = 30, progress: Callable[[int, str], None] | None = None
) -> RehearsalReport:
    """Play a development from first guess to proof in a simulated kitchen.

    Parameters
    ----------
    kitchen
        Name, or a whole number as the seed of a new one.
    seed
        Of portions, errors and proposals; the same seed tells the same story.
    budget
        Most cooks, 1 to 200.
    progress
        Called after each cook with its number and what happened.

    Raises
    ------
    InvalidDocument
        If there is no such kitchen, or the budget is out of range.
    """
    import numpy as np

    from tuner.learning import learn
    from tuner.rehearsal import kitchen as kitchen_of

    if not 1 <= budget <= MOST_COOKS:
        raise InvalidDocument([f"budget is {budget}. A rehearsal has 1 to {MOST_COOKS} cooks. Give such a number."])
    scene = kitchen_of(kitchen)
    rng = np.random.default_rng(seed)
    cooks: list[TestCook] = []
    story = [_opening(scene)]
    stalled = 0
    learned = learn(scene.brief, scene.oven, ())
    assessment = learned.assess()
    while len(cooks) < budget and assessment.status != "proven" and stalled < _GIVE_UP_AFTER:
        [proposal] = learned.propose(count=1, seed=seed)
        cook = scene.cook(proposal.program, rng, purpose=proposal.purpose, cooked_at=_cooked_at(len(cooks)))
        cooks.append(cook)
        learned = learn(scene.brief, scene.oven, tuple(cooks))
        assessment = learned.assess()
        stalled = stalled + 1 if assessment.status == "stalled" else 0
        story.append(_told(len(cooks), proposal, cook, scene.brief, assessment))
        if progress is not None:
            progress(len(cooks), story[-1])
    best = assessment.best_program
    inside = scene.inside(best, np.random.default_rng(seed + 1), PORTIONS_TRIED) if best is not None else None
    return RehearsalReport(
        kitchen=scene.name,
        cooks=tuple(cooks),
        proven=assessment.status == "proven",
        truly_inside=inside,
        status=assessment.status,
        story=(*story, *_ending(assessment, inside, len(cooks))),
        best_program=best,
    )


def _cooked_at(done: int) -> datetime:
    return _FIRST_COOK + timedelta(days=done // _COOKS_A_DAY) + (done % _COOKS_A_DAY) * _BETWEEN


def _opening(scene: Kitchen) -> str:
    portion = scene.brief.portion
    return (
        f"{scene.brief.dish}, {portion.mass_g:g} g, {portion.start_state}, in {scene.oven.name}; a simulated kitchen, "
        f"{scene.brief.tasters} tasters, {scene.brief.confirmation_cooks} confirmation cooks wanted."
    )


def _told(number: int, proposal: Proposal, cook: TestCook, brief: Brief, assessment: Assessment) -> str:
    from tuner.proof import judge
    from tuner.safety import verdict

    outcome = judge(brief, cook)
    measured = {
        "core_temperature_c": f"core {min(cook.readings_c):.1f} °C" if cook.readings_c else "core not measured",
        **{
            name: f"{name} {mark:.2f}"
            for name in ("browning", "texture", "moisture")
            if (mark := cook.panel_mean(name)) is not None
        },
    }
    if cook.cook_loss_pct is not None:
        measured["cook_loss_pct"] = f"loss {cook.cook_loss_pct:.1f} %"
    said = ", ".join(measured[name] for name in ATTRIBUTES if name in measured)
    result = {"pass": "inside every window", "fail": f"outside: {_listed(outcome.outside)}", "pending": "not complete"}
    tasted = "" if verdict(brief, cook).may_taste else " Nobody tasted it: not known to be safe."
    return (
        f"Cook {number} ({proposal.purpose.replace('_', ' ')}, {minutes_seconds(proposal.program.duration_s)}): {said}; "
        f"{result[outcome.result]}.{tasted} Now {assessment.status}."
    )


def _listed(names: Sequence[str]) -> str:
    return ", ".join(_WORDS.get(name, name) for name in names)


def _ending(assessment: Assessment, inside: float | None, cooks: int) -> tuple[str, ...]:
    if inside is None:
        return (f"After {cooks} cooks: {assessment.status}, without a program to show.", *assessment.advice)
    truth = f"Its best program is truly inside every window in {100 * inside:.0f} % of {PORTIONS_TRIED} further portions."
    return (f"After {cooks} cooks: {assessment.status}. {truth}", *assessment.advice)
