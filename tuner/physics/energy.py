"""Energy: what the simulator booked, and the same by hand.

All energies are per mass of portion [J/kg] unless a name says otherwise.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import erfc

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tuner.domain import Brief, Oven, Program
from tuner.physics.cooking import Rest, cook
from tuner.physics.food import Food
from tuner.physics.kinetics import bread_half_colour_s
from tuner.physics.microwave import absorption, coupling
from tuner.physics.model import PortionModel, portion_model
from tuner.physics.parameters import INDEX, natural
from tuner.physics.programs import ProgramArrays
from tuner.physics.skin import LATENT_HEAT_STEAM

Array = NDArray[np.float64]

CRUST_WATER = 0.3
"""Water in a skin 0.5 mm deep [kg/m2], to be dried before it browns (common practice, no source)."""

WET_SURFACE_C = 100.0

_SKIN_BELOW_AIR_K = 30.0

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


def browning_time_s(air_c: float) -> float:
    """Time in which a dry skin in hot air takes on half of bread crust's final colour [s].

    The skin is taken to be 30 K colder than the air (assumption).
    """
    return bread_half_colour_s(air_c - _SKIN_BELOW_AIR_K)


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


@dataclass(frozen=True)
class Estimates:
    """What can be said of a dish on an oven by hand.

    Attributes
    ----------
    energy_s
        Least duration by energy: heating by 0.9 of the coupled watts and the air together [s].
    drying_s, browning_s
        Time of full air to dry a skin, and to half of the final colour of bread crust after it [s]; infinite in air that
        dries nothing.
    start_c, centre_k_per_s
        Temperature at the start [°C], and its rise in the middle at full microwave [K/s], without melting.
    thawing_s
        Time in which the ice of the middle melts at full microwave [s].
    half_thickness_m, diffusivity
        Half thickness [m] and thermal diffusivity [m2/s].
    """

    energy_s: float
    drying_s: float
    browning_s: float
    start_c: float
    centre_k_per_s: float
    thawing_s: float
    half_thickness_m: float
    diffusivity: float

    def centre_c(self, seconds: float) -> float:
        """Temperature of the middle after so many seconds of full microwave, the surface at 100 °C; 100 at most [°C]."""
        heated = self.start_c + self.centre_k_per_s * max(seconds - self.thawing_s, 0.0)
        reach = self.half_thickness_m / (2.0 * (self.diffusivity * max(seconds, 1e-9)) ** 0.5)
        conducted = min(2.0 * erfc(reach), 1.0) * max(WET_SURFACE_C - heated, 0.0)
        return min(heated + conducted, WET_SURFACE_C)


def estimates_of(
    model: PortionModel,
    core_c: float,
    *,
    mass_g: float,
    start_c: float,
    air_c: float,
    air_speed: float = 1.0,
    luck: float = 0.0,
) -> Estimates:
    """Estimates by hand at full microwave and full air.

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
    air_speed
        Air speed over the oven's full one.
    luck
        Standard deviations of the prior by which coupling, penetration and air are better than expected.
    """
    theta = model.prior_mean.copy()
    for name in ("coupled_share", "penetration_depth", "h_jet", "air_offset"):
        theta[INDEX[name]] += luck * model.prior_sd[INDEX[name]]
    values = natural(theta)
    body = model.body
    h = (
        values[INDEX["h_still"]]
        + values[INDEX["h_jet"]] * (air_speed * model.cavity.relative_speed) ** values[INDEX["h_exponent"]]
    )
    air = air_c + values[INDEX["air_offset"]]
    surface_c = 0.5 * (start_c + WET_SURFACE_C)
    spread, stopped = absorption(
        body.cells, body.half_thickness_m, np.array([1e-3 * values[INDEX["penetration_depth"]]]), values[[INDEX["focusing"]]]
    )
    taken = values[INDEX["coupled_share"]] * float(coupling(np.array(mass_g), float(stopped[0])))
    watts = USABLE_SHARE * taken * model.cavity.rated_w / (1e-3 * mass_g)
    from_air = max(h * (air - surface_c) / body.mass_per_surface, 0.0)
    needed = max(energy_by_hand(body.food, start_c, core_c), 0.0)
    thawed_c = max(start_c, body.food.freezing_point_c)
    melting = max(energy_by_hand(body.food, start_c, thawed_c), 0.0)
    dries = air > WET_SURFACE_C + _SKIN_BELOW_AIR_K
    centre_watts = watts / USABLE_SHARE * float(spread[0, 0])
    return Estimates(
        energy_s=float(needed / (watts + from_air)),
        drying_s=crust_clock_s(h, air) if dries else float("inf"),
        browning_s=browning_time_s(air) if dries else float("inf"),
        start_c=thawed_c,
        centre_k_per_s=float(centre_watts / body.food.specific_heat),
        thawing_s=float(melting / max(centre_watts, 1e-9)),
        half_thickness_m=body.half_thickness_m,
        diffusivity=float(body.food.conductivity / (body.food.density * body.food.specific_heat)),
    )


def estimates(brief: Brief, oven: Oven, core_c: float, *, luck: float = 0.0) -> Estimates:
    """Estimates by hand for a brief's portion on an oven at its hottest air; see `estimates_of`."""
    setting, portion = oven.air_temperature_c, brief.portion
    return estimates_of(
        portion_model(brief, oven),
        core_c,
        mass_g=portion.mass_g,
        start_c=portion.start_temperature_c,
        air_c=setting.at(setting.count - 1),
        luck=luck,
    )


def duration_bounds_s(
    model: PortionModel, core_c: float, *, mass_g: float, start_c: float, air_c: float, air_speed: float = 1.0
) -> tuple[float, float]:
    """Least durations at the prior mean [s]: by energy at full microwave and air, and by the crust clock with browning.

    Parameters
    ----------
    model, core_c, mass_g, start_c, air_c, air_speed
        As for `estimates_of`; the air speed is that of the crust clock.
    """
    found = estimates_of(model, core_c, mass_g=mass_g, start_c=start_c, air_c=air_c)
    if air_speed < 1.0:
        slow = estimates_of(model, core_c, mass_g=mass_g, start_c=start_c, air_c=air_c, air_speed=air_speed)
        return found.energy_s, slow.drying_s + slow.browning_s
    return found.energy_s, found.drying_s + found.browning_s
