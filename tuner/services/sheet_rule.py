"""What a device needs to decide the verdict of a cook by itself, as plain JSON: the rule of `tuner.safety.verdict` in figures.

The device has no trace of temperatures; everything else that the verdict asks for is here. The server's own verdict counts.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tuner.domain import Brief

if TYPE_CHECKING:
    from tuner.store import Plain

_MINUTE_S = 60.0


def sheet_rule(brief: Brief) -> dict[str, Plain]:
    """The critical limit in force for a brief, and what the verdict asks for beside it.

    `rest_s` is the longer of the brief's and the limit's [s]; `minutes_per_held_min` are the equivalent minutes that one minute
    at the limit temperature is worth, None where the limit asks for no minutes.
    """
    from tuner.safety import effective_limit, lethality_min

    limit = effective_limit(brief)
    worth = None
    if limit.minutes_rule is not None:
        _, reference_c, z_c = limit.minutes_rule
        at_c = limit.core_temperature_c or 0.0
        worth = float(lethality_min([0.0, _MINUTE_S], [at_c, at_c], reference_c=reference_c, z_c=z_c))
    return {
        "none": limit.none,
        "limit_c": limit.core_temperature_c,
        "guard_c": limit.guard_c,
        "pass_line_c": limit.pass_line_c,
        "places": brief.places,
        "rest_s": max(brief.rest_s, limit.rest_s),
        "covered": limit.covered,
        "hold_s": limit.hold_s,
        "required_min": limit.minutes_rule[0] if limit.minutes_rule else None,
        "minutes_per_held_min": worth,
        "approved": limit.approved,
        "rule": limit.rule,
        "edition": limit.edition,
        "approved_by": limit.approved_by,
        "allergens_known": _allergens_known(brief),
    }


def _allergens_known(brief: Brief) -> bool:
    """Whether the list of allergens is complete as far as the brief tells."""
    from tuner.domain import Ingredient

    if brief.allergens is None:
        return False
    declared = {name.strip().casefold() for name in brief.allergens}
    named = (name for one in brief.ingredients or () if isinstance(one, Ingredient) for name in one.allergens or ())
    return all(name.strip().casefold() in declared for name in named)
