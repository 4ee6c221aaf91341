"""How much of what is wrong with a cook each cause explains, to the last bit.

What was measured differs from what is wanted. That difference is walked step by step: the program as ordered, what was keyed
in instead, the portion's recorded start temperature and mass, the recorded rest; what then is left unexplained is shared out
among suspects by Bayes, the model's own doubt (which speaks for the program) and chance. The steps add up to the whole.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import cho_factor, cho_solve

from tuner.domain import Brief, Program, TestCook
from tuner.learning.joint_prediction import Joint, joint_posterior
from tuner.learning.learned import Learned
from tuner.learning.observations import Observations
from tuner.learning.program_table import Array, ProgramTable
from tuner.learning.simulator import Conditions
from tuner.learning.suspects import CauseName, Facts, suspects_of

Rows = NDArray[np.intp]


@dataclass(frozen=True, eq=False)
class Blame:
    """Steps from what was forecast for the program as ordered to what was measured, states (5,), NaN where unseen.

    Attributes
    ----------
    ordered
        Forecast of the program as ordered for the brief's own portion.
    expected
        Forecast of what was really done to the portion that was really there.
    measured
        What was seen.
    steps
        Contribution of each cause, (5,); they add up to measured less ordered.
    noise_sd
        Of one cook about its state: portions and measuring, (5,).
    surprise
        Distance of measured from expected in forecast spreads, (5,).
    """

    ordered: Array
    expected: Array
    measured: Array
    steps: dict[CauseName, Array]
    chances: dict[CauseName, float]
    noise_sd: Array
    surprise: Array


def _recorded(brief: Brief, cook: TestCook) -> tuple[ProgramTable, Conditions]:
    """The ordered program on the brief's portion, then with one recorded thing after the other."""
    ordered = cook.program or cook.done_program
    done = cook.done_program
    assert ordered is not None
    assert done is not None
    portion = brief.portion
    start = portion.start_temperature_c if cook.start_temperature_c is None else cook.start_temperature_c
    mass = portion.mass_g if cook.mass_g is None else cook.mass_g
    rest = float(brief.rest_s) if cook.rest_s is None else float(cook.rest_s)
    programs: list[Program] = [ordered, done, done, done, done]
    return ProgramTable.of(programs), Conditions(
        np.array([portion.mass_g, portion.mass_g, portion.mass_g, mass, mass]),
        np.array([portion.start_temperature_c, portion.start_temperature_c, start, start, start]),
        np.array([float(brief.rest_s)] * 4 + [rest]),
    )


def _noise(base: Learned, seen: Observations, joint: Joint) -> Array:
    """Variance of each measured number about the state of its program, (K, 5)."""
    own = base.view.natural.variance_of_cooks(joint.expansion.sensitivity, seen.mass_known, seen.start_known)
    return np.asarray(seen.var + own)


def blame_of(base: Learned, newest: Sequence[TestCook], seen: Observations, facts: Facts) -> Blame:
    """Share out what the last of the newest cooks differs by from what its program was to do.

    Parameters
    ----------
    base
        What was learned from the cooks before `newest`.
    seen
        The newest cooks as arrays, K rows.
    """
    now, count = base.view.calibration, len(seen)
    known = joint_posterior(now, seen.table, Conditions(seen.mass_g, seen.start_c, seen.rest_s))
    table, at = _recorded(base.brief, newest[-1])
    walked = joint_posterior(now, table, at).mean
    noise = _noise(base, seen, known)
    usable = np.flatnonzero(seen.seen.ravel())
    gap = (seen.y - known.mean).ravel()[usable]
    doubt = known.cov[np.ix_(usable, usable)]
    total = doubt + np.diag(noise.ravel()[usable])
    mine = np.flatnonzero(usable >= 5 * (count - 1))
    at_mine = usable[mine] - 5 * (count - 1)

    steps: dict[CauseName, Array] = {
        "keyed_in": walked[1] - walked[0],
        "start_temperature": walked[2] - walked[1],
        "portion_mass": walked[3] - walked[2],
        "rest": walked[4] - walked[3],
    }

    def add(cause: CauseName, part: Array) -> None:
        steps[cause] = steps.get(cause, np.zeros(5)) + _spread_over(part, at_mine)

    weights, causes, parts = _weighed(base, facts, known, usable, gap, total, mine)
    chances: dict[CauseName, float] = {}
    for weight, cause, part in zip(weights, causes, parts):
        chances[cause] = chances.get(cause, 0.0) + weight
        add(cause, weight * part)
    # under every hypothesis what it does not explain is the model's doubt or noise
    left = gap[mine] - np.sum([weight * part for weight, part in zip(weights, parts)], axis=0)
    noise_mine, doubt_mine = noise.ravel()[usable[mine]], np.diag(doubt)[mine]
    by_chance = left * noise_mine / (noise_mine + doubt_mine)
    add("chance", by_chance)
    add("program", left - by_chance)
    spread = np.full(5, np.nan)
    spread[at_mine] = gap[mine] / np.sqrt(np.diag(total)[mine])
    return Blame(walked[0], walked[4], seen.y[-1], steps, chances, np.sqrt(noise[-1]), spread)


def _spread_over(part: Array, places: Rows) -> Array:
    full = np.zeros(5)
    full[places] = part
    return full


def _weighed(
    base: Learned, facts: Facts, known: Joint, usable: Rows, gap: Array, total: Array, mine: Rows
) -> tuple[list[float], list[CauseName], list[Array]]:
    """Posterior weight of each suspect and what it then explains of the last cook; 'program' stands for no suspect."""
    causes: list[CauseName] = ["program"]
    logs, parts = [_log_density(gap, total)], [np.zeros(len(mine))]
    for suspect in suspects_of(facts, known, base.view.calibration.prior.sd):
        effect = suspect.effect[usable]
        added = effect @ effect.T
        causes.append(suspect.cause)
        logs.append(np.log(suspect.weight) + _log_density(gap, total + added))
        factor = cho_factor(total + added, lower=True)
        parts.append((added @ cho_solve(factor, gap))[mine])
    raw = np.exp(np.array(logs) - max(logs))
    return [float(value) for value in raw / raw.sum()], causes, parts


def _log_density(gap: Array, cov: Array) -> float:
    factor = cho_factor(cov, lower=True)
    return float(-0.5 * gap @ cho_solve(factor, gap) - np.log(np.diag(factor[0])).sum())
