"""Between a score (1 to 5) and the unbounded scale on which the model is linear.

``score = 3 + 2 tanh(z / 2)``. Near the ends of the scale marks say little about how far out the dish was: they are
treated as censored.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from tuner.learning.program_table import Array

CENSORED_BELOW = 1.35
CENSORED_ABOVE = 4.65
_LEAST_SLOPE = 0.08


def score_of(latent: ArrayLike) -> Array:
    """Score of a latent value."""
    return np.asarray(3.0 + 2.0 * np.tanh(np.asarray(latent, dtype=float) / 2.0))


def latent_of(score: ArrayLike) -> Array:
    """Latent value of a score; marks beyond the censoring points read as those points."""
    inside = np.clip(np.asarray(score, dtype=float), CENSORED_BELOW, CENSORED_ABOVE)
    return np.asarray(2.0 * np.arctanh((inside - 3.0) / 2.0))


def slope_at(score: ArrayLike) -> Array:
    """Marks per unit of latent at a score, not below 0.08."""
    return np.maximum(1.0 - ((np.asarray(score, dtype=float) - 3.0) / 2.0) ** 2, _LEAST_SLOPE)


def unclipped_latent(score: ArrayLike) -> Array:
    """Latent value of an edge of a window; the scale's own ends are taken a little inside."""
    inside = np.clip(np.asarray(score, dtype=float), 1.001, 4.999)
    return np.asarray(2.0 * np.arctanh((inside - 3.0) / 2.0))
