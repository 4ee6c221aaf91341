"""Between a score (1 to 5) and the unbounded scale on which the model is linear.

``score = 3 + 2 tanh(z / 2)``. Near the ends of the scale marks say little about how far out the dish was: they are
treated as censored.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from tuner.learning.program_table import Array
from tuner.physics import latent_from_score, latent_slope, score_from_latent

CENSORED_BELOW = 1.35
CENSORED_ABOVE = 4.65
_LEAST_SLOPE = 0.08


def score_of(latent: ArrayLike) -> Array:
    """Score of a latent value."""
    return score_from_latent(latent)


def latent_of(score: ArrayLike) -> Array:
    """Latent value of a score; marks beyond the censoring points read as those points."""
    return latent_from_score(np.clip(np.asarray(score, dtype=float), CENSORED_BELOW, CENSORED_ABOVE))


def slope_at(score: ArrayLike) -> Array:
    """Marks per unit of latent at a score, not below 0.08."""
    return np.maximum(latent_slope(score), _LEAST_SLOPE)


def unclipped_latent(score: ArrayLike) -> Array:
    """Latent value of an edge of a window; the scale's own ends are taken a little inside."""
    return latent_from_score(np.clip(np.asarray(score, dtype=float), 1.001, 4.999))
