"""One cook after the other, side by side: what happens inside a portion under hot air and microwave, and in the rest.

A `Simulation` holds the state of n runs; `advance` moves it through a segment of equal steps. All arrays are (n,),
(cells, n) or (steps, n).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tuner.physics import microwave
from tuner.physics.cells import Cells
from tuner.physics.conduction import Conducting, FreezingCells, ThawedCells, face_conductance
from tuner.physics.food import Food
from tuner.physics.kinetics import browning_rate, drip_share, heat_dose_rate
from tuner.physics.parameters import INDEX
from tuner.physics.skin import LATENT_HEAT_STEAM, Skin, Surroundings

Array = NDArray[np.float64]


_LAST_WATER = 0.1
"""Evaporation and boiling fade out over this last share of the water (assumption)."""


@dataclass(frozen=True, eq=False)
class Body:
    """The portion of a brief: what does not change from run to run.

    Attributes
    ----------
    food, cells
        Properties and geometry.
    half_thickness_m
        Half thickness [m]; a heavier portion is taken to be wider or to have more pieces, not to be thicker.
    boiling_c
        Boiling point of water at the oven's altitude [°C].
    dimensions
        Surface over volume times half thickness.
    """

    food: Food
    cells: Cells
    half_thickness_m: float
    boiling_c: float

    @property
    def mass_per_surface(self) -> float:
        """Mass behind each square metre of surface [kg/m2]."""
        return self.food.density * self.half_thickness_m / self.cells.dimensions

    def starts_icy(self, start_c: Array) -> bool:
        """Whether any portion starts with ice."""
        return bool((start_c < self.food.freezing_point_c).any())


@dataclass
class Ledger:
    """Energy in and out of each run so far [J/kg of portion] (n,); enthalpy is taken from the state."""

    microwave: Array
    air: Array
    evaporated: Array


@dataclass
class Outcome:
    """What happened to each run, (n,).

    Attributes
    ----------
    centre_c, mean_c
        Temperatures at the end [°C].
    browning_dose
        Seconds at the reference skin temperature.
    heat_dose
        Seconds at 75 °C.
    crust
        Water the crust has lost and not got back [kg/m2].
    evaporated, boiled, dripped
        Water and juice lost [kg/kg].
    """

    centre_c: Array
    mean_c: Array
    browning_dose: Array
    heat_dose: Array
    crust: Array
    evaporated: Array
    boiled: Array
    dripped: Array


@dataclass
class Segment:
    """A part of a cook in equal steps.

    Attributes
    ----------
    dt : ndarray (n,)
        Step [s].
    air_c : ndarray (n,)
        True air temperature [°C].
    h : ndarray (steps, n)
        Heat transfer coefficient [W/(m2 K)].
    watts_per_kg : ndarray (steps, n), optional
        Microwave power per mass if the load coupled like 200 g that let nothing through [W/kg].
    mass_g : ndarray (n,), optional
        Mass of the load [g]; needed with `watts_per_kg`.
    vapour_pa
        Vapour pressure of the air [Pa].
    evaporation : ndarray (n,)
        Evaporation factor.
    wetness
        Fixed wetness of a resting skin that neither dries out nor browns; None while cooking.
    """

    dt: Array
    air_c: Array
    h: Array
    vapour_pa: float
    evaporation: Array
    watts_per_kg: Array | None = None
    mass_g: Array | None = None
    wetness: float | None = None


class Simulation:
    """State of n runs."""

    def __init__(self, body: Body, values: Array, start_c: Array) -> None:
        """Start n cold portions.

        Parameters
        ----------
        body
            The portion.
        values : ndarray (P, n)
            Natural values of the parameters.
        start_c : ndarray (n,)
            Temperature at the start [°C].
        """
        self._body = body
        self._value = {name: values[position] for name, position in INDEX.items()}
        conductivity = body.food.conductivity * self._value["conductivity_factor"]
        faces = face_conductance(body.cells, conductivity, body.half_thickness_m, body.food.density)
        kind = FreezingCells if body.starts_icy(start_c) else ThawedCells
        self.cells: Conducting = kind(body.cells, body.food, start_c, faces, body.boiling_c)
        outer_gap = float(1.0 - body.cells.centres[-1]) * body.half_thickness_m
        self.skin = Skin(
            start_c,
            conductivity / outer_gap,
            self._value["drying_capacity"],
            self._value["refill_time"],
            body.food.water * body.food.density,
        )
        self.surface_per_mass = 1.0 / body.mass_per_surface
        self._constant: tuple[Array, Array] | None = None
        runs = start_c.shape[0]
        self._hottest = np.repeat(start_c[None, :], body.cells.count, axis=0)
        self.browning_dose = np.zeros(runs)
        self.heat_dose = np.zeros(runs)
        self.evaporated = np.zeros(runs)
        self.boiled = np.zeros(runs)
        self.ledger = Ledger(np.zeros(runs), np.zeros(runs), np.zeros(runs))
        self._mean = start_c.copy()
        self._start_enthalpy = self.cells.enthalpy()

    def advance(self, segment: Segment) -> None:
        """Move all runs through a segment."""
        self.cells.begin(segment.dt)
        around = Surroundings.of(segment.air_c, segment.vapour_pa, segment.evaporation)
        for step in range(segment.h.shape[0]):
            self._step(segment, step, around)

    def _step(self, segment: Segment, step: int, around: Surroundings) -> None:
        dt, cells, skin, per_mass = segment.dt, self.cells, self.skin, self.surface_per_mass
        moist = self._moist()
        wet = np.minimum(moist * (1.0 / _LAST_WATER), 1.0)
        surface, sink = skin.before(dt, segment.h[step], cells.temperature[-1], around, wet, segment.wetness)
        surface *= per_mass
        power, heating, spent = self._heating(segment, step, wet)
        boiled, inner = cells.step(heating, surface, sink, wet)
        boiled = boiled + spent * (dt / LATENT_HEAT_STEAM)
        self.boiled += boiled
        before = skin.temperature
        driven = np.minimum(inner, power * (dt / LATENT_HEAT_STEAM))  # steam that microwave makes, not heat from outside
        pumped = self._value["pumped_share"] * driven / per_mass
        evaporated = skin.after(dt, cells.outer_solved, cells.temperature[-1], pumped, moist)
        evaporated *= per_mass
        self.evaporated += evaporated
        if segment.wetness is None:
            self.browning_dose += dt * browning_rate(0.5 * (before + skin.temperature), self._value["browning_energy"])
        mean = self._body.cells.volume @ cells.temperature
        self.heat_dose += dt * heat_dose_rate(0.5 * (mean + self._mean))
        self._mean = mean
        np.maximum(self._hottest, cells.temperature, out=self._hottest)
        self._book(dt, power, evaporated + boiled)

    def _heating(self, segment: Segment, step: int, wet: Array) -> tuple[Array, Array, Array]:
        """Power per mass [W/kg]: absorbed (n,), heating each cell (cells, n), steamed off by hot edges (n,)."""
        shape = self.cells.temperature.shape
        if segment.watts_per_kg is None or segment.mass_g is None:
            return np.zeros(shape[1]), np.zeros(shape), np.zeros(shape[1])
        spread, taken = self._absorption(segment.mass_g)
        power = microwave.temperature_factor(self._mean, self._value["coupling_loss"], self._body.boiling_c, wet)
        power *= segment.watts_per_kg[step]
        power *= taken
        frozen = self.cells.frozen_share()
        if frozen is None:
            return power, spread * power, np.zeros(shape[1])
        spent = microwave.steamed_off(self._body.half_thickness_m, 1e-3 * self._value["penetration_depth"], frozen) * power
        return power, spread * (power - spent), spent

    def _absorption(self, mass_g: Array) -> tuple[Array, Array]:
        """Spread over the cells, and factor on the power of a load of 200 g; constant unless there is ice."""
        if self._constant is not None:
            return self._constant
        body, depth, focusing = self._body, 1e-3 * self._value["penetration_depth"], self._value["focusing"]
        frozen = self.cells.frozen_share()
        if frozen is None:
            spread, stopped = microwave.absorption(body.cells, body.half_thickness_m, depth, focusing)
            self._constant = spread, microwave.coupling(mass_g, stopped)
            return self._constant
        spread, _ = microwave.absorption(body.cells, body.half_thickness_m, depth, focusing)
        through_ice = depth / (1.0 - frozen * (1.0 - self._value["frozen_attenuation"]))
        _, stopped = microwave.absorption(body.cells, body.half_thickness_m, through_ice, focusing, frozen)
        return spread, microwave.coupling(mass_g, stopped)

    def _moist(self) -> Array:
        """Share of the portion's water that is still there (n,)."""
        lost = self.evaporated + self.boiled
        lost /= -max(self._body.food.water, 1e-3)
        lost += 1.0
        return np.clip(lost, 0.0, 1.0, out=lost)

    def _book(self, dt: Array, power: Array, water: Array) -> None:
        ledger = self.ledger
        ledger.microwave += power * dt
        ledger.air += self.skin.air_heat * self.surface_per_mass
        ledger.evaporated += water * LATENT_HEAT_STEAM

    def outcome(self) -> Outcome:
        """What happened so far."""
        food = self._body.food
        freed = self._body.cells.volume @ drip_share(self._hottest, food.protein, food.water)
        return Outcome(
            centre_c=self.cells.temperature[0].copy(),
            mean_c=self._mean.copy(),
            browning_dose=self.browning_dose.copy(),
            heat_dose=self.heat_dose.copy(),
            crust=self.skin.dried.copy(),
            evaporated=self.evaporated.copy(),
            boiled=self.boiled.copy(),
            dripped=self._value["drip_factor"] * freed,
        )

    def enthalpy_rise(self) -> Array:
        """Mean enthalpy now less that at the start [J/kg] (n,)."""
        return self.cells.enthalpy() - self._start_enthalpy
