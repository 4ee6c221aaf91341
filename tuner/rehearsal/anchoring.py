"""Puts the windows of a brief, and the middle of the panel's scales, around a reference program."""

from __future__ import annotations

from typing import Any

import numpy as np

from tuner.domain import Brief
from tuner.rehearsal.conventional import method_of
from tuner.rehearsal.plan import KitchenPlan
from tuner.rehearsal.reference import longest_s
from tuner.rehearsal.senses import Impression, Scale
from tuner.rehearsal.table import Array, ProgramTable

_WIDEST_CORE_C = 12.0
_SETTLED_MARKS = 0.14
_PULL_MARKS, _OFF_MARKS = 0.22, 0.08
"""How far the middle may be drawn toward the conventional result, and how far it is off at random [marks]."""


def scale_around(chosen: Impression, conventional: Impression, mark: Array, rng: np.random.Generator) -> Scale:
    """Scale whose 3 lies near the reference, drawn a little toward the conventional result, never exactly on either.

    Parameters
    ----------
    chosen
        Natural portions of the reference program.
    conventional
        One portion of the conventional method.
    mark
        Change of colour, firmness and juiciness that is one mark, shape (3,).
    rng
        Draws what it is off.
    """
    here = chosen.latent.mean(axis=1)
    pull = np.clip(0.5 * (conventional.latent[:, 0] - here), -_PULL_MARKS * mark, _PULL_MARKS * mark)
    middle = here + pull + mark * rng.uniform(-_OFF_MARKS, _OFF_MARKS, 3)
    return Scale((middle[0].item(), middle[1].item(), middle[2].item()), (mark[0].item(), mark[1].item(), mark[2].item()))


def settled(scale: Scale, polished: Impression) -> Scale:
    """The scale moved as little as needed for a polished program to read within a small distance of 3."""
    mark, here = np.asarray(scale.per_mark), polished.latent.mean(axis=1)
    off = np.clip((here - np.asarray(scale.middle)) / mark, -_SETTLED_MARKS, _SETTLED_MARKS)
    middle = here - off * mark
    return Scale((middle[0].item(), middle[1].item(), middle[2].item()), scale.per_mark)


def _core_high(plan: KitchenPlan, chosen: Impression) -> float:
    """High edge of the core window: the planned one, raised where the places of this dish differ more."""
    needed = float(np.ceil(np.percentile(chosen.mean_c, 99) + 1.0))
    return float(min(max(plan.core_high_c, needed), plan.usable_low_c + _WIDEST_CORE_C))


def _highest_loss(chosen: Impression) -> float:
    return float(np.ceil(max(np.percentile(chosen.loss_pct, 99) + 0.8, 4.0)))


def brief_around(plan: KitchenPlan, reference: ProgramTable, chosen: Impression, conventional: ProgramTable) -> Brief:
    """The brief, with windows around a reference, its natural portions and the conventional method (tables of one)."""
    longest = min(plan.longest_s, longest_s(reference.duration_s).item())
    marks = {"low": 2.5, "high": 3.5}
    document: dict[str, Any] = {
        "dish": plan.dish,
        "food_class": plan.food_class,
        "allergens": list(plan.allergens),
        "ingredients": list(plan.ingredients),
        "portion": plan.portion.model_dump(mode="json", exclude_unset=True),
        "conventional": {
            "method": method_of(conventional),
            "oven_temperature_c": float(conventional.air_temperature_c[0]),
            "duration_s": float(conventional.duration_s[0]),
        },
        "targets": {
            "core_temperature_c": {"low": plan.core_low_c, "high": _core_high(plan, chosen)},
            "browning": marks,
            "texture": marks,
            "moisture": marks,
            "cook_loss_pct": {"low": 0, "high": _highest_loss(chosen)},
            "duration_s": {"low": 0, "high": longest},
        },
        "critical_limit": plan.limit.model_dump(mode="json", exclude_unset=True),
        "rest_s": plan.rest_s,
        "confirmation_cooks": plan.confirmation_cooks,
        "places": plan.places,
        "tasters": plan.tasters,
        "taster_sd": plan.taster_sd,
        "cook_sd": 0.1,
    }
    return Brief.model_validate(document)
