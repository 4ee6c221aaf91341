"""The surface: hot air heats it, water evaporates under it, a crust dries and shields it.

=========  =================================================================  =========
T_s        skin temperature, outside of the crust                             °C
T_f        temperature of the front where water evaporates, under the crust   °C
T_1        temperature of the outermost cell                                  °C
h          heat transfer coefficient of the air                               W/(m2 K)
R          resistance of the dry crust                                        m2 K/W
G          conductance from the front to the middle of the outermost cell     W/(m2 K)
W          water the crust has lost and not got back                          kg/m2
w          wetness, exp(-W / W0)                                              -
e          evaporation                                                        kg/(m2 s)
=========  =================================================================  =========

Crust and front hold no heat: (T_a - T_f) / (1/h + R) = G (T_f - T_1) + L e, with e = w f h (p(T_f) - p_a) M, where p is the
pressure of water vapour, f the evaporation factor and h M the mass transfer by the analogy of heat and mass transfer. A
fresh skin is the front itself, stays below boiling and pale; as the crust dries, w falls and R grows, and the skin rises
between the front and the air: it passes 100 °C and browns.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

LATENT_HEAT_STEAM = 2.257e6
"""Heat of evaporation of water at 100 °C [J/kg]."""

# Magnus form of the vapour pressure of water, Alduchov & Erskine 1996, J Appl Meteorol 35:601; at 100 °C 2 % above steam
# tables, which the evaporation factor's spread covers many times.
_MAGNUS_PA, _MAGNUS_A, _MAGNUS_B_C = 610.94, 17.625, 243.04

# Heat-mass analogy: M = 0.622 / (c_p P Le^(2/3)) with c_p 1010 J/(kg K), P 101.3 kPa, Le 0.86 (Bird, Stewart & Lightfoot).
MASS_PER_HEAT = 0.622 / (1010.0 * 101325.0 * 0.86 ** (2 / 3))
"""Evaporation per heat transfer coefficient and vapour pressure difference [kg K/(J Pa)]."""

CAVITY_VAPOUR_PA = 4000.0
"""Vapour pressure of the cavity's air (assumption: dew point 29 °C), never above 90 % of saturation."""

CRUST_CONDUCTIVITY = 0.08
"""Dried crust, porous [W/(m K)] (assumption; bread crust and dried meat 0.06-0.2)."""

_LEAST_WATER_PER_VOLUME = 100.0
"""Water in fresh crust is taken to be at least this [kg/m3], so that dry food has a finite crust."""

_HOTTEST_C = 450.0
_LARGEST_RISE_K = 60.0


def vapour_pressure(temperature_c: Array) -> Array:
    """Pressure of saturated water vapour [Pa]."""
    pressure: Array = _MAGNUS_PA * np.exp(_MAGNUS_A * temperature_c / (temperature_c + _MAGNUS_B_C))
    return pressure


@dataclass
class Surroundings:
    """What the skin sees during one part of a cook; arrays (n,).

    Attributes
    ----------
    air_c
        Air temperature at the food [°C].
    vapour_pa
        Vapour pressure of the air [Pa].
    evaporation
        Evaporation of a fully wet skin per h and Pa [kg K/(J Pa)]: the evaporation factor times the analogy.
    """

    air_c: Array
    vapour_pa: Array
    evaporation: Array

    @staticmethod
    def of(air_c: Array, vapour_pa: float, factor: Array) -> Surroundings:
        """Surroundings with at most 90 % relative humidity."""
        saturated = 0.9 * vapour_pressure(np.clip(air_c, -40.0, _HOTTEST_C))
        return Surroundings(air_c, np.minimum(vapour_pa, saturated), factor * MASS_PER_HEAT)


class Skin:
    """State of the surface, stepped together with the cells; arrays (n,).

    Attributes
    ----------
    temperature : ndarray (n,)
        Skin temperature [°C].
    front : ndarray (n,)
        T_f [°C].
    dried : ndarray (n,)
        W [kg/m2].
    air_heat : ndarray (n,)
        Heat taken from the air in the last step [J/m2].
    """

    def __init__(
        self, start_c: Array, conductance: Array, drying_capacity: Array, refill_time_s: Array, water_per_volume: float
    ) -> None:
        """A fresh skin.

        Parameters
        ----------
        start_c, conductance : ndarray (n,)
            Start temperature [°C] and G [W/(m2 K)].
        drying_capacity, refill_time_s : ndarray (n,)
            W0 [kg/m2] and time in which moisture comes back [s].
        water_per_volume
            Water in fresh food [kg/m3]: turns water lost into depth of dry crust.
        """
        self.temperature = start_c.copy()
        self.front = start_c.copy()
        self.dried = np.zeros_like(start_c)
        self.air_heat = np.zeros_like(start_c)
        self._conductance = conductance
        self._capacity = drying_capacity
        self._refill = refill_time_s
        self._resistance_per_water = 1.0 / (max(water_per_volume, _LEAST_WATER_PER_VOLUME) * CRUST_CONDUCTIVITY)

    def before(
        self, dt: Array, h: Array, outer_c: Array, around: Surroundings, wet: Array, wetness: float | None = None
    ) -> tuple[Array, Array]:
        """Linearise the balance for one step.

        Parameters
        ----------
        dt, h, outer_c : ndarray (n,)
            Step [s], heat transfer coefficient, and temperature of the outermost cell [°C].
        around
            What the skin sees.
        wet : ndarray (n,)
            1 as long as the portion has water to evaporate, falling to 0.
        wetness
            Fixed wetness of a resting skin, which the crust neither shields nor dries; None while cooking.

        Returns
        -------
        conductance, sink_c : ndarray (n,)
            The cells receive conductance (sink_c - T_1) [W/m2].
        """
        # Share of the air's resistance in that of air and crust together.
        self._bare = np.ones_like(h) if wetness else 1.0 / (1.0 + h * (self.dried * self._resistance_per_water))
        through = h * self._bare
        pressure, slope = self._tangent(self.front)
        pressure -= around.vapour_pa
        loss = h * around.evaporation
        loss *= wetness or self._mean_wetness(loss * pressure * dt)
        loss *= wet
        loss *= LATENT_HEAT_STEAM
        bottom = through + self._conductance
        heat = through * around.air_c
        guess = heat + self._conductance * outer_c
        guess -= loss * (pressure - slope * self.front)
        guess /= bottom + loss * slope
        np.minimum(guess, self.front + _LARGEST_RISE_K, out=guess)
        pressure, slope = self._tangent(guess)
        pressure -= around.vapour_pa
        pressure *= loss
        slope *= loss
        heat -= pressure
        heat += slope * guess
        slope += through
        self._gain, self._bottom = heat, slope + self._conductance
        self._through, self._air = through, around.air_c
        return self._conductance * slope / self._bottom, heat / slope

    def _front(self, outer_c: Array) -> Array:
        """Temperature of the front by the linearised balance, next to an outermost cell."""
        front: Array = self._conductance * outer_c
        front += self._gain
        front /= self._bottom
        return front

    def _mean_wetness(self, fresh: Array) -> Array:
        """Mean wetness over a step in which a fresh skin would lose `fresh` [kg/m2].

        The crust dries on at this step's pace: exp(W / W0) grows linearly, so the mean is a logarithm, and stays right
        however long the step.
        """
        pace = np.maximum(fresh, 1e-9)
        pace /= self._capacity
        wetness: Array = np.exp(self.dried / -self._capacity)
        wetness *= pace
        np.log1p(wetness, out=wetness)
        wetness /= pace
        return wetness

    def after(self, dt: Array, solved_c: Array, outer_c: Array, pumped: Array, moist: Array) -> Array:
        """Close the step with the new temperature of the outermost cell.

        Parameters
        ----------
        dt, solved_c, outer_c : ndarray (n,)
            Step [s], T_1 with which the heat into the food was balanced, and T_1 after boiling held it [°C]: the first
            keeps the energy, the second is what the front is next to.
        pumped : ndarray (n,)
            Water pushed out to the crust by boiling inside in this step [kg/m2].
        moist : ndarray (n,)
            Share of the portion's water still there; without it nothing refills the crust.

        Returns
        -------
        ndarray (n,)
            Evaporated in this step [kg/m2]; below 0 where moisture condensed.
        """
        front = self._front(solved_c)
        self.air_heat = self._through * (self._air - front)
        self.air_heat *= dt
        into_food = self._conductance * (front - solved_c)
        into_food *= dt
        evaporated: Array = self.air_heat - into_food
        evaporated /= LATENT_HEAT_STEAM
        self.front = self._front(outer_c)
        self.temperature = self.front + (1.0 - self._bare) * (self._air - self.front)
        self.dried += evaporated
        self.dried -= pumped
        moist *= dt
        moist /= self._refill
        moist += 1.0
        self.dried /= moist
        np.maximum(self.dried, 0.0, out=self.dried)
        return evaporated

    @staticmethod
    def _tangent(temperature_c: Array) -> tuple[Array, Array]:
        """Vapour pressure and its slope, [Pa] and [Pa/K]."""
        held = np.clip(temperature_c, -60.0, _HOTTEST_C)
        shifted = held + _MAGNUS_B_C
        held /= shifted
        held *= _MAGNUS_A
        pressure: Array = np.exp(held, out=held)
        pressure *= _MAGNUS_PA
        shifted *= shifted
        return pressure, pressure * (_MAGNUS_A * _MAGNUS_B_C) / shifted
