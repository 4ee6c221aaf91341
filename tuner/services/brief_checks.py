"""What can be said of a brief before anything is saved, and what must be answered before it is."""

from __future__ import annotations

from collections.abc import Iterator

from tuner.domain import SCORES, Brief, NeedsConfirmation, Oven
from tuner.domain.plausibility import questions_about_brief
from tuner.services.views import BriefCheck

_SCORE_WORDS = {"browning": "pale or dark", "texture": "soft or firm", "moisture": "dry or wet"}


def check_brief(brief: Brief, oven: Oven) -> BriefCheck:
    """Whether a brief can be met on an oven, what is unlikely in it, what is still unanswered, and which limit counts."""
    from tuner.learning import feasibility
    from tuner.safety import allergen_list, effective_limit, limit_class, questions_about_limit, rows_for

    known = rows_for(limit_class(brief), brief.market)
    return BriefCheck(
        feasibility=feasibility(brief, oven),
        questions=(*questions_about_brief(brief), *questions_about_limit(brief)),
        missing=tuple(_missing(brief)),
        limit=effective_limit(brief),
        rules=known or rows_for(limit_class(brief)),
        declared=allergen_list(brief.market),
    )


def refuse_unconfirmed(brief: Brief) -> None:
    """Ask once about every unlikely value; a confirmed one carries its code in `confirmed`.

    Raises
    ------
    NeedsConfirmation
        With every open question.
    """
    questions = questions_about_brief(brief)
    if questions:
        raise NeedsConfirmation(questions)


def _missing(brief: Brief) -> Iterator[str]:
    from tuner.safety import allergen_list, effective_limit

    if brief.allergens is None:
        yield (
            "Allergens: unknown is not none. Without the list nobody may taste; an empty list says there are none. Go through "
            f"{', '.join(allergen_list(brief.market))}."
        )
    limit = effective_limit(brief)
    if not limit.approved:
        yield "Approver of the critical limit: until somebody with a food-safety role stands for it, nobody may taste."
    if brief.conventional is None:
        yield "The conventional method: with it the first program starts from what the dish needs."
    if brief.targets.core_temperature_c is None and not limit.none:
        yield "Window of the core temperature: only the limit counts, and nothing says when the core is too hot."
    for name in SCORES:
        if brief.targets.of(name) is None:
            yield f"Window of {name}: without it nobody can say when the dish is too {_SCORE_WORDS[name]}."
    if brief.targets.duration_s is None:
        yield "Longest duration: without it a program may take as long as the oven can run."
    if brief.texture_with_heat is None and brief.targets.texture is not None:
        yield "What more cooking does to the texture, firmer or softer: the chef knows, the tool can only learn it."
