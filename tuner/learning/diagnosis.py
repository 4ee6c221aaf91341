"""Why a cook came out as it did: cause before cure.

The last cook is held against what the cooks before it made the model expect. What is wrong is shared out among causes
(`shares_of_blame`); the trade's rules for its signs are named with their sizes, and with this development's own once it has
cooks enough.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np

from tuner.domain import ATTRIBUTES, Brief, InvalidDocument, Oven, TestCook
from tuner.learning.aim import marks_of
from tuner.learning.cause_words import checks_for, evidence_for
from tuner.learning.diagnosis_results import Cause, Diagnosis, Symptom
from tuner.learning.goals import goals_of
from tuner.learning.learned import Learned, learned_from
from tuner.learning.observations import observe
from tuner.learning.own_slopes import remedies_for
from tuner.learning.priors import Earlier
from tuner.learning.program_table import Array
from tuner.learning.scores import slope_at, unclipped_latent
from tuner.learning.shares_of_blame import Blame, blame_of
from tuner.learning.signs import off_by, signs_of
from tuner.learning.suspects import CauseName, Facts, facts_of
from tuner.learning.trade_table import matching

NOISE_STANDARD_ERRORS = 1.5
"""What lies closer to its window than this many standard errors of one cook is no reason to change a program."""
UNLIKE_FORECAST = 2.6
"""A measurement farther than this many spreads from its forecast is a symptom although it is inside its window."""

_MOST_NEWEST, _FEWEST_BEFORE = 3, 3
_LOWEST, _HIGHEST = (
    ("core too cold", "too pale", "too soft", "too dry", "loss too low"),
    ("core too hot", "too dark", "too firm", "too wet", "loss too high"),
)
_LEAST_SHARE = 0.02
_OFF_CENTRE = 0.5
"""A program forecast within so much of a half-width from the aim is not to blame for where its cook ended."""


def diagnose(
    brief: Brief, oven: Oven, cooks: Sequence[TestCook], *, earlier: Earlier = (), seen: Iterable[str] = ()
) -> Diagnosis:
    """Find the cause of what is wrong with the last cook that had a program.

    Parameters
    ----------
    brief, oven, cooks, earlier
        As for `learn`.
    seen
        Signs that people saw, of `SEEN_SIGNS`.

    Returns
    -------
    Diagnosis
        Causes, the likeliest first; 'program' is only one of them. Rules of the trade for the signs.

    Raises
    ------
    InvalidDocument
        If no cook had a program, or a sign is not known.
    """
    cooks = [cook for cook in cooks if cook.done_program is not None]
    if not cooks:
        raise InvalidDocument(["cooks holds no cook with a program. There is nothing to diagnose. Log a test cook first"])
    goals, last = goals_of(brief), cooks[-1]
    signs = signs_of(brief, oven, goals, last, seen)
    count = min(_MOST_NEWEST, max(len(cooks) - _FEWEST_BEFORE, 1))
    base = learned_from(brief, oven, cooks[:-count], earlier)
    newest = cooks[-count:]
    arrays = observe(brief, oven, [_plain(cook) for cook in newest], base.view.noise)
    facts = facts_of(brief, oven, cooks)
    blame = blame_of(base, newest, arrays, facts)
    off = off_by(last, goals)
    symptoms = _symptoms(off, blame, base)
    causes = _causes(brief, oven, last, facts, blame, symptoms, base, off)
    learned = learned_from(brief, oven, cooks, earlier) if symptoms else base
    remedies, conflicts = remedies_for(learned, last, matching(signs), off) if symptoms or seen else ((), ())
    return Diagnosis(
        cook=len(cooks),
        symptoms=symptoms,
        causes=causes,
        repeat_first=bool(causes) and causes[0].cause == "chance",
        remedies=remedies,
        conflicts=conflicts,
    )


def _plain(cook: TestCook) -> TestCook:
    """A cook without what makes it a weaker witness: here that is what is asked about."""
    return cook.model_copy(update={"completed": None, "oven_serial": None, "load": None})


def _to_marks(blame: Blame) -> Array:
    """Units of each attribute per unit of state at what was expected, (5,)."""
    marks = marks_of(blame.expected[None, :])[0]
    return np.array([1.0, *slope_at(marks[1:4]), 1.0])


def _symptoms(off: Array, blame: Blame, base: Learned) -> tuple[Symptom, ...]:
    """What is outside its window, else what is unlike its forecast; the worst first."""
    per_state, half = _to_marks(blame), base.goals.half_width
    found = []
    for column, name in enumerate(ATTRIBUTES):
        if np.isnan(off[column]) or abs(off[column]) <= 1.0:
            continue
        beyond = (abs(off[column]) - 1.0) * float(half[column])
        errors = beyond / max(float(blame.noise_sd[column] * per_state[column]), 1e-9)
        found.append((abs(float(off[column])), column, name, float(np.sign(off[column])), beyond, errors, True))
    if not found:
        for column, name in enumerate(ATTRIBUTES):
            surprise = float(blame.surprise[column])
            if np.isfinite(surprise) and abs(surprise) >= UNLIKE_FORECAST:
                gap = float(abs(blame.measured[column] - blame.expected[column]) * per_state[column])
                found.append((abs(surprise), column, name, float(np.sign(surprise)), gap, abs(surprise), False))
    found.sort(key=lambda item: (-round(item[0], 9), item[1]))
    return tuple(
        Symptom(
            attribute=name,
            side=1 if side > 0 else -1,
            words=(_HIGHEST if side > 0 else _LOWEST)[column] if outside else f"{name.replace('_', ' ')} unlike its forecast",
            beyond=beyond,
            standard_errors=errors,
            outside=outside,
        )
        for _, column, name, side, beyond, errors, outside in found
    )


def _causes(
    brief: Brief,
    oven: Oven,
    last: TestCook,
    facts: Facts,
    blame: Blame,
    symptoms: tuple[Symptom, ...],
    base: Learned,
    off: Array,
) -> tuple[Cause, ...]:
    if not symptoms:
        return ()
    shares = _shares(blame, symptoms, base, off)
    order = sorted(shares, key=lambda cause: (-round(shares[cause], 9), cause))
    return tuple(
        Cause(
            cause=cause,
            share=shares[cause],
            evidence_for=evidence_for(cause, brief, oven, last, facts, blame, favour=True),
            evidence_against=evidence_for(cause, brief, oven, last, facts, blame, favour=False),
            checks=checks_for(cause),
        )
        for cause in order
        if shares[cause] >= _LEAST_SHARE
    )


def _shares(blame: Blame, symptoms: tuple[Symptom, ...], base: Learned, off: Array) -> dict[CauseName, float]:
    """Share of each cause in the symptoms, each symptom weighed by its size; they add up to 1."""
    aim, room = _aim(base), _OFF_CENTRE * base.goals.half_width / _to_marks(blame)
    total: dict[CauseName, float] = {}
    for symptom in symptoms:
        column = ATTRIBUTES.index(symptom.attribute)
        weight = abs(float(off[column])) if symptom.outside else 1.0
        parts = {cause: symptom.side * float(step[column]) for cause, step in blame.steps.items()}
        if symptom.outside:
            off_aim = symptom.side * float(blame.ordered[column] - aim[column])
            parts["program"] = parts.get("program", 0.0) + max(off_aim - float(room[column]), 0.0)
        positive = {cause: max(part, 0.0) for cause, part in parts.items()}
        whole = sum(positive.values()) or 1.0
        for cause, part in positive.items():
            total[cause] = total.get(cause, 0.0) + weight * part / whole
    whole = sum(total.values()) or 1.0
    return {cause: value / whole for cause, value in total.items()}


def _aim(base: Learned) -> Array:
    """Where the brief aims, as a state (5,)."""
    aim = base.goals.centre.copy()
    aim[1:4] = unclipped_latent(aim[1:4])
    return aim


__all__ = ["Diagnosis", "diagnose"]
