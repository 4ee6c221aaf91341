"""The eat gate: may this portion be tasted, by these people, today."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from tuner.domain import Brief, Ingredient, Score, TestCook
from tuner.safety.decision import verdict

_WAY_ON = {
    "not_safe": "Not safe: top up once with a proven program, or discard. Wash hands, tray and thermometer.",
    "unknown": "Unknown counts as not safe: add what is missing, or discard.",
}


@dataclass(frozen=True, slots=True)
class Gate:
    """Whether tasting is allowed, and every reason against it."""

    allowed: bool
    reasons: tuple[str, ...]


def tasted(score: Score) -> bool:
    """Whether a score says that somebody ate: texture, moisture or anything further. Browning is judged by eye."""
    return score.texture is not None or score.moisture is not None or bool(score.other)


def eat_gate(brief: Brief, cook: TestCook, may_taste: Mapping[str, bool] | None) -> Gate:
    """Decide whether a cook may be tasted.

    Allowed only when the verdict is safe to taste, the allergens are known, and each taster said "may taste today". There
    is no "taste anyway".

    Parameters
    ----------
    brief, cook
        What was wanted and what was cooked.
    may_taste
        Taster -> said yes today; None where nobody was asked. Every taster whose score says that they ate must be in it.
        No reason is asked or kept.
    """
    reasons = (*_temperature(brief, cook), *_allergens(brief), *_tasters(cook, may_taste))
    return Gate(allowed=not reasons, reasons=reasons)


def _temperature(brief: Brief, cook: TestCook) -> Iterator[str]:
    decided = verdict(brief, cook)
    if not decided.may_taste:
        yield _WAY_ON[decided.status]
        yield from decided.reasons


def _allergens(brief: Brief) -> Iterator[str]:
    if brief.allergens is None:
        yield "Allergens are unknown, and unknown is not none. Give the list in the brief; an empty list says there are none."
        return
    declared = {name.strip().casefold() for name in brief.allergens}
    for ingredient in brief.ingredients or ():
        if isinstance(ingredient, Ingredient):
            for name in ingredient.allergens or ():
                if name.strip().casefold() not in declared:
                    yield f"{ingredient.name} contains {name}, which the brief's allergens lack. Correct the list first."


def _tasters(cook: TestCook, may_taste: Mapping[str, bool] | None) -> Iterator[str]:
    asked = may_taste or {}
    if not asked:
        yield "Nobody has said 'may taste today' yet. Ask each taster."
        return
    eating = dict.fromkeys(score.taster for score in cook.scores or () if tasted(score))
    for taster in eating or asked:
        if taster not in asked:
            yield f"Taster {taster} was not asked 'may taste today'. Ask first."
        elif asked[taster] is not True:
            yield f"Taster {taster} does not taste today. Leave their texture, moisture and further marks out."
