"""What the calibrated model expects of a program's state.

Mean = f(x) + J(x) (u_new - u) + k(x)' A^-1 r; covariance = J(x) J(x)' + K(x, x) - C A^-1 C' with C = J(x) J' + k(x);
symbols as in `calibration`. The term with u_new - u vanishes at convergence and repairs an unfinished iteration.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from tuner.learning.calibration import Calibration
from tuner.learning.coordinates import coordinates
from tuner.learning.program_table import Array, ProgramTable
from tuner.learning.simulator import Conditions, Expansion

_MOST_NUMBERS = 2_000_000


@dataclass(frozen=True, eq=False)
class Prediction:
    """States of further portions: mean (n, 5), covariance of the model's doubt (n, 5, 5), sensitivities (n, 5, 2)."""

    mean: Array
    cov: Array
    sensitivity: Array


def cross_covariance(now: Calibration, points: Array) -> Array:
    """k(x): covariance of the residual at programs with the measured numbers, (n, 5, m)."""
    cook, column = now.rows[:, 0], now.rows[:, 1]
    corr = now.residual.correlation(points, now.points)[:, cook]
    out = np.zeros((len(points), 5, len(cook)))
    out[:, column, np.arange(len(cook))] = corr * now.residual.sd[column] ** 2
    return out


def means_round(now: Calibration, table: ProgramTable, states: Array) -> Array:
    """Posterior means from the physics' own states (n, 5), without the correction of an unfinished iteration."""
    means = states.copy()
    if not len(now.alpha):
        return means
    # one correlation for all attributes: each surrogate's own `predict` would make it anew
    corr = now.residual.correlation(coordinates(table), now.points)
    for column, surrogate in enumerate(now.surrogates):
        if surrogate is not None:
            measured = now.rows[now.rows[:, 1] == column, 0]
            means[:, column] += surrogate.sd**2 * (corr[:, measured] @ surrogate.alpha_)
    return means


def expanded(now: Calibration, table: ProgramTable, at: Conditions) -> Expansion:
    """The physics at programs, with derivatives by prior standard deviations of the parameters."""
    return now.simulator.expanded(table, at, now.theta, now.prior.sd)


def posterior(now: Calibration, table: ProgramTable, expansion: Expansion) -> Prediction:
    """Posterior of the states of programs whose expansion is known, in parts that fit into memory."""
    jacobian = expansion.jacobian
    mean, cov = expansion.states.copy(), jacobian @ np.swapaxes(jacobian, 1, 2) + np.diag(now.residual.sd**2)
    if not len(now.alpha):
        return Prediction(mean, cov, expansion.sensitivity)
    points, unfinished = coordinates(table), now.u_mean - now.u
    size = max(1, _MOST_NUMBERS // (5 * len(now.alpha)))
    for begin in range(0, len(mean), size):
        part = slice(begin, begin + size)
        near = cross_covariance(now, points[part])
        mean[part] += near @ now.alpha + jacobian[part] @ unfinished
        cross = jacobian[part] @ now.jacobian.T + near
        cov[part] -= (cross @ now.inverse) @ np.swapaxes(cross, 1, 2)
    return Prediction(mean, cov, expansion.sensitivity)
