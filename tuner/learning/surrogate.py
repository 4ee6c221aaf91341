"""The surrogate of one attribute as a scikit-learn estimator: a Gaussian process on physical coordinates of programs.

It models what the calibrated physics leaves over. Its kernel is fixed: a length and a standard deviation that are prior
judgement, because a dozen cooks can't tell them from noise; so fitting is one Cholesky factor and there is nothing to optimise.
scikit-learn's own `GaussianProcessRegressor` gives the same numbers (a test holds them against each other); it takes three
times as long to fit, and has no room for the physics beside it, whose parameters are conditioned on the same cooks.
"""

from __future__ import annotations

from typing import Any, Self

import numpy as np
from numpy.typing import ArrayLike
from scipy.linalg import cho_factor, cho_solve
from sklearn.base import BaseEstimator, RegressorMixin
from sklearn.utils.validation import check_is_fitted, validate_data

from tuner.learning.coordinates import smooth_correlation
from tuner.learning.program_table import Array


class ResidualProcess(RegressorMixin, BaseEstimator):  # type: ignore[misc]
    """Gaussian process with zero mean, a squared-exponential kernel and known noise.

    Parameters
    ----------
    length
        Length scale in units of the coordinates.
    sd
        Standard deviation of the process, in the unit of the target.
    noise_sd
        Standard deviation of a measurement where `fit` is not told.

    Attributes
    ----------
    X_train_ : ndarray (n, features)
    alpha_ : ndarray (n,)
        Weights of the training points: prediction is covariance times these.
    """

    def __init__(self, length: float = 1.8, sd: float = 1.0, noise_sd: float = 0.1) -> None:
        self.length = length
        self.sd = sd
        self.noise_sd = noise_sd

    def fit(self, X: ArrayLike, y: ArrayLike, noise_var: ArrayLike | None = None) -> Self:
        """Condition on measurements.

        Parameters
        ----------
        X : array_like (n, features)
            Coordinates of programs.
        y : array_like (n,)
            What was left over there.
        noise_var : array_like (n,) or scalar, optional
            Variance of each measurement; `noise_sd` squared by default.

        Raises
        ------
        ValueError
            If a parameter is not above zero, or shapes do not fit.
        """
        if not (self.length > 0 and self.sd > 0 and self.noise_sd > 0):
            raise ValueError(
                f"length {self.length}, sd {self.sd} and noise_sd {self.noise_sd} must be above zero. Give positive numbers"
            )
        points, target = validate_data(self, X, y, y_numeric=True, dtype=np.float64)
        variance = self.noise_sd**2 if noise_var is None else np.asarray(noise_var, dtype=float)
        total = self.covariance(points, points)
        total[np.diag_indices(len(points))] += variance
        self.X_train_ = points
        self.factor_ = cho_factor(total, lower=True)
        self.alpha_ = cho_solve(self.factor_, target)
        return self

    def predict(self, X: ArrayLike, return_std: bool = False) -> Any:
        """Mean of the process at programs, (n,), and with `return_std` its standard deviation without measuring noise, (n,)."""
        check_is_fitted(self)
        points = validate_data(self, X, reset=False, dtype=np.float64)
        near = self.covariance(points, self.X_train_)
        mean = near @ self.alpha_
        if not return_std:
            return mean
        variance = self.sd**2 - (near * cho_solve(self.factor_, near.T).T).sum(axis=1)
        return mean, np.sqrt(np.clip(variance, 0.0, None))

    def covariance(self, left: Array, right: Array) -> Array:
        """Prior covariance of the process between two sets of programs, (len(left), len(right))."""
        return self.sd**2 * smooth_correlation(left, right, self.length)
