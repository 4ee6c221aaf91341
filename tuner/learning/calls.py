"""The calls on a development: learn, propose, forecast, assess, first guess. Pure: the same arguments give the same answer."""

from __future__ import annotations

from collections.abc import Sequence

from tuner.domain import Assessment, Brief, Forecast, Oven, Portion, Program, Proposal, TestCook
from tuner.learning.learned import Learned, learned_from
from tuner.learning.memo import Memo
from tuner.learning.priors import Earlier, Prior

_LEARNED: Memo[Learned] = Memo(8)
_PRIORS: Memo[Prior] = Memo(4)


def _prior_of(earlier: Earlier) -> Prior:
    from tuner.learning.priors import prior

    if isinstance(earlier, Prior):
        return earlier
    if not earlier:
        return Prior()
    key = tuple(
        (brief.model_dump_json(), oven.model_dump_json(), tuple(cook.model_dump_json() for cook in cooks))
        for brief, oven, cooks in earlier
    )
    return _PRIORS.get(key, lambda: prior(earlier))


def learn(brief: Brief, oven: Oven, cooks: Sequence[TestCook], *, earlier: Earlier = ()) -> Learned:
    """Learn from a development's cooks.

    Parameters
    ----------
    brief, oven
        What is wanted, and where.
    cooks
        In the order of cooking; what a cook lacks is left out, never imputed.
    earlier
        What was cooked before, for any dishes on any ovens: (brief, oven, cooks) of each, or a `Prior` made from them.

    Returns
    -------
    Learned
        Frozen; its `forecast`, `propose` and `assess` answer like the calls of these names.
    """
    known = _prior_of(earlier)
    key = (
        brief.model_dump_json(),
        oven.model_dump_json(),
        tuple(cook.model_dump_json() for cook in cooks),
        known.model_dump_json(),
    )
    return _LEARNED.get(key, lambda: learned_from(brief, oven, cooks, known))


def propose(
    brief: Brief,
    oven: Oven,
    cooks: Sequence[TestCook],
    *,
    count: int = 1,
    seed: int = 0,
    earlier: Earlier = (),
    pending: Sequence[Program] = (),
    refused: Sequence[Program] = (),
) -> list[Proposal]:
    """Propose what to cook next.

    Parameters
    ----------
    brief, oven, cooks, earlier
        As for `learn`.
    count
        Number of proposals, 1 to 20; distinct except for repeats with purpose `confirm`.
    seed
        Of the search; the same seed finds the same programs.
    pending
        Programs that are about to be cooked: not proposed again, and counted as cooks to come.
    refused
        Programs that are never proposed.

    Raises
    ------
    NoLegalProgram
        If no step of the oven lies inside the duration window, or fewer programs are left than asked for.
    InvalidDocument
        If `count` is outside 1 to 20.
    """
    return learn(brief, oven, cooks, earlier=earlier).propose(count=count, seed=seed, pending=pending, refused=refused)


def first_guess(brief: Brief, oven: Oven, *, earlier: Earlier = ()) -> Proposal:
    """Propose the first program, from physics and earlier developments alone.

    Its purpose is `first_guess` also where no program is expected to reach every window; the first reason then says what
    stands in the way.

    Raises
    ------
    NoLegalProgram
        If no step of the oven lies inside the duration window.
    """
    [found] = learn(brief, oven, (), earlier=earlier).propose(count=1)
    return Proposal(program=found.program, purpose="first_guess", forecast=found.forecast, reasons=found.reasons)


def forecast(
    brief: Brief,
    oven: Oven,
    cooks: Sequence[TestCook],
    programs: Sequence[Program],
    *,
    portion: Portion | None = None,
    earlier: Earlier = (),
) -> list[Forecast]:
    """Forecast one further cook of each program, on the oven's steps or not.

    Parameters
    ----------
    portion
        A portion at hand: its mass and start temperature are taken as known.
    """
    return learn(brief, oven, cooks, earlier=earlier).forecast(programs, portion=portion)


def assess(brief: Brief, oven: Oven, cooks: Sequence[TestCook], *, earlier: Earlier = ()) -> Assessment:
    """Say where a development stands and what to do next."""
    return learn(brief, oven, cooks, earlier=earlier).assess()
