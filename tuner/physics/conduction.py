"""Conduction between cells, one implicit step after another, for many runs at once.

Arrays are (cells, n): cells x runs. Each step solves, for every cell i of relative mass m_i,

    m_i dH_i/dt = g_{i-1/2} (T_{i-1} - T_i) + g_{i+1/2} (T_{i+1} - T_i) + m_i q_i

with H the enthalpy [J/kg], g conductances per mass of portion [W/(kg K)], q heating [W/kg], and at the surface the
conductance and temperature given by the skin. Backward Euler: stable for any step, so cells may be as thin as the surface
asks. `ThawedCells` holds properties constant and eliminates once per segment; `FreezingCells` follows ice by enthalpy,
keeps energy exactly, and iterates once with the chord of the enthalpy curve.
"""

from __future__ import annotations

from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from tuner.physics import freezing
from tuner.physics.cells import Cells
from tuner.physics.food import Food
from tuner.physics.skin import LATENT_HEAT_STEAM

Array = NDArray[np.float64]


class Conducting(Protocol):
    """Cells that can be stepped."""

    temperature: Array
    outer_solved: Array
    """Temperature of the outermost cell with which the surface flux of the last step was balanced [°C] (n,)."""

    def begin(self, dt: Array) -> None:
        """Start a segment of equal steps of `dt` [s] (n,)."""
        ...

    def step(self, heating: Array, surface: Array, sink_c: Array, wet: Array) -> tuple[Array, Array]:
        """One step; returns the water boiled off in it, in all and below the crust's layer [kg/kg of portion] (n,).

        Parameters
        ----------
        heating : ndarray (cells, n)
            Power per mass of each cell [W/kg]; may be overwritten.
        surface, sink_c : ndarray (n,)
            Conductance to the surface per mass of portion [W/(kg K)] and the temperature behind it [°C].
        wet : ndarray (n,)
            1 as long as there is water to boil, falling to 0 as the last of it goes.
        """
        ...

    def enthalpy(self) -> Array:
        """Mean enthalpy above that at the freezing point [J/kg] (n,)."""
        ...

    def frozen_share(self) -> Array | None:
        """Share of the freezable water that is ice (n,); None once and for all where there is none anywhere."""
        ...


def face_conductance(cells: Cells, conductivity: Array, half_thickness_m: float, density: float) -> Array:
    """Conductance of the faces between cells per mass of portion [W/(kg K)], (cells - 1, n)."""
    gaps = np.diff(cells.centres)
    shape = (cells.area[1:-1] / gaps * cells.dimensions)[:, None]
    return shape * (conductivity / (density * half_thickness_m**2))


class _Boiling:
    """Water that boils off where a cell would pass the boiling point."""

    def __init__(self, cells: Cells, specific_heat: float, boiling_c: float, runs: int) -> None:
        self._inner, self._crust = cells.volume[: -cells.crust], cells.volume[-cells.crust :]
        self._boiling_c = boiling_c
        self._to_water = specific_heat / LATENT_HEAT_STEAM
        self._excess = np.empty((cells.count, runs))

    def hold(self, temperature: Array, wet: Array) -> tuple[Array, Array]:
        """Take the excess over boiling out of the temperatures, in place; where `wet` is below 1 only that share of it.

        Returns
        -------
        all, inner : ndarray (n,)
            Water boiled off [kg per kg of portion], in all cells and in those below the crust's layer.
        """
        excess = self._excess
        np.subtract(temperature, self._boiling_c, out=excess)
        if excess.max() <= 0.0:
            nothing = np.zeros(temperature.shape[1])
            return nothing, nothing
        np.maximum(excess, 0.0, out=excess)
        excess *= wet
        temperature -= excess
        inner: Array = self._inner @ excess[: self._inner.size]
        inner *= self._to_water
        crust = self._crust @ excess[self._inner.size :]
        crust *= self._to_water
        return inner + crust, inner


class ThawedCells:
    """Cells that never freeze: constant properties, elimination prepared once per segment."""

    def __init__(self, cells: Cells, food: Food, start_c: Array, conductance: Array, boiling_c: float) -> None:
        self.temperature = np.repeat(start_c[None, :], cells.count, axis=0)
        self.outer_solved = start_c.copy()
        self._cells = cells
        self._food = food
        self._conductance = conductance
        self._boiling = _Boiling(cells, food.specific_heat, boiling_c, start_c.shape[0])

    def begin(self, dt: Array) -> None:
        """Eliminate from the centre outwards: the coefficients do not change while the step stays the same."""
        capacity = self._cells.volume[:, None] * self._food.specific_heat
        inner = dt * self._conductance / capacity[1:]  # to the neighbour towards the centre
        outer = dt * self._conductance / capacity[:-1]
        count, runs = self.temperature.shape
        self._pivot = np.empty((count - 1, runs))
        self._back = np.empty((count - 1, runs))
        self._carry = np.empty((count - 1, runs))
        for i in range(count - 1):
            diagonal = 1.0 + outer[i]
            if i > 0:
                diagonal += inner[i - 1] * (1.0 - self._back[i - 1])
            np.divide(1.0, diagonal, out=self._pivot[i])
            np.multiply(outer[i], self._pivot[i], out=self._back[i])
            if i > 0:
                np.multiply(inner[i - 1], self._pivot[i], out=self._carry[i])
        self._last = 1.0 + inner[-1] * (1.0 - self._back[-1])
        self._inner_last = inner[-1]
        self._heat_scale = dt / self._food.specific_heat
        self._surface_scale = dt / capacity[-1]
        self._work = np.empty(runs)

    def step(self, heating: Array, surface: Array, sink_c: Array, wet: Array) -> tuple[Array, Array]:
        """One step; see `Conducting`."""
        t, work = self.temperature, self._work
        heating *= self._heat_scale
        t += heating
        np.multiply(t[0], self._pivot[0], out=t[0])
        last = t.shape[0] - 1
        for i in range(1, last):
            np.multiply(t[i - 1], self._carry[i], out=work)
            t[i] *= self._pivot[i]
            t[i] += work
        surface = surface * self._surface_scale
        np.multiply(t[last - 1], self._inner_last, out=work)
        t[last] += work
        t[last] += surface * sink_c
        t[last] /= self._last + surface
        for i in range(last - 1, -1, -1):
            np.multiply(t[i + 1], self._back[i], out=work)
            t[i] += work
        self.outer_solved = t[last].copy()
        return self._boiling.hold(t, wet)

    def enthalpy(self) -> Array:
        """Mean enthalpy; see `Conducting`."""
        mean: Array = self._cells.volume @ self.temperature
        return self._food.specific_heat * (mean - self._food.freezing_point_c)

    def frozen_share(self) -> Array | None:
        """None: nothing ever freezes; see `Conducting`."""
        return None


class FreezingCells:
    """Cells with ice: enthalpy is the state, conductivity and apparent heat capacity follow the ice."""

    _ITERATIONS = 2

    def __init__(self, cells: Cells, food: Food, start_c: Array, conductance: Array, boiling_c: float) -> None:
        self.temperature = np.repeat(start_c[None, :], cells.count, axis=0)
        self.outer_solved = start_c.copy()
        self._cells = cells
        self._food = food
        self._conductance = conductance
        self._boiling = _Boiling(cells, food.specific_heat, boiling_c, start_c.shape[0])
        self._enthalpy = self._enthalpy_of(self.temperature)
        self._frozen = self._ice_in(self.temperature)

    def _enthalpy_of(self, temperature: Array) -> Array:
        food = self._food
        thawed = food.specific_heat * (temperature - food.freezing_point_c)
        below = np.minimum(temperature, food.freezing_point_c)
        ice = freezing.frozen_enthalpy(food.freezable, food.solids, food.freezing_point_c, below)
        return np.where(temperature >= food.freezing_point_c, thawed, ice)

    def _temperature_of(self, enthalpy: Array) -> Array:
        food = self._food
        thawed = food.freezing_point_c + enthalpy / food.specific_heat
        below = np.minimum(enthalpy, 0.0)
        ice = freezing.temperature_of_frozen(food.freezable, food.solids, food.freezing_point_c, below)
        return np.where(enthalpy >= 0.0, thawed, ice)

    def _ice_in(self, temperature: Array) -> Array:
        below = np.minimum(temperature, self._food.freezing_point_c)
        share: Array = 1.0 - self._food.freezing_point_c / below
        return share

    def _capacity_at(self, temperature: Array) -> Array:
        food = self._food
        below = np.minimum(temperature, food.freezing_point_c)
        ice = freezing.apparent_specific_heat(food.freezable, food.solids, food.freezing_point_c, below)
        return np.where(temperature >= food.freezing_point_c, food.specific_heat, ice)

    def begin(self, dt: Array) -> None:
        """Start a segment; nothing can be prepared, as the ice changes."""
        self._dt = dt

    def step(self, heating: Array, surface: Array, sink_c: Array, wet: Array) -> tuple[Array, Array]:
        """One step; see `Conducting`."""
        old_h, old_t = self._enthalpy, self.temperature
        more = 1.0 + (self._food.frozen_conductivity_ratio - 1.0) * self._frozen
        faces = self._conductance * (0.5 * (more[1:] + more[:-1]))
        capacity = self._capacity_at(old_t)
        for _ in range(self._ITERATIONS):
            change = self._solve(capacity, faces, heating, surface, sink_c)
            new_h = old_h + self._gained(old_t + change, faces, heating, surface, sink_c)
            new_t = self._temperature_of(new_h)
            moved = new_t - old_t
            # The chord of the enthalpy curve over the step, where it moved enough to be told from rounding.
            usable = np.abs(moved) > 1e-6
            capacity = np.where(usable, (new_h - old_h) / np.where(usable, moved, 1.0), capacity)
            np.maximum(capacity, 200.0, out=capacity)
        self.outer_solved = old_t[-1] + change[-1]
        self.temperature, self._enthalpy = new_t, new_h
        boiled, inner = self._boiling.hold(self.temperature, wet)
        if boiled.any():
            self._enthalpy = self._enthalpy_of(self.temperature)
        self._frozen = self._ice_in(self.temperature)
        return boiled, inner

    def _gained(self, t: Array, faces: Array, heating: Array, surface: Array, sink_c: Array) -> Array:
        """Enthalpy each cell gains over the step with temperatures `t` at its end [J/kg]."""
        flow = faces * (t[1:] - t[:-1])
        gained = np.empty_like(t)
        gained[:-1] = flow
        gained[-1] = surface * (sink_c - t[-1])
        gained[1:] -= flow
        gained /= self._cells.volume[:, None]
        gained += heating
        gained *= self._dt
        return gained

    def _solve(self, capacity: Array, faces: Array, heating: Array, surface: Array, sink_c: Array) -> Array:
        """Change of temperature over the step with a given heat capacity, by elimination from the centre."""
        dt, t = self._dt, self.temperature
        mass = self._cells.volume[:, None] * capacity
        right = self._gained(t, faces, heating, surface, sink_c)
        right *= self._cells.volume[:, None]
        g = faces * dt
        back = np.empty_like(g)
        last = t.shape[0] - 1
        diagonal = mass[0] + g[0]
        back[0] = g[0] / diagonal
        right[0] /= diagonal
        for i in range(1, last):
            diagonal = mass[i] + g[i] + g[i - 1] * (1.0 - back[i - 1])
            right[i] += g[i - 1] * right[i - 1]
            right[i] /= diagonal
            back[i] = g[i] / diagonal
        diagonal = mass[last] + surface * dt + g[last - 1] * (1.0 - back[last - 1])
        right[last] += g[last - 1] * right[last - 1]
        right[last] /= diagonal
        for i in range(last - 1, -1, -1):
            right[i] += back[i] * right[i + 1]
        return right

    def enthalpy(self) -> Array:
        """Mean enthalpy; see `Conducting`."""
        mean: Array = self._cells.volume @ self._enthalpy
        return mean

    def frozen_share(self) -> Array | None:
        """Mean frozen share of the portion; see `Conducting`."""
        mean: Array = self._cells.volume @ self._frozen
        return mean
