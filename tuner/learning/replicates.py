"""Spread from cook to cook of one program that mass and start temperature do not explain, from repeated cooks.

A dozen repeats say little about a spread that is small against the measuring noise. So it is a posterior mean on a grid, from a
log-normal prior and the exact likelihood of the repeats, not a difference of variances.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass

import numpy as np

from tuner.learning.calibration import Calibration
from tuner.learning.goals import LOSS
from tuner.learning.program_table import Array

_GRID = np.geomspace(0.2, 8.0, 41)
"""Factors on the prior standard deviation."""
_PRIOR_LOG_SD = 0.45
_FARTHEST_SD = 4.0


@dataclass(frozen=True)
class Repeats:
    """Sums of squares about group means, degrees of freedom and mean noise variances of the repeated cooks, by attribute."""

    squares: tuple[Array, ...]
    dof: tuple[Array, ...]
    noise: tuple[Array, ...]


def repeats_of(calibration: Calibration) -> Repeats:
    """What repeated cooks of one program differ by after taking out the model's effect of mass and start temperature."""
    seen = calibration.observations
    groups: dict[tuple[float, ...], list[int]] = defaultdict(list)
    for row, program in enumerate(seen.programs):
        groups[program.key].append(row)
    repeated = [rows for rows in groups.values() if len(rows) >= 2]
    found: list[list[tuple[float, int, float]]] = [[] for _ in range(5)]
    if repeated:
        left = seen.y - calibration.expansion.states
        usable = seen.seen & (seen.side == 0)
        for rows in repeated:
            for column in range(5):
                used = [row for row in rows if usable[row, column]]
                if len(used) >= 2:
                    values = left[used, column]
                    noise = float(seen.var[used, column].mean())
                    most = _FARTHEST_SD**2 * (len(used) - 1) * (noise + 1e-6) * 4
                    squares = min(float(((values - values.mean()) ** 2).sum()), most)
                    found[column].append((squares, len(used) - 1, noise))
    return Repeats(
        tuple(np.array([s for s, _, _ in part]) for part in found),
        tuple(np.array([d for _, d, _ in part], dtype=float) for part in found),
        tuple(np.array([n for _, _, n in part]) for part in found),
    )


def _posterior_sd(prior_sd: float, squares: Array, dof: Array, other_var: Array) -> float:
    """Root of the posterior mean variance of a spread that adds to known variances `other_var`."""
    sds = prior_sd * _GRID
    total = sds[:, None] ** 2 + other_var[None, :]
    log_like = -0.5 * (dof * np.log(total) + squares / total).sum(axis=1)
    log_post = log_like - 0.5 * (np.log(_GRID) / _PRIOR_LOG_SD) ** 2
    weights = np.exp(log_post - log_post.max())
    return float(np.sqrt((weights * sds**2).sum() / weights.sum()))


def extra_spread(repeats: Repeats, prior_sd: Array) -> Array:
    """Standard deviation between cooks beyond mass, start temperature and measuring noise, (5,)."""
    return np.array([_posterior_sd(float(prior_sd[k]), repeats.squares[k], repeats.dof[k], repeats.noise[k]) for k in range(5)])


def weighing_spread(repeats: Repeats, prior_sd: float, extra_sd: float) -> float:
    """Standard deviation of a weighed cook loss [points], from repeats and the spread between cooks."""
    other = np.full(len(repeats.dof[LOSS]), extra_sd**2)
    return _posterior_sd(prior_sd, repeats.squares[LOSS], repeats.dof[LOSS], other)
