"""What should be asked about the critical limit of a brief before anyone cooks."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from tuner.domain import Brief
from tuner.domain.plausibility import Question
from tuner.safety.limit_in_force import EffectiveLimit, default_row, effective_limit, is_below_default
from tuner.safety.limit_row import LimitRow
from tuner.safety.limit_rows import RAW_ANIMAL
from tuner.safety.markets import markets_of


def questions_about_limit(brief: Brief, *, today: date | None = None) -> tuple[Question, ...]:
    """Open questions about the limit that the brief's `confirmed` does not name yet.

    Parameters
    ----------
    brief
        What is wanted.
    today
        Where given, a shipped row past its review date is asked about.
    """
    limit, row = effective_limit(brief), default_row(brief)
    asked = (
        *_approval(brief, limit),
        *_below_default(brief, limit, row),
        *_food(brief),
        *_market(brief),
        *_moved(brief, limit),
        *_window(brief, limit),
        *_review(limit, row, today),
    )
    confirmed = set(brief.confirmed or ())
    return tuple(question for question in asked if question.code not in confirmed)


def _ask(code: str, field: str, text: str, value: float | None = None) -> Question:
    return Question(code=code, field=field, value=value, text=text)


def _approval(brief: Brief, limit: EffectiveLimit) -> Iterator[Question]:
    if not limit.approved:
        what = "nothing to kill" if limit.none else f"{limit.core_temperature_c:g} °C"
        yield _ask(
            "critical_limit.approved_by",
            "critical_limit",
            f"The limit ({what}, {limit.rule or 'no rule named'}) has no approver, so no cook can be safe to taste. Who with a "
            "food-safety role approves rule and limit?",
        )
    if brief.eaters == "vulnerable" and is_below_default(brief):
        yield _ask("eaters", "eaters", "The eaters are vulnerable and the limit lies below the default. Take the full limit.")


def _below_default(brief: Brief, limit: EffectiveLimit, row: LimitRow) -> Iterator[Question]:
    own = brief.critical_limit
    if is_below_default(brief):
        yield _ask(
            "critical_limit.below_default",
            "critical_limit",
            f"{limit.why} Is it approved, and by somebody else than the developer?",
        )
    elif own is not None and not own.none and (own.rest_s < row.rest_s or (row.covered and not own.covered)):
        covered = " covered" if row.covered else ""
        yield _ask(
            "critical_limit.rest_s",
            "critical_limit.rest_s",
            f"{row.authority} {row.rule} asks for a{covered} rest of {row.rest_s:g} s, the brief's limit for less. Has the "
            "authority accepted that in writing?",
            own.rest_s,
        )


def _food(brief: Brief) -> Iterator[Question]:
    if brief.food_class in {"whole_muscle", "fish"} and brief.portion.intact is None:
        yield _ask("portion.intact", "portion.intact", "Is the piece intact? Injected or tenderised counts as ground.")
    if brief.food_class == "bakery" and brief.critical_limit is None:
        yield _ask(
            "food_class",
            "food_class",
            "Does anything raw need killing (raw flour, egg, cream, filling)? Then take that component's food class or limit.",
        )
    if brief.food_class == "plant" and brief.cook_before_eating is None and brief.critical_limit is None:
        yield _ask(
            "cook_before_eating",
            "cook_before_eating",
            "Sold to be cooked before eating? Then 70 °C for 2 minutes counts.",
        )


def _market(brief: Brief) -> Iterator[Question]:
    if brief.market and not markets_of(brief.market):
        yield _ask(
            "market",
            "market",
            f"No limits are shipped for market {brief.market!r}; the class default counts. What does the local code ask for?",
        )


def _moved(brief: Brief, limit: EffectiveLimit) -> Iterator[Question]:
    """The microwave rule asks for turning or stirring, which these ovens rarely do."""
    microwave_rule = brief.food_class in (*RAW_ANIMAL, "reheated") and limit.covered
    if microwave_rule and not (brief.critical_limit and brief.critical_limit.moved):
        yield _ask(
            "critical_limit.moved",
            "critical_limit.moved",
            "The rule asks for food that is turned or stirred. How is that met: a turning or stirring system, a stop and turn, "
            "or the authority's acceptance in writing?",
        )


def _window(brief: Brief, limit: EffectiveLimit) -> Iterator[Question]:
    window, line = brief.targets.core_temperature_c, limit.pass_line_c
    if window is None or line is None:
        return
    if window.high is not None and line >= window.high:
        yield _ask(
            f"targets.core_temperature_c.high={window.high:g}",
            "targets.core_temperature_c.high",
            f"The window ends at {window.high:g} °C, but limit + guard is {line:g} °C: nothing fits. Raise the high edge.",
            window.high,
        )
    elif window.low is not None and window.low < line:
        yield _ask(
            f"targets.core_temperature_c.low={window.low:g}",
            "targets.core_temperature_c.low",
            f"The window begins at {window.low:g} °C, but limit + guard is {line:g} °C, and that is the usable low edge.",
            window.low,
        )


def _review(limit: EffectiveLimit, row: LimitRow, today: date | None) -> Iterator[Question]:
    if today is not None and limit.is_default and today > date.fromisoformat(row.review_by):
        yield _ask(
            "critical_limit.review",
            "critical_limit",
            f"{row.rule} was to be reviewed by {row.review_by}. Look the current edition up before relying on it.",
        )
