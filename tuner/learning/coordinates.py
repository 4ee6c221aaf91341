"""Physical coordinates of a program, in which what the physics leaves over is smooth.

They do not depend on how a program is cut into stages, so that programs of one to many stages live in one space. A unit of
each coordinate is about the step over which a cook's result changes by as much as in any other coordinate.
"""

from __future__ import annotations

import numpy as np

from tuner.learning.program_table import Array, ProgramTable

COORDINATES = (
    "log duration",
    "air temperature",
    "air, first half",
    "air, third quarter",
    "air, last quarter",
    "microwave, first third",
    "microwave, middle third",
    "microwave, last third",
)

_UNIT = np.array([0.35, 35.0, 0.35, 0.35, 0.35, 0.30, 0.30, 0.30])


def coordinates(table: ProgramTable) -> Array:
    """Coordinates of programs, shape (n, 8), in the order of `COORDINATES`."""
    third = 1.0 / 3.0
    raw = np.stack(
        [
            np.log(table.duration_s),
            table.air_temperature_c,
            table.mean_over(table.air, 0.0, 0.5),
            table.mean_over(table.air, 0.5, 0.75),
            table.mean_over(table.air, 0.75, 1.0),
            table.mean_over(table.micro, 0.0, third),
            table.mean_over(table.micro, third, 2 * third),
            table.mean_over(table.micro, 2 * third, 1.0),
        ],
        axis=1,
    )
    return np.asarray(raw / _UNIT)


def squared_distances(left: Array, right: Array) -> Array:
    """Squared distances between rows of two sets of coordinates, shape (len(left), len(right))."""
    cross = left @ right.T
    total = (left**2).sum(axis=1)[:, None] + (right**2).sum(axis=1)[None, :] - 2.0 * cross
    return np.asarray(np.clip(total, 0.0, None))


def smooth_correlation(left: Array, right: Array, length: float) -> Array:
    """Squared-exponential correlation between rows of two sets of coordinates, shape (len(left), len(right))."""
    return np.asarray(np.exp(-0.5 * squared_distances(left, right) / length**2))
