"""Finds kitchens by name or seed."""

from __future__ import annotations

import difflib
import operator
from functools import lru_cache

from tuner.domain import NotFound
from tuner.rehearsal.construction import UnwinnableError, build
from tuner.rehearsal.invented import invented_plan
from tuner.rehearsal.named import NAMED
from tuner.rehearsal.plan import KitchenPlan
from tuner.rehearsal.simulated import Kitchen


def names() -> list[str]:
    """Names of the named kitchens."""
    return list(NAMED)


_DRAWS = 12
"""Plans of a seed that are tried; nearly always the first can be won."""


def _furnished(plan: KitchenPlan) -> Kitchen:
    built = build(plan)
    return Kitchen(
        name=plan.name,
        brief=built.brief,
        oven=plan.oven,
        bench=built.task.bench,
        scale=built.task.scale,
        panel=built.panel,
        good_program=built.good_program,
        order_decides=built.order_decides,
    )


@lru_cache(maxsize=128)
def _named(name: str) -> Kitchen:
    return _furnished(NAMED[name])


@lru_cache(maxsize=128)
def _invented(seed: int) -> Kitchen:
    for draw in range(_DRAWS - 1):
        try:
            return _furnished(invented_plan(seed, draw))
        except UnwinnableError:
            continue
    return _furnished(invented_plan(seed, _DRAWS - 1))


def kitchen(name_or_seed: str | int) -> Kitchen:
    """A simulated kitchen.

    Parameters
    ----------
    name_or_seed
        One of `names()`, or any whole number, also written as text: the seed of a new kitchen, the same for the same number.

    Raises
    ------
    tuner.domain.NotFound
        If there is no kitchen of that name.
    """
    if not isinstance(name_or_seed, str):
        return _invented(operator.index(name_or_seed))
    if name_or_seed in NAMED:
        return _named(name_or_seed)
    try:
        seed = int(name_or_seed)
    except ValueError:
        near = difflib.get_close_matches(name_or_seed, NAMED, n=1)
        hint = f"Did you mean {near[0]!r}?" if near else f"Known: {', '.join(NAMED)}."
        raise NotFound(f"kitchen {name_or_seed!r} is not known. Give a name or a whole number as seed. {hint}") from None
    return _invented(seed)
