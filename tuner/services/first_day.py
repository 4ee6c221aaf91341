"""A first day's plan: six to eight cooks spread around the first guess, so that one day tells most."""

from __future__ import annotations

import contextlib
from collections.abc import Sequence
from typing import TYPE_CHECKING

from tuner.domain import Forecast, InvalidDocument, NoLegalProgram, Program, Proposal
from tuner.services.actor import Actor
from tuner.services.issuing import issue
from tuner.services.knowing import learned_of
from tuner.services.loading import Loaded, load, refuse_unless_open
from tuner.services.proposal_states import refused_programs, states_of
from tuner.services.spread_programs import CHANGES, variants
from tuner.services.viewing import proposal_record
from tuner.services.views import ProposalRecord
from tuner.services.workspace import Workspace

if TYPE_CHECKING:
    from tuner.learning import Learned

FEWEST, MOST = 6, 8
SEED = 0

_GUESS = "The first guess, as physics sees it."
_BEST = "The program that looks best now."
_AGAIN = "The first program once more, later in the day: how much two equal cooks differ says what a change is worth."
_COLD = "It may stay below the critical limit: measure it, and taste only if the verdict says so."
CLEARLY_AWAY_K = 8.0
"""How far the core of a deliberate extreme is moved [K]: beyond the spread of equal cooks (common practice, no source)."""
_MAY_BE_COLD = 0.9
"""Below this chance of reaching the limit the cook sheet says so."""


def first_day_plan(space: Workspace, who: Actor, *, development_id: str, count: int = 6) -> tuple[ProposalRecord, ...]:
    """Plan the first day: the first guess twice, one deliberate extreme each way, and changes of one thing at a time.

    The first guess is cooked first and again last; between them the order is drawn by lot, so that a warming oven is not
    taken for the effect of a program. Asked again for the same brief and oven, the same plan is given.

    Parameters
    ----------
    count
        Cooks of the day, 6 to 8; fewer are planned where the oven can be set to so few programs only.

    Raises
    ------
    Conflict
        If cooks came in while it was computed.
    InvalidDocument
        If `count` is not 6 to 8.
    NoLegalProgram
        If no program can be set on the oven within the brief.
    NotAllowed
        If the development is closed.
    NotFound
        If there is no such development, or none this person may see.
    """
    if not FEWEST <= count <= MOST:
        raise InvalidDocument([f"count is {count}. A first day has {FEWEST} to {MOST} cooks. Give such a number."])
    loaded = load(space, who, development_id)
    refuse_unless_open(loaded.development)
    planned = _plan_there(loaded)
    if planned:
        return planned
    learned = learned_of(space, loaded)
    [guess] = learned.propose(count=1, seed=SEED, refused=refused_programs(loaded))
    programs, words = _spread(learned, guess, loaded, count - 2)
    missing = count - 2 - len(programs)
    if missing > 0:  # an oven with few settings leaves little room: what learning would look at next fills the day
        more = _others(learned, missing, (guess.program, *programs), refused_programs(loaded))
        programs, words = [*programs, *(one.program for one in more)], [*words, *(one.reasons[0] for one in more)]
    order = _by_lot(len(programs))
    day = [guess.program, *(programs[place] for place in order), guess.program]
    reasons = [_GUESS if guess.purpose == "first_guess" else _BEST, *(words[place] for place in order), _AGAIN]
    proposals = _proposals(day, reasons, learned.forecast(day), guess)
    return issue(space, who, loaded, proposals, kind="first_day", seed=SEED, asked={"count": count})


def _plan_there(loaded: Loaded) -> tuple[ProposalRecord, ...]:
    """The plan made for this brief and oven, if there is one."""
    states = states_of(loaded)
    return tuple(
        proposal_record(kept, states[kept.id])
        for kept in loaded.proposals
        if kept.kind == "first_day"
        and kept.brief_version == loaded.development.brief_version
        and kept.oven_version == loaded.oven_record.version
    )


def _spread(learned: Learned, guess: Proposal, loaded: Loaded, count: int) -> tuple[list[Program], list[str]]:
    """Up to `count` programs around the guess, all different, each with what it changes in words."""
    programs: list[Program] = []
    words: list[str] = []
    for change in CHANGES:
        taken = {guess.program.key, *(program.key for program in programs)}
        options = [one for one in variants(guess.program, change, loaded.brief, loaded.oven) if one.key not in taken]
        if options and len(programs) < count:
            programs.append(_far_enough(learned, guess, options) if change.extreme else options[0])
            words.append(change.words)
    return programs, words


def _far_enough(learned: Learned, guess: Proposal, options: Sequence[Program]) -> Program:
    """The mildest of ever stronger programs whose core is expected clearly away from the guess's, else the strongest."""
    middle = guess.forecast.attributes["core_temperature_c"].mean
    away = [abs(one.attributes["core_temperature_c"].mean - middle) for one in learned.forecast(options)]
    return next((option for option, kelvin in zip(options, away, strict=True) if kelvin >= CLEARLY_AWAY_K), options[-1])


def _others(learned: Learned, count: int, pending: Sequence[Program], refused: Sequence[Program]) -> list[Proposal]:
    """Up to `count` further programs; fewer where the oven can't be set to more."""
    for fewer in range(count, 0, -1):
        with contextlib.suppress(NoLegalProgram):
            return learned.propose(count=fewer, seed=SEED, pending=pending, refused=refused)
    return []


def _by_lot(count: int) -> list[int]:
    import numpy as np

    return [int(place) for place in np.random.default_rng(SEED).permutation(count)]


def _proposals(
    day: Sequence[Program], reasons: Sequence[str], forecasts: Sequence[Forecast], guess: Proposal
) -> tuple[Proposal, ...]:
    made = []
    for place, (program, reason, forecast) in enumerate(zip(day, reasons, forecasts, strict=True)):
        warned = (_COLD,) if forecast.chance_safe < _MAY_BE_COLD else ()
        first = guess.reasons if place == 0 else ()
        document = {
            "program": program,
            "purpose": guess.purpose if place == 0 else "search",
            "forecast": forecast,
            "reasons": (reason, *warned, *first),
        }
        made.append(Proposal.model_validate(document))
    return tuple(made)
