"""Cells across the half thickness of a portion, from the centre to the surface.

=======  ====================================================
index 0  the cell at the centre, the last one at the surface
faces    from 0 to 1 in units of the half thickness
=======  ====================================================

Shell volumes and faces of slab, cylinder and sphere follow x^1, x^2, x^3. Loose pieces are cooked from most sides, about
as cylinders (assumption).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tuner.domain import Shape

Array = NDArray[np.float64]

_DIMENSIONS: dict[Shape, int] = {"slab": 1, "cylinder": 2, "sphere": 3, "loose": 2}

_FEWEST, _MOST = 3, 10
_CELLS_BELOW_M = 2.0e-3
"""One further cell for each doubling or so: thin portions are near uniform (small Biot number), thick ones need cells near
the surface, where air and microwave act, while their centre changes slowly."""

_OUTERMOST_M = 1.6e-3
"""Cells at the surface are this thin or thinner [m], thin against the penetration of heat in a minute."""


@dataclass(frozen=True, eq=False)
class Cells:
    """Relative geometry of the cells; lengths in units of the half thickness.

    Attributes
    ----------
    faces : ndarray (cells + 1,)
        Face positions, 0 at the centre and 1 at the surface.
    centres : ndarray (cells,)
        Middle of each cell.
    volume : ndarray (cells,)
        Share of the portion's volume (and mass) in each cell; adds up to 1.
    area : ndarray (cells + 1,)
        Area of each face over that of the surface.
    dimensions
        1 slab, 2 cylinder, 3 sphere.
    crust
        Number of outer cells that make up the layer under the skin; what boils there is not pushed out from inside.
    """

    faces: Array
    centres: Array
    volume: Array
    area: Array
    dimensions: int
    crust: int = 1

    @property
    def count(self) -> int:
        """Number of cells."""
        return int(self.volume.shape[0])


def cell_count(half_thickness_m: float) -> int:
    """Number of cells: 3 up to 2 mm of half thickness, 6 at 14 mm, at most 10."""
    more = 1.1 * np.log2(max(half_thickness_m / _CELLS_BELOW_M, 1.0))
    return int(min(_FEWEST + round(more), _MOST))


def _geometric_faces(count: int, outermost: float) -> Array:
    """Faces whose spacing grows by a constant ratio from the surface to the centre."""
    low, high = 1.0, 4.0
    for _ in range(60):  # bisection of outermost (r^n - 1) / (r - 1) = 1
        ratio = 0.5 * (low + high)
        total = outermost * (count if ratio == 1.0 else (ratio**count - 1) / (ratio - 1))
        low, high = (ratio, high) if total < 1.0 else (low, ratio)
    widths = ratio ** np.arange(count)
    faces: Array = 1.0 - np.concatenate([[0.0], np.cumsum(widths) / widths.sum()])[::-1]
    return faces


def cells_for(shape: Shape, half_thickness_m: float, refine: int = 1) -> Cells:
    """Cells for a portion.

    Parameters
    ----------
    shape
        Shape of the portion.
    half_thickness_m
        Half the thickness [m].
    refine
        Times as many cells, each cut into equal parts; for checks of convergence.
    """
    count = cell_count(half_thickness_m)
    outermost = min(_OUTERMOST_M / half_thickness_m, 1.0 / count)
    faces = _geometric_faces(count, outermost)
    if refine > 1:
        coarse = np.arange(count + 1) * refine
        faces = np.interp(np.arange(count * refine + 1), coarse, faces)
    faces[0], faces[-1] = 0.0, 1.0
    power = _DIMENSIONS[shape]
    volume = np.diff(faces**power)
    return Cells(faces, 0.5 * (faces[1:] + faces[:-1]), volume, faces ** (power - 1), power, refine)
