"""What the physics leaves over: a smooth Gaussian process on physical coordinates, one for each attribute.

Squared-exponential kernels with one common length scale; processes of different attributes are independent. Standard
deviations are prior judgements of how wrong the calibrated physics may still be; they are not fitted to a development,
because a dozen cooks can't tell them from noise; only a common factor on those of each score is (`misfit`).
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np

from tuner.learning.coordinates import smooth_correlation
from tuner.learning.program_table import Array

if TYPE_CHECKING:
    from tuner.learning.surrogate import ResidualProcess

_SD = (6.0, 0.84, 0.77, 0.84, 1.1)


@dataclass(frozen=True, eq=False)
class Residual:
    """Length scale in units of the coordinates, standard deviations in K, score latents and points of loss."""

    length: float = 1.8
    sd: Array = field(default_factory=lambda: np.array(_SD))

    def correlation(self, left: Array, right: Array) -> Array:
        """Correlation between programs of two sets of coordinates, shape (len(left), len(right))."""
        return smooth_correlation(left, right, self.length)

    def process(self, column: int) -> ResidualProcess:
        """The surrogate of one attribute, not fitted yet."""
        # scikit-learn takes a second to load: only where there are cooks
        from tuner.learning.surrogate import ResidualProcess

        return ResidualProcess(length=self.length, sd=float(self.sd[column]))
