"""How wrong the calibrated physics still is in the scores of a dish, as told by its own cooks.

The spreads of the residual process are judgements for dishes at large. Some dishes follow the physics, others do not, and a
forecast that doubts all alike is too wide for the first and too narrow for the others. So each score's spread is multiplied
by a factor: its posterior mean on a grid, from a log-normal prior and the marginal likelihood of the cooks on the
linearisation at hand. The prior is strong, because a dozen cooks can't tell a large misfit from noise for sure.
"""

from __future__ import annotations

import numpy as np
from scipy.linalg import cho_factor, cho_solve

from tuner.learning.calibration import Calibration
from tuner.learning.goals import SCORE_COLUMNS
from tuner.learning.program_table import Array

_GRID = np.geomspace(0.4, 2.5, 9)
_PRIOR_LOG_SD = 0.4
_ENOUGH_TO_TELL = 3
_SWEEPS = 2
"""Factors depend on one another through the parameters; they hardly move after the second sweep."""


def _log_evidence(covariance: Array, gap: Array) -> float:
    factor = cho_factor(covariance, lower=True)
    return -0.5 * float(gap @ cho_solve(factor, gap)) - float(np.log(np.diag(factor[0])).sum())


def misfit_factors(calibration: Calibration) -> Array:
    """Factor on the residual's standard deviation of each attribute, (5,).

    One for core and loss, which the physics explains, and for a score with fewer than three marks.
    """
    factors = np.ones(5)
    if len(calibration.observations) < _ENOUGH_TO_TELL or not len(calibration.rows):
        return factors
    rows, residual = calibration.rows, calibration.residual
    cook, column = rows[:, 0], rows[:, 1]
    corr = residual.correlation(calibration.points, calibration.points)[np.ix_(cook, cook)]
    same = column[:, None] == column[None, :]
    seen = calibration.observations
    gap = seen.y[cook, column] - calibration.expansion.states[cook, column] + calibration.jacobian @ calibration.u
    fixed = calibration.jacobian @ calibration.jacobian.T + np.diag(calibration.noise_var)
    log_prior = -0.5 * (np.log(_GRID) / _PRIOR_LOG_SD) ** 2
    for _ in range(_SWEEPS):
        for k in range(5)[SCORE_COLUMNS]:
            if (column == k).sum() < _ENOUGH_TO_TELL:
                continue
            scores = np.empty(len(_GRID))
            for place, factor in enumerate(_GRID):
                tried = factors.copy()
                tried[k] = factor
                sd = (residual.sd * tried)[column]
                scores[place] = _log_evidence(fixed + np.where(same, corr * sd[:, None] * sd[None, :], 0.0), gap)
            weights = np.exp(scores + log_prior - (scores + log_prior).max())
            factors[k] = float(np.sqrt((weights * _GRID**2).sum() / weights.sum()))
    return factors
