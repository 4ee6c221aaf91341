"""Who may ask for less than the default critical limit: never the recipe's developer."""

from __future__ import annotations

from tuner.domain import Brief, NotAllowed
from tuner.services.actor import APPROVER, Actor


def same_person(one: str, other: str) -> bool:
    """Whether two names mean one person; spaces and capitals do not make another."""
    return " ".join(one.split()).casefold() == " ".join(other.split()).casefold()


def asks_for_less(brief: Brief) -> str:
    """What in the brief's own limit asks for less than the default, in words; empty where nothing does."""
    from tuner.safety import effective_limit, is_below_default

    own = brief.critical_limit
    if own is None:
        return ""
    default = effective_limit(without_limit(brief))
    if is_below_default(brief):
        asked = "nothing to kill" if own.none else f"{own.core_temperature_c:g} °C held {own.hold_s:g} s"
        return f"{asked} where the default is {default.core_temperature_c:g} °C held {default.hold_s:g} s"
    if not own.none and own.guard_c < default.guard_c:
        return f"a guard of {own.guard_c:g} °C where the default is {default.guard_c:g} °C"
    return ""


def refuse_own_approval(brief: Brief, who: Actor, *, developer: str, before: Brief | None = None) -> None:
    """Refuse a critical limit that the developer may not set.

    Parameters
    ----------
    brief
        As it would be kept.
    who
        Who sends it.
    developer
        Who started the development.
    before
        The version it replaces; a limit that an approver set there may stay.

    Raises
    ------
    NotAllowed
        If the developer is named as approver, or a limit below the default comes from anybody but another person who is
        food-safety approver, with rule and approver.
    """
    limit = brief.critical_limit
    if limit is None or (before is not None and same_limit(brief, before)):
        return
    if limit.approved_by is not None and same_person(limit.approved_by, developer):
        raise NotAllowed(
            f"critical_limit, approved_by is {limit.approved_by!r}, who develops this recipe. A limit is approved by another "
            "person than the developer. Name the person with the food-safety role who approved it."
        )
    less = asks_for_less(brief)
    if not less:
        return
    if not who.is_approver or same_person(who.name, developer):
        raise NotAllowed(
            f"critical_limit asks for {less}. Less than the default of the food class is not taken from the recipe's "
            f"developer. Leave critical_limit out to take the default, and let a {APPROVER} enter this limit with its rule."
        )
    missing = [name for name in ("rule", "approved_by") if not getattr(limit, name)]
    if missing:
        raise NotAllowed(
            f"critical_limit asks for {less}, and {' and '.join(missing)} is missing. Such a limit stands on a named rule and "
            "a named approver. Add both."
        )


def same_limit(brief: Brief, before: Brief) -> bool:
    """Whether the limit and everything that decides its default are as before."""
    return (
        brief.critical_limit == before.critical_limit
        and brief.food_class == before.food_class
        and brief.portion.intact == before.portion.intact
        and brief.market == before.market
        and brief.cook_before_eating == before.cook_before_eating
    )


def without_limit(brief: Brief) -> Brief:
    """The brief with its own critical limit left out, so that the default counts."""
    document = brief.model_dump(exclude_unset=True)
    document.pop("critical_limit", None)
    return Brief.model_validate(document)
