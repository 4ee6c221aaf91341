"""How far forecast means lie from where the brief wants them, and how likely they are inside: cheap guides of the search."""

from __future__ import annotations

import numpy as np
from scipy.special import log_ndtr, ndtr

from tuner.learning.goals import CORE, SCORE_COLUMNS, Goals
from tuner.learning.program_table import Array
from tuner.learning.scores import score_of, unclipped_latent

_UNASKED = 0.02
"""Weight of a score without window, drawn to 3: nobody asked, but just right is still better."""

_INSET = 1.5
"""Spreads between portions that a reliable mean keeps from an edge."""
_MOST_TIGHTENING = 0.45
"""Largest share of a window's width that is taken off at each edge."""


def marks_of(states: Array) -> Array:
    """States (n, 5) with scores in marks instead of latents."""
    marks = states.copy()
    marks[:, SCORE_COLUMNS] = score_of(states[:, SCORE_COLUMNS])
    return marks


def offsets(marks: Array, goals: Goals) -> Array:
    """Signed distances from the aim in window half-widths, (n, 5); beyond ±1 is outside; zero where nothing is asked.

    On the open side of a window every value is as good as the aim.
    """
    raw = (marks - goals.centre) / goals.half_width
    raw = np.where(np.isfinite(goals.low), raw, np.maximum(raw, 0.0))
    return np.asarray(np.where(np.isfinite(goals.high), raw, np.where(goals.bound, np.minimum(raw, 0.0), 0.0)))


def misses(states: Array, goals: Goals) -> Array:
    """Sum of squared distances from the aim, (n,): smaller is better."""
    marks = marks_of(states)
    total = (offsets(marks, goals) ** 2).sum(axis=1)
    free = ~goals.bound[SCORE_COLUMNS]
    if free.any():
        total = total + _UNASKED * ((marks[:, SCORE_COLUMNS][:, free] - 3.0) ** 2).sum(axis=1)
    if not goals.bound[CORE]:
        total = total + 1e-6 * marks[:, CORE] ** 2
    return np.asarray(total)


def latent_edges(goals: Goals) -> tuple[Array, Array]:
    """Edges of the windows with scores on the latent scale, (5,) each; open edges stay infinite."""
    low, high = goals.low.copy(), goals.high.copy()
    for edges in (low, high):
        known = np.isfinite(edges[SCORE_COLUMNS])
        edges[SCORE_COLUMNS] = np.where(known, unclipped_latent(edges[SCORE_COLUMNS]), edges[SCORE_COLUMNS])
    return low, high


def promise(means: Array, doubt_var: Array, natural_sd: Array, goals: Goals) -> Array:
    """Logarithm of the chance that a program is reliable, attributes taken as independent normals, (n,).

    A program is reliable where its mean lies so far inside every window that portions, which scatter by `natural_sd`, hardly
    leave it. States, means, variances of the model's doubt and spreads between portions are (n, 5). Far outside it falls like
    the square of the distance, so that it ranks even hopeless programs.
    """
    low, high = latent_edges(goals)
    with np.errstate(invalid="ignore"):
        room = np.where(np.isfinite(high - low), _MOST_TIGHTENING * (high - low), np.inf)
    inset = np.minimum(_INSET * natural_sd, np.maximum(room, 0.0))
    sd = np.sqrt(np.maximum(doubt_var, 1e-9))
    below, above = (low + inset - means) / sd, (high - inset - means) / sd
    inside = np.log(np.maximum(ndtr(above) - ndtr(below), 1e-300))
    outside = np.minimum(log_ndtr(above), log_ndtr(-below))
    return np.asarray(np.where(inside > -600.0, inside, outside)[:, goals.bound].sum(axis=1))
