"""What the calibrated model expects of several portions at once, with the doubt that they share.

`posterior` gives each program its own covariance; what two cooks have in common, and so the difference between two
programs, needs the joint one. Numbers are in the order portion by portion, attribute by attribute.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from tuner.learning.calibration import Calibration
from tuner.learning.coordinates import coordinates
from tuner.learning.prediction import cross_covariance, expanded
from tuner.learning.program_table import Array, ProgramTable
from tuner.learning.simulator import Conditions, Expansion


@dataclass(frozen=True, eq=False)
class Joint:
    """Joint posterior of n portions: mean (n, 5), covariance (5 n, 5 n), and the physics they were expanded from."""

    mean: Array
    cov: Array
    expansion: Expansion

    def difference_sd(self, new: int, old: int) -> Array:
        """Standard deviation of the model's doubt about the difference of two portions, (5,)."""
        rows_new, rows_old = np.arange(5) + 5 * new, np.arange(5) + 5 * old
        variance = self.cov[rows_new, rows_new] + self.cov[rows_old, rows_old] - 2.0 * self.cov[rows_new, rows_old]
        return np.sqrt(np.clip(variance, 0.0, None))


def joint_posterior(now: Calibration, table: ProgramTable, at: Conditions) -> Joint:
    """Joint posterior of the states of n portions cooked by n programs."""
    count = len(table)
    expansion = expanded(now, table, at)
    points = coordinates(table)
    jacobian = expansion.jacobian.reshape(5 * count, -1)
    own = np.kron(now.residual.correlation(points, points), np.ones((5, 5))) * np.tile(
        np.diag(now.residual.sd**2), (count, count)
    )
    mean, cov = expansion.states.copy(), jacobian @ jacobian.T + own
    if len(now.alpha):
        near = cross_covariance(now, points)
        mean += near @ now.alpha + expansion.jacobian @ (now.u_mean - now.u)
        cross = jacobian @ now.jacobian.T + near.reshape(5 * count, -1)
        cov = cov - cross @ now.inverse @ cross.T
    return Joint(mean, cov, expansion)
