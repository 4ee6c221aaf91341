"""From the posterior of a program's state to chances: that a cook passes, that a portion is truly inside, that it is safe.

Chances are averages over a fixed set of joint posterior samples s of the state, so that attributes stay correlated through
the model's doubt; within a sample, portions and measurements scatter independently by attribute.

======== ============ ===================================================================================
symbol   shape        meaning
======== ============ ===================================================================================
n, S                  programs, posterior samples
p        (n, S, 5)    chance that the measurement of one further cook lies inside the window
a        (n, S, 5)    chance that the truth of one further portion lies inside (panel bias drawn once a sample)
safe     (n, S)       chance that the lowest reading less the guard reaches the critical limit
======== ============ ===================================================================================
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np
from scipy.special import ndtr

from tuner.learning.goals import CORE, LOSS, SCORE_COLUMNS, Goals
from tuner.learning.noise import NoiseModel
from tuner.learning.prediction import Prediction
from tuner.learning.program_table import Array
from tuner.learning.scores import score_of, slope_at

SAMPLES = 96
_STEP_OF_MARKS = 0.5


@cache
def _standard_samples() -> tuple[Array, Array]:
    """Fixed draws: state directions (S, 5) and panel biases (S, 3), centred, with unit covariance."""
    raw = np.random.default_rng(20260105).standard_normal((SAMPLES // 2, 8))
    both = np.concatenate([raw, -raw])
    white = both @ np.linalg.inv(np.linalg.cholesky(both.T @ both / SAMPLES)).T
    return white[:, :5], white[:, 5:]


@dataclass(frozen=True, eq=False)
class Chances:
    """Chances of programs over posterior samples, with moments of what would be measured; see the table of symbols.

    `mean` and `spread` (n, 5) are of one further cook: lowest core reading, panel means, cook loss.
    """

    p: Array
    a: Array
    safe: Array
    mean: Array
    spread: Array

    @property
    def pass_all(self) -> Array:
        """Chance that one cook passes every window, for each sample, (n, S)."""
        return np.asarray(self.p.prod(axis=2))

    @property
    def true_all(self) -> Array:
        """Chance that one portion is truly inside every window, for each sample, (n, S)."""
        return np.asarray(self.a.prod(axis=2))

    @property
    def chance_safe(self) -> Array:
        """Chance that the next lowest reading less the guard reaches the critical limit, (n,)."""
        return np.asarray(self.safe.mean(axis=1))


def _roots(cov: Array) -> Array:
    """Symmetric square roots of covariances (n, 5, 5), negative rounding errors cut off."""
    values, vectors = np.linalg.eigh(cov)
    return np.asarray((vectors * np.sqrt(np.clip(values, 0.0, None))[:, None, :]) @ np.swapaxes(vectors, 1, 2))


def _inside(centre: Array, sd: Array, low: float | Array, high: float | Array) -> Array:
    return np.asarray(np.clip(ndtr((high - centre) / sd) - ndtr((low - centre) / sd), 0.0, 1.0))


def _core_inside(core: Array, natural_sd: Array, goals: Goals, gap: tuple[float, float], mean_var: float) -> Array:
    """Chance that the lowest place is at or above the low edge and the mean of the places at or below the high one.

    The lowest is the mean less a gap (mean, variance) that does not depend on the mean.
    """
    high = ndtr((goals.high[CORE] - core) / np.sqrt(natural_sd**2 + mean_var))
    low = ndtr((goals.low[CORE] + gap[0] - core) / np.sqrt(natural_sd**2 + mean_var + gap[1]))
    return np.asarray(np.clip(high - low, 0.0, 1.0))


def chances_of(prediction: Prediction, natural_var: Array, goals: Goals, noise: NoiseModel) -> Chances:
    """Chances of programs with the given posterior and natural variance between portions (n, 5)."""
    directions, biases = _standard_samples()
    latent = prediction.mean[:, None, :] + directions @ np.swapaxes(_roots(prediction.cov), 1, 2)
    natural_sd = np.broadcast_to(np.sqrt(natural_var)[:, None, :], latent.shape)
    marks = latent.copy()
    marks[:, :, SCORE_COLUMNS] = score_of(latent[:, :, SCORE_COLUMNS])
    spread = natural_sd.copy()
    spread[:, :, SCORE_COLUMNS] *= slope_at(marks[:, :, SCORE_COLUMNS])
    measured_sd = np.sqrt(spread**2 + np.array([0.0, *[noise.panel_sd**2] * 3, noise.loss_sd**2]))
    p, a = np.ones_like(latent), np.ones_like(latent)
    rounding = _STEP_OF_MARKS / 2.0 / noise.tasters
    for column in np.flatnonzero(goals.bound):
        low, high = goals.low[column], goals.high[column]
        if column == CORE:
            core, own, probe = marks[:, :, CORE], spread[:, :, CORE], noise.probe
            p[:, :, CORE] = _core_inside(core, own, goals, (probe.gap_c, probe.gap_var), probe.mean_var)
            a[:, :, CORE] = _core_inside(core, own, goals, (probe.true_gap_c, probe.true_gap_var), 0.0)
            continue
        wider, shift = (0.0, 0.0) if column == LOSS else (rounding, noise.bias_sd * biases[:, column - 1])
        p[:, :, column] = _inside(marks[:, :, column], measured_sd[:, :, column], low - wider, high + wider)
        a[:, :, column] = _inside(marks[:, :, column] + shift, spread[:, :, column], low, high)
    return _with_moments(p, a, marks, spread, measured_sd, goals, noise)


def _with_moments(
    p: Array, a: Array, marks: Array, spread: Array, measured_sd: Array, goals: Goals, noise: NoiseModel
) -> Chances:
    lowest = marks[:, :, CORE] - noise.probe.gap_c
    lowest_sd = np.sqrt(spread[:, :, CORE] ** 2 + noise.probe.mean_var + noise.probe.gap_var)
    safe = ndtr((lowest - goals.pass_line_c) / lowest_sd)
    mean, variance = marks.mean(axis=1), marks.var(axis=1) + (measured_sd**2).mean(axis=1)
    mean[:, CORE] = lowest.mean(axis=1)
    variance[:, CORE] = lowest.var(axis=1) + (lowest_sd**2).mean(axis=1)
    return Chances(p, a, np.asarray(safe), mean, np.sqrt(variance))
