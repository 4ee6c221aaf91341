"""Where a development stands, in words: nothing reassuring before it is proven."""

from __future__ import annotations

from tuner.screens.marks.verdict import standing
from tuner.screens.marks.words import counted, number, percent
from tuner.services import DevelopmentView


def _head(view: DevelopmentView) -> str:
    found = view.assessment
    passed, needed = found.confirmations.passed, found.confirmations.needed
    cooks = len({record.number for record in view.cooks})
    return {
        "gathering": "No cook yet" if cooks == 0 else f"No cook has passed yet: {counted(cooks, 'cook')} so far",
        "candidate": f"A candidate: one cook passed, {counted(needed, 'confirmation')} to go",
        "confirming": f"Not proven yet: {passed} of {counted(needed, 'confirmation')}",
        "proven": "Proven",
        "stalled": "Stalled",
    }[found.status]


def _cooks_left(view: DevelopmentView) -> str:
    found = view.assessment
    if found.cooks_left_estimate is None or found.status == "proven":
        return ""
    text = f"About {counted(max(1, round(found.cooks_left_estimate)), 'cook')} left"
    if found.cooks_left_range:
        low, high = found.cooks_left_range
        text += f", between {number(low, 0)} and {number(high, 0)}"
    return text + "."


def facts(view: DevelopmentView) -> list[tuple[str, str]]:
    """Pairs of state and sentence: reliability, cooks left, advice."""
    found = view.assessment
    lines: list[tuple[str, str]] = []
    if found.best_program is not None:
        chance = f"{percent(found.chance_reliable)} chance that 9 in 10 further cooks of the best program would lie inside"
        tail = "." if found.status == "proven" else ": not proven by that."
        lines.append(("inside" if found.status == "proven" else "unknown", chance + tail))
    if found.status == "proven" and not any("food-safety" in text for text in found.advice):
        lines.append(("unknown", "Proven by the simple rule. That is no food-safety claim: a release needs its proof plan."))
    lines += [("", text) for text in (_cooks_left(view),) if text]
    state = "outside" if found.status == "stalled" else ""
    return lines + [(state, text) for text in found.advice]


def standing_of(view: DevelopmentView) -> str:
    """The mark for a development."""
    return standing(_head(view), facts(view), proven=view.assessment.status == "proven")
