"""Between the just-about-right scores 1 to 5 and their latents: score = 3 + 2 tanh(z / 2)."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

_NEAREST = 1e-6
"""Scores of exactly 1 and 5 have no finite latent; they are taken this far inside (of the half range)."""


def score_from_latent(latent: ArrayLike) -> Array:
    """Score of a latent, 3 + 2 tanh(z / 2)."""
    score: Array = 3.0 + 2.0 * np.tanh(np.asarray(latent, dtype=float) / 2.0)
    return score


def latent_from_score(score: ArrayLike) -> Array:
    """Latent of a score; 1 and 5 give -14.5 and 14.5 instead of infinity."""
    half = (np.asarray(score, dtype=float) - 3.0) / 2.0
    latent: Array = 2.0 * np.arctanh(np.clip(half, -1.0 + _NEAREST, 1.0 - _NEAREST))
    return latent


def latent_slope(score: ArrayLike) -> Array:
    """Marks per unit of latent at a score: 1 - ((s - 3) / 2)²."""
    half = (np.asarray(score, dtype=float) - 3.0) / 2.0
    slope: Array = 1.0 - half * half
    return slope
