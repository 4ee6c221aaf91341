"""What the physics leaves over: a smooth Gaussian process on physical coordinates, one for each attribute.

Squared-exponential kernels with one common length scale; processes of different attributes are independent. Standard
deviations are prior judgements of how wrong the calibrated physics may still be; they are not fitted to a development,
because a dozen cooks can't tell them from noise.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from tuner.learning.coordinates import squared_distances
from tuner.learning.program_table import Array

_SD = (6.0, 0.60, 0.55, 0.60, 1.1)


@dataclass(frozen=True, eq=False)
class Residual:
    """Length scale in units of the coordinates, standard deviations in K, score latents and points of loss."""

    length: float = 1.8
    sd: Array = field(default_factory=lambda: np.array(_SD))

    def correlation(self, left: Array, right: Array) -> Array:
        """Correlation between programs of two sets of coordinates, shape (len(left), len(right))."""
        return np.asarray(np.exp(-0.5 * squared_distances(left, right) / self.length**2))
