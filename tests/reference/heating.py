"""Plain heating of a body in air of one temperature by the project's conduction cells, to compare with published solutions."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from tuner.domain import Shape
from tuner.physics.cells import Cells, cells_for
from tuner.physics.conduction import FreezingCells, ThawedCells, face_conductance
from tuner.physics.food import Food

NEVER_BOILS_C = 1e9

PLAIN = Food(
    make_up={"water": 1.0, "protein": 0.0},
    density=1000.0,
    specific_heat=4000.0,
    conductivity=0.5,
    freezing_point_c=-1.0,
    freezable=0.0,
    solids=0.0,
    frozen_conductivity_ratio=1.0,
)


def food(*, conductivity: float, diffusivity: float, density: float = 1000.0, **more: float) -> Food:
    """A food with a given conductivity and diffusivity."""
    specific_heat = conductivity / (density * diffusivity)
    return replace(PLAIN, conductivity=conductivity, density=density, specific_heat=specific_heat, **more)


class Body:
    """A slab, cylinder or sphere with one heat transfer coefficient to air of one temperature."""

    def __init__(
        self,
        shape: Shape,
        half_m: float,
        stuff: Food,
        h: float,
        air_c: float,
        start_c: float,
        *,
        refine: int = 4,
        ice: bool = False,
    ) -> None:
        self.geometry: Cells = cells_for(shape, half_m, refine)
        start = np.array([start_c])
        faces = face_conductance(self.geometry, np.array([stuff.conductivity]), half_m, stuff.density)
        kind = FreezingCells if ice else ThawedCells
        self.cells = kind(self.geometry, stuff, start, faces, NEVER_BOILS_C)
        gap = (1.0 - self.geometry.centres[-1]) * half_m
        through = 1.0 / (1.0 / h + gap / stuff.conductivity)
        self._surface = np.array([through * self.geometry.dimensions / (stuff.density * half_m)])
        self._air = np.array([air_c])
        self._to_surface = through / h
        self._half = half_m

    def begin(self, dt: float) -> None:
        self.cells.begin(np.array([dt]))

    def step(self) -> None:
        nothing = np.zeros(self.cells.temperature.shape)
        self.cells.step(nothing, self._surface, self._air, np.ones(1))

    def after(self, seconds: float, steps: int) -> NDArray[np.float64]:
        self.begin(seconds / steps)
        for _ in range(steps):
            self.step()
        return self.cells.temperature[:, 0]

    def at(self, where: float) -> float:
        """Temperature at a relative distance from the centre, 1 on the surface."""
        surface = self._air[0] + (self.cells.temperature[-1, 0] - self._air[0]) * self._to_surface
        known = np.concatenate([self.geometry.centres, [1.0]])
        values = np.concatenate([self.cells.temperature[:, 0], [surface]])
        if where <= known[0]:  # even around the centre: a parabola with no slope there
            slope = (values[1] - values[0]) / (known[1] ** 2 - known[0] ** 2)
            return float(values[0] - slope * (known[0] ** 2 - where**2))
        return float(np.interp(where, known, values))
