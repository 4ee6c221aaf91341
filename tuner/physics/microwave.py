"""Where the microwave power goes: how much the portion takes, and how deep.

Power enters through the whole surface, crosses the portion, and what is left goes on through the other half (two passes).
Through the shells of a cylinder or sphere the same power crosses ever smaller faces, so the middle heats more (focusing), as
far as the wavelength lets it; how much of that real pieces show stays uncertain.
Frozen matter absorbs a fraction of what thawed matter does: a frozen load takes less of the power that walls and load share,
and what thaws first, near the surface, shields the ice behind it and boils while the middle is still cold.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from tuner.physics.cells import Cells

Array = NDArray[np.float64]

SPEED_OF_LIGHT = 299792458.0
FREQUENCY_HZ = 2.45e9

DEFAULT_RATED_W = 1500.0
"""Rated power of an oven that does not tell it [W] (assumption; 700-3500 is usual)."""

REFERENCE_LOAD_G, LOAD_HALF_G = 200.0, 50.0
"""Load and walls compete for the power: a load of m that stops all that meets it takes m / (m + 50 g), stated relative to
200 g. Two portions of 200 g then need 1.8 times the microwave seconds of one, inside the trade's 1.6-1.9 (common practice, no
source). Thin loads and ice let power through, and lose more of it to the walls."""

HOT_EDGES = 0.35
"""Share of the power that a thick portion loses as steam from its hot edges while the rest is ice (assumption, 0.1-0.5): loss
factors are 1-2 frozen and 16-17 thawed (Bengtsson & Risman 1971), so what thaws first takes most of the power and boils."""

_OPAQUE = 300.0
"""Optical depth beyond which nothing arrives (and squares would underflow)."""

_BLUR_THAWED_M, _BLUR_FROZEN_M = 4.3e-3, 15e-3
"""A quarter of the wavelength at 2.45 GHz, 122 mm / sqrt(eps'): eps' 50 thawed, 4 frozen (beef: To et al. 1974; Bengtsson &
Risman 1971)."""

_COUPLING_FROM_C, _COUPLING_SPAN_K = 20.0, 80.0
_LEAST_COUPLING, _MOST_COUPLING = 0.1, 1.6
_DRY_COUPLING = 0.1
"""What is left of the coupled power when the water is gone (assumption; loss factors of dry food are a tenth or less)."""
_BURNT_SPAN_K = 150.0
"""Dried food stops absorbing within this above the boiling point (assumption): keeps burnt food finite."""


def penetration_depth_mm(permittivity: float, loss: float, frequency_hz: float = FREQUENCY_HZ) -> float:
    """Depth at which the power of a plane wave has fallen to 37 % [mm].

    lambda0 / (2 pi sqrt(2 eps')) / sqrt(sqrt(1 + (eps''/eps')^2) - 1).

    Parameters
    ----------
    permittivity, loss
        Real part and loss factor of the relative permittivity.
    frequency_hz
        Frequency [Hz].
    """
    wavelength = SPEED_OF_LIGHT / frequency_hz
    tangent = loss / permittivity
    growth = float(np.sqrt(1.0 + tangent * tangent) - 1.0)
    return 1e3 * wavelength / (2 * np.pi * float(np.sqrt(2 * permittivity * growth)))


def coupling(mass_g: Array, stopped: Array | float = 1.0) -> Array:
    """Power a load takes over that of 200 g which stop all power that meets them.

    Parameters
    ----------
    mass_g : ndarray (n,)
        Mass of the load [g].
    stopped : ndarray (n,) or float
        Share of the power that does not come out on the other side.
    """
    taking = stopped * mass_g
    return taking / (taking + LOAD_HALF_G) * (1.0 + LOAD_HALF_G / REFERENCE_LOAD_G)


def temperature_factor(mean_c: Array, loss_per_80k: Array, boiling_c: float, wet: Array) -> Array:
    """How the coupled power changes while the portion heats and dries; 1 at 20 °C.

    The loss factor of free water falls as it warms (Kaatze 1989); salt counteracts it. Food without water takes a tenth,
    and nothing from 150 K above the boiling point.

    Parameters
    ----------
    mean_c, loss_per_80k : ndarray (n,)
        Mean temperature [°C], and loss of the share per 80 K.
    boiling_c
        Boiling point [°C].
    wet : ndarray (n,)
        1 as long as there is water, falling to 0 as the last of it goes.
    """
    factor = 1.0 - loss_per_80k * (mean_c - _COUPLING_FROM_C) / _COUPLING_SPAN_K
    np.clip(factor, _LEAST_COUPLING, _MOST_COUPLING, out=factor)
    factor *= _DRY_COUPLING + (1.0 - _DRY_COUPLING) * wet
    factor *= np.clip(1.0 - (mean_c - boiling_c - 5.0) / _BURNT_SPAN_K, 0.0, 1.0)
    return factor


def absorption(
    cells: Cells, half_thickness_m: float, depth_m: Array, focusing: Array, frozen: Array | float = 0.0
) -> tuple[Array, Array]:
    """How the absorbed power is spread over the cells, and what share of the power that meets the load stays in it.

    Parameters
    ----------
    cells
        Geometry, m cells.
    half_thickness_m
        Half thickness [m].
    depth_m : ndarray (n,)
        Power penetration depth of the portion as it is now [m]. It follows the mean frozen share: fields in a cavity are
        too irregular to tell a thawed rim from the ice behind it.
    focusing : ndarray (n,)
        0 for a plain exponential in depth, 1 for shells that keep the power they carry.
    frozen : ndarray (n,) or 0
        Frozen share of the portion.

    Returns
    -------
    spread : ndarray (m, n)
        Power per mass in each cell over the mean power per mass of the portion.
    stopped : ndarray (n,)
        Share of the power that does not come out on the other side.
    """
    across = np.minimum(half_thickness_m / depth_m, _OPAQUE)
    passing = np.exp((cells.faces[:, None] - 1.0) * across)
    through = passing[0] ** 2
    returning = through / passing  # on the way out
    spread: Array = (passing[1:] - passing[:-1]) + (returning[:-1] - returning[1:])
    spread /= np.diff(cells.faces)[:, None]
    if cells.dimensions > 1:
        spread *= _crowding(cells, half_thickness_m, focusing, frozen)
    spread /= cells.volume @ spread
    return spread, 1.0 - through


def steamed_off(half_thickness_m: float, depth_m: Array, frozen: Array) -> Array:
    """Share of the absorbed power that leaves as steam from hot edges while there is ice, (n,).

    It falls with the ice, so that whatever thaws faster loses less; thin portions are evened out by conduction.

    Parameters
    ----------
    half_thickness_m
        Half thickness [m].
    depth_m, frozen : ndarray (n,)
        Penetration depth of the thawed portion [m], and mean frozen share.
    """
    share: Array = HOT_EDGES * frozen * -np.expm1(-half_thickness_m / depth_m)
    return share


def _crowding(cells: Cells, half_thickness_m: float, focusing: Array, frozen: Array | float) -> Array:
    """How much denser power gets towards the middle of a cylinder or sphere, (m, n).

    Power that crosses ever smaller shells grows as 1 / r or 1 / r²; waves can't be focused closer than about a quarter of
    their length, so r is blurred by that.
    """
    blurred = _BLUR_THAWED_M**2 + frozen * (_BLUR_FROZEN_M**2 - _BLUR_THAWED_M**2)
    radius = cells.centres[:, None] ** 2 + blurred / half_thickness_m**2
    return 1.0 + focusing * (radius ** (-0.5 * (cells.dimensions - 1)) - 1.0)
