"""Energy: what the simulator booked, and the same by hand.

All energies are per mass of portion [J/kg] unless a name says otherwise.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tuner.domain import Program
from tuner.physics.cooking import Rest, cook
from tuner.physics.food import Food
from tuner.physics.model import PortionModel
from tuner.physics.parameters import INDEX, natural
from tuner.physics.programs import ProgramArrays
from tuner.physics.skin import LATENT_HEAT_STEAM

Array = NDArray[np.float64]

CRUST_WATER = 0.3
"""Water in a skin 0.5 mm deep [kg/m2], to be dried before it browns (common practice, no source)."""

WET_SURFACE_C = 100.0

USABLE_SHARE = 0.9
"""Share of the coupled watts that a program can use (common practice, no source)."""


@dataclass(frozen=True, eq=False)
class EnergyBalance:
    """Energy of n cooks without rest, (n,) each [J/kg].

    Attributes
    ----------
    microwave, air
        Taken from the microwave and from the air.
    heating
        Rise of the enthalpy of the portion, melting included.
    evaporation
        Spent on evaporating and boiling water.
    """

    microwave: Array
    air: Array
    heating: Array
    evaporation: Array

    @property
    def residual(self) -> Array:
        """In less out over what went in; 0 where the balance closes."""
        into = self.microwave + self.air
        return (into - self.heating - self.evaporation) / np.maximum(np.abs(into), 1.0)


def energy_balance(
    model: PortionModel,
    programs: Sequence[Program] | ProgramArrays,
    *,
    mass_g: ArrayLike,
    start_temperature_c: ArrayLike,
    theta: ArrayLike,
) -> EnergyBalance:
    """Where the energy of n cooks went, from the oven's start to its end.

    Parameters
    ----------
    model
        The dish on its oven.
    programs
        n programs.
    mass_g, start_temperature_c : array_like (n,) or scalar
        Mass [g] and start temperature [°C]; all portions start with ice or all without.
    theta : array_like (P,)
        Parameters.
    """
    arrays = ProgramArrays.of(programs)
    runs = len(arrays)
    values = np.repeat(natural(theta)[:, None], runs, axis=1)
    start = np.broadcast_to(np.asarray(start_temperature_c, dtype=float), (runs,))
    mass = np.broadcast_to(np.asarray(mass_g, dtype=float), (runs,))
    no_rest = Rest(np.zeros(runs), covered=False)
    _, simulation = cook(model.body, model.cavity, arrays, values, mass_g=mass, start_c=start, rest=no_rest, lid=model.lid)
    ledger = simulation.ledger
    return EnergyBalance(ledger.microwave, ledger.air, simulation.enthalpy_rise(), ledger.evaporated)


def energy_by_hand(food: Food, start_c: float, end_c: float, evaporated: float = 0.0) -> float:
    """Energy to heat food evenly and evaporate a share of its mass [J/kg].

    Parameters
    ----------
    food
        Properties.
    start_c, end_c
        Even temperature before and after [°C].
    evaporated
        Water evaporated [kg/kg].
    """
    return food.enthalpy(end_c) - food.enthalpy(start_c) + evaporated * LATENT_HEAT_STEAM


def crust_clock_s(h_w_m2k: float, air_c: float) -> float:
    """Time to dry a skin of 0.3 kg/m2 with the surface at 100 °C [s]; browning time comes on top.

    Raises
    ------
    ValueError
        If the air is not hotter than a wet surface: it never dries.
    """
    if air_c <= WET_SURFACE_C:
        raise ValueError(
            f"air_c is {air_c:g} °C. A wet surface at {WET_SURFACE_C:g} °C dries only in hotter air. "
            "Give a higher air temperature"
        )
    return CRUST_WATER * LATENT_HEAT_STEAM / (h_w_m2k * (air_c - WET_SURFACE_C))


def duration_bounds_s(
    model: PortionModel, core_c: float, *, mass_g: float, start_c: float, air_c: float
) -> tuple[float, float]:
    """Least durations at full microwave and full air, at the prior mean [s].

    Parameters
    ----------
    model
        The dish on its oven.
    core_c
        Temperature to heat the whole portion to [°C].
    mass_g, start_c
        Portion [g], [°C].
    air_c
        Air temperature set [°C].

    Returns
    -------
    energy_s, crust_s
        By energy: heating by 0.9 of the coupled watts and the air together. By the crust clock; infinite in air that
        dries nothing.
    """
    values = natural(model.prior_mean)
    h = values[INDEX["h_still"]] + values[INDEX["h_jet"]] * model.cavity.relative_speed ** values[INDEX["h_exponent"]]
    air = air_c + values[INDEX["air_offset"]]
    surface_c = 0.5 * (start_c + WET_SURFACE_C)
    watts = USABLE_SHARE * model.coupled_watts(mass_g) / (1e-3 * mass_g)
    from_air = max(h * (air - surface_c) / model.body.mass_per_surface, 0.0)
    needed = max(energy_by_hand(model.body.food, start_c, core_c), 0.0)
    crust = crust_clock_s(h, air) if air > WET_SURFACE_C else float("inf")
    return float(needed / (watts + from_air)), float(crust)
