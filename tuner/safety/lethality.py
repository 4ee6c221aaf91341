"""Lethality of a temperature history: equivalent minutes at a reference temperature.

======  ==========================================  ======
symbol  meaning                                     unit
======  ==========================================  ======
T       temperature, straight between two samples   °C
Tref    reference temperature                       °C
z       rise that speeds killing up ten times       K
L       lethal rate 10^((T - Tref) / z)             -
F       integral of L over time                     min
======  ==========================================  ======
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from tuner.domain import InvalidDocument

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

_LARGEST_EXPONENT = 300.0
"""Lethal rates are capped at 10^300 so that absurd input gives a large number, not infinity."""


def lethality_min(time_s: ArrayLike, temperature_c: ArrayLike, *, reference_c: float, z_c: float) -> float:
    """Equivalent minutes at the reference temperature, exact for a trace that is straight between its samples.

    Over a straight piece the mean of L is its logarithmic mean, (L2 - L1) / ln(L2 / L1); summing samples, or taking the
    trapezoid of L, overestimates.

    Parameters
    ----------
    time_s
        Times of the samples [s], shape (n,), not falling.
    temperature_c
        Temperatures [°C], shape (n,).
    reference_c
        Tref [°C].
    z_c
        z [K], above 0.

    Returns
    -------
    float
        F [min]; 0 for a single sample.

    Raises
    ------
    InvalidDocument
        If the arrays are empty, differ in length, hold something that is no finite number, if times fall, or z is not
        above 0.

    Examples
    --------
    Twelve minutes at the reference are twelve minutes:

    >>> lethality_min([0, 720], [60, 60], reference_c=60, z_c=6)
    12.0
    """
    times, temperatures = _checked(time_s, temperature_c, reference_c, z_c)
    exponent = np.minimum((temperatures - reference_c) / z_c, _LARGEST_EXPONENT)
    higher = np.maximum(exponent[:-1], exponent[1:])
    drop = math.log(10) * np.abs(np.diff(exponent))
    # Written from the hotter end so that nothing overflows; a level piece has the mean 1.
    relative_mean = np.where(drop > 0, -np.expm1(-drop) / np.where(drop > 0, drop, 1.0), 1.0)
    return float(np.sum(np.diff(times) * 10.0**higher * relative_mean) / 60.0)


def _checked(
    time_s: ArrayLike, temperature_c: ArrayLike, reference_c: float, z_c: float
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    times, temperatures = np.atleast_1d(np.asarray(time_s, float)), np.atleast_1d(np.asarray(temperature_c, float))
    if times.ndim != 1 or times.shape != temperatures.shape or not times.size:
        raise InvalidDocument(
            [
                f"time_s has shape {times.shape} and temperature_c {temperatures.shape}. A trace needs one temperature for "
                "each time, at least one. Give two lists of the same length."
            ]
        )
    if not (np.isfinite(times).all() and np.isfinite(temperatures).all() and math.isfinite(reference_c)):
        raise InvalidDocument(["The trace or reference_c holds something that is no finite number. Remove such samples."])
    if not (math.isfinite(z_c) and z_c > 0):
        raise InvalidDocument([f"z_c is {z_c:g}. It must be more than 0 K. Take z from the rule."])
    if (np.diff(times) < 0).any():
        raise InvalidDocument(["time_s falls. Samples must be in order of time. Sort them."])
    return times, temperatures
