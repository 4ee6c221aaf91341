"""Ice and enthalpy of food below its initial freezing point.

=====  =============================================  ========
t      temperature                                    °C
t_f    initial freezing point                         °C, < 0
x_w    water, x_b bound water that never freezes      kg/kg
x_s    solids                                         kg/kg
=====  =============================================  ========

Source: Chen 1985, Thermodynamic analysis of the freezing and thawing of foods: enthalpy and apparent specific heat,
J Food Sci 50:1158-1162; bound water 0.4 kg per kg protein (Schwartzberg 1976), as in the ASHRAE Handbook Refrigeration,
Thermal Properties of Foods, equations 5 and 15-18.
"""

from __future__ import annotations

from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Number = TypeVar("Number", float, Array)

LATENT_HEAT_ICE = 333.6e3
"""Latent heat of fusion of water [J/kg], as in Chen 1985."""

BOUND_WATER_PER_PROTEIN = 0.4
"""Water that never freezes [kg per kg protein] (Schwartzberg 1976)."""


def freezable_water(water: float, protein: float) -> float:
    """Water that can freeze [kg/kg], never below 0."""
    return max(water - BOUND_WATER_PER_PROTEIN * protein, 0.0)


def frozen_specific_heat(solids: float) -> float:
    """Specific heat of the frozen food apart from melting [J/(kg K)]: 1.55 + 1.26 x_s kJ/(kg K)."""
    return 1550.0 + 1260.0 * solids


def ice_fraction(freezable: float, freezing_point_c: float, temperature_c: Number) -> Number:
    """Ice [kg/kg] at or below the freezing point: (x_w - x_b)(1 - t_f / t)."""
    return freezable * (1.0 - freezing_point_c / temperature_c)


def frozen_enthalpy(freezable: float, solids: float, freezing_point_c: float, temperature_c: Number) -> Number:
    """Enthalpy above that of the just thawed food at its freezing point [J/kg]; 0 or less.

    Chen's equation taken between t and t_f: c (t - t_f) - L (x_w - x_b)(1 - t_f / t).
    """
    sensible = frozen_specific_heat(solids) * (temperature_c - freezing_point_c)
    return sensible - LATENT_HEAT_ICE * ice_fraction(freezable, freezing_point_c, temperature_c)


def apparent_specific_heat(freezable: float, solids: float, freezing_point_c: float, temperature_c: Number) -> Number:
    """Derivative of `frozen_enthalpy` [J/(kg K)]: c - L (x_w - x_b) t_f / t²."""
    return frozen_specific_heat(solids) - LATENT_HEAT_ICE * freezable * freezing_point_c / (temperature_c * temperature_c)


def temperature_of_frozen(freezable: float, solids: float, freezing_point_c: float, enthalpy: Array) -> Array:
    """Temperature [°C] of an enthalpy at or below 0 [J/kg]: the inverse of `frozen_enthalpy`.

    The enthalpy times t is quadratic in t with one root of each sign; the negative one is meant.
    """
    c = frozen_specific_heat(solids)
    latent = LATENT_HEAT_ICE * freezable
    half = 0.5 * (c * freezing_point_c + latent + enthalpy)
    root: Array = (half - np.sqrt(half * half - c * latent * freezing_point_c)) / c
    return root


def initial_freezing_point_c(water: float) -> float:
    """Initial freezing point from the water content [°C], within -8 to -0.4.

    -(0.4 + 2 (1 - x_w) / x_w): freezing points fall with dissolved matter per water. Assumption, plausible range +/-1 K:
    it gives -1.2 for lean meat (tables: -0.9 to -1.7), -0.6 for broccoli (-0.6), -3.8 for bread.
    """
    solids_per_water = (1.0 - water) / max(water, 1e-3)
    return max(-(0.4 + 2.0 * solids_per_water), -8.0)
