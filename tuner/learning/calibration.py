"""Calibration of the physics by the cooks, with what the physics leaves over and the noise integrated out.

One linear-Gaussian model, relinearised until it stands still:

======== ============ ==============================================================================
symbol   shape        meaning
======== ============ ==============================================================================
m                     measured numbers (cook, attribute)
u        (P,)         parameters as prior standard deviations from the prior's centre
J        (m, P)       derivatives of the physics with respect to u
K, N     (m, m)       covariance of the residual process, of the noise (diagonal)
A        (m, m)       J J' + K + N
r        (m,)         y - f(u) + J u
u_new    (P,)         J' A^-1 r                      (the Gauss-Newton step, Woodbury form)
======== ============ ==============================================================================
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import cho_factor, cho_solve

from tuner.learning.coordinates import coordinates
from tuner.learning.observations import Observations
from tuner.learning.program_table import Array
from tuner.learning.residual import Residual
from tuner.learning.simulator import Conditions, Expansion, Simulator
from tuner.learning.variation import NaturalVariation

if TYPE_CHECKING:
    from tuner.learning.surrogate import ResidualProcess

_MOST_STEPS = 6
_STANDING_STILL = 0.05
_FARTHEST = 4.0
_WILD = 4.0
_ENOUGH_TO_TELL = 4


@dataclass(frozen=True, eq=False)
class ParameterPrior:
    """Centre and standard deviation of each parameter, (P,)."""

    centre: Array
    sd: Array


@dataclass(frozen=True, eq=False)
class Calibration:
    """The calibrated model; see the module's table of symbols.

    Attributes
    ----------
    expansion
        The physics at the cooks, with derivatives by theta.
    """

    simulator: Simulator
    residual: Residual
    prior: ParameterPrior
    observations: Observations
    u: Array
    expansion: Expansion
    rows: NDArray[np.intp]
    noise_var: Array
    jacobian: Array
    factor: tuple[Array, bool]
    alpha: Array
    points: Array

    @property
    def theta(self) -> Array:
        """Parameters at which the physics is linearised, (P,)."""
        return self.prior.centre + self.prior.sd * self.u

    @property
    def u_mean(self) -> Array:
        """Posterior mean of u, (P,)."""
        return self.jacobian.T @ self.alpha if len(self.alpha) else np.zeros_like(self.u)

    @property
    def u_cov(self) -> Array:
        """Posterior covariance of u, (P, P)."""
        eye = np.eye(len(self.u))
        return eye - self.jacobian.T @ cho_solve(self.factor, self.jacobian) if len(self.alpha) else eye

    @cached_property
    def surrogates(self) -> tuple[ResidualProcess | None, ...]:
        """The surrogate of each attribute, fitted to what the calibrated physics leaves over; None where nothing was measured.

        With the parameters at their posterior mean, conditioning the process on what is left gives the weights of the joint
        model: (K + N)^-1 (r - J u_new) = A^-1 r.
        """
        if not len(self.alpha):
            return (None,) * 5
        seen, (cook, column) = self.observations, self.rows.T
        left = seen.y[cook, column] - self.expansion.states[cook, column] + self.jacobian @ (self.u - self.u_mean)
        found: list[ResidualProcess | None] = []
        for attribute in range(5):
            mine = np.flatnonzero(column == attribute)
            process = self.residual.process(attribute)
            fitted = process.fit(self.points[cook[mine]], left[mine], self.noise_var[mine]) if len(mine) else None
            found.append(fitted)
        return tuple(found)

    @cached_property
    def inverse(self) -> Array:
        """A^-1, (m, m): with many programs a product is faster than as many solutions."""
        return np.asarray(cho_solve(self.factor, np.eye(len(self.alpha)))) if len(self.alpha) else np.zeros((0, 0))


def residual_covariance(residual: Residual, rows: NDArray[np.intp], points: Array) -> Array:
    """K between measured numbers, (m, m)."""
    cook, column = rows[:, 0], rows[:, 1]
    same = column[:, None] == column[None, :]
    corr = residual.correlation(points, points)[np.ix_(cook, cook)]
    return np.where(same, corr * residual.sd[column][:, None] * residual.sd[column][None, :], 0.0)


def _used(observations: Observations, states: Array) -> NDArray[np.intp]:
    """Measured numbers that say something: censored marks the model is even farther out than are left out."""
    beyond = np.where(observations.side > 0, states > observations.y, states < observations.y)
    pinned = (observations.side != 0) & beyond
    return np.argwhere(observations.seen & ~pinned)


@dataclass(frozen=True, eq=False)
class _Problem:
    simulator: Simulator
    residual: Residual
    prior: ParameterPrior
    observations: Observations
    natural: NaturalVariation
    points: Array
    wild_var: Array

    @property
    def at(self) -> Conditions:
        seen = self.observations
        return Conditions(seen.mass_g, seen.start_c, seen.rest_s)

    def states(self, several: Array) -> Array:
        """States of the cooks for several u (k, P), in one run of the physics: (k, n, 5)."""
        tries, count = len(several), len(self.observations)
        at = self.at
        conditions = Conditions(np.tile(at.mass_g, tries), np.tile(at.start_c, tries), np.tile(at.rest_s, tries))
        table = self.observations.table.take(np.tile(np.arange(count), tries))
        thetas = np.repeat(self.prior.centre + self.prior.sd * several, count, axis=0)
        return self.simulator.states(table, conditions, thetas).reshape(tries, count, 5)

    def noise_var(self, rows: NDArray[np.intp], expansion: Expansion) -> Array:
        """Variance of each measured number about the state of its program, (m,)."""
        seen = self.observations
        own = self.natural.variance_of_cooks(expansion.sensitivity, seen.mass_known, seen.start_known)
        total = seen.var + own + self.wild_var
        return np.asarray(total[rows[:, 0], rows[:, 1]])

    def expanded(self, u: Array) -> Expansion:
        theta = self.prior.centre + self.prior.sd * u
        return self.simulator.expanded(self.observations.table, self.at, theta, np.ones(len(theta)))

    def linearised(self, u: Array, expansion: Expansion | None = None) -> Calibration:
        """The linear-Gaussian model round `u`; `expansion` is that of the physics there, where it is known."""
        expansion = self.expanded(u) if expansion is None else expansion
        rows = _used(self.observations, expansion.states)
        cook, column = rows[:, 0], rows[:, 1]
        jacobian = expansion.jacobian[cook, column] * self.prior.sd
        noise_var = self.noise_var(rows, expansion)
        kernel = residual_covariance(self.residual, rows, self.points)
        factor = cho_factor(jacobian @ jacobian.T + kernel + np.diag(noise_var), lower=True)
        gap = self.observations.y[cook, column] - expansion.states[cook, column] + jacobian @ u
        return Calibration(
            self.simulator, self.residual, self.prior, self.observations, u, expansion, rows, noise_var, jacobian, factor,
            cho_solve(factor, gap), self.points,
        )  # fmt: skip

    def spread(self, now: Calibration) -> tuple[Array, bool]:
        """Factor of K + N on the numbers that `now` uses."""
        kernel = residual_covariance(self.residual, now.rows, self.points)
        return cho_factor(kernel + np.diag(now.noise_var), lower=True)

    def objective(self, now: Calibration, states: Array, u: Array, spread: tuple[Array, bool]) -> float:
        """Minus log posterior at `u`, up to a constant, on the numbers that `now` uses."""
        cook, column = now.rows[:, 0], now.rows[:, 1]
        gap = self.observations.y[cook, column] - states[cook, column]
        return float(0.5 * u @ u + 0.5 * gap @ cho_solve(spread, gap))

    def shortened(self, now: Calibration, target: Array, before: float, spread: tuple[Array, bool]) -> Array:
        """A shorter step towards `target` that lets the posterior rise; u itself where none does."""
        tries = np.array([now.u + share * (target - now.u) for share in _SHARES])
        for row, there in enumerate(self.states(tries)):
            if self.objective(now, there, tries[row], spread) < before - 1e-9:
                return np.asarray(tries[row])
        return now.u


_SHARES = (0.5, 0.25, 0.1)


def _iterate(problem: _Problem, now: Calibration, steps: int) -> Calibration:
    """Gauss-Newton: the full step is tried first, because it is right most of the time."""
    for _ in range(steps):
        target = np.clip(now.u_mean, -_FARTHEST, _FARTHEST)
        if float(np.abs(target - now.u).max(initial=0.0)) < _STANDING_STILL:
            break
        spread = problem.spread(now)
        before = problem.objective(now, now.expansion.states, now.u, spread)
        tried = problem.linearised(target)
        if problem.objective(now, tried.expansion.states, target, spread) >= before - 1e-9:
            shorter = problem.shortened(now, target, before, spread)
            if np.array_equal(shorter, now.u):
                break
            tried = problem.linearised(shorter)
        now = tried
    return now


def _wildness(now: Calibration) -> Array:
    """Extra variance for numbers that the others, left-one-out, call wild; zero for all others, (n, 5)."""
    extra = np.zeros_like(now.observations.y)
    precision = np.diag(now.inverse)
    missed = now.alpha / precision
    score = np.abs(now.alpha) / np.sqrt(precision)
    for place in np.flatnonzero(score > _WILD):
        extra[tuple(now.rows[place])] = missed[place] ** 2
    return extra


def calibrate(
    simulator: Simulator,
    residual: Residual,
    prior: ParameterPrior,
    observations: Observations,
    natural: NaturalVariation,
    *,
    start: Calibration | None = None,
) -> Calibration:
    """Posterior of the parameters and the residual process given the cooks.

    Parameters
    ----------
    natural
        How cooks of one program differ apart from measuring; what a cook does not tell of mass and start is taken from it.
    start
        A calibration of the same cooks to begin from; the prior's centre if left out.
    """
    points = coordinates(observations.table) if len(observations) else np.zeros((0, 8))
    problem = _Problem(simulator, residual, prior, observations, natural, points, np.zeros_like(observations.y))
    if not observations.seen.any():
        return _without_cooks(problem)
    if start is None or not len(start.alpha):
        first = problem.linearised(np.zeros(len(prior.centre)))
    else:
        first = problem.linearised((start.theta - prior.centre) / prior.sd, start.expansion)
    now = _iterate(problem, first, _MOST_STEPS)
    wild = _wildness(now)
    if wild.any() and len(observations) >= _ENOUGH_TO_TELL:
        calmer = replace(problem, wild_var=wild)
        now = _iterate(calmer, calmer.linearised(now.u, now.expansion), _MOST_STEPS // 2)
    return now


def _without_cooks(problem: _Problem) -> Calibration:
    size = len(problem.prior.centre)
    nothing = Expansion(np.zeros((0, 5)), np.zeros((0, 5, size)), np.zeros((0, 5, 2)))
    return Calibration(
        problem.simulator, problem.residual, problem.prior, problem.observations, np.zeros(size), nothing,
        np.zeros((0, 2), dtype=np.intp), np.zeros(0), np.zeros((0, size)), (np.zeros((0, 0)), True), np.zeros(0),
        problem.points,
    )  # fmt: skip
