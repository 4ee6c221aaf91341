"""The physics of one portion in one oven, with the derivatives that calibration and forecasts need.

A state has five numbers in the order of `ATTRIBUTES`: core reading after the rest [°C], latents of browning, texture and
moisture, cook loss [%].

====== =========== ==================================================
symbol shape       meaning
====== =========== ==================================================
n                  programs
P                  uncertain parameters of the physics
theta  (P,)        parameters, each on its transformed scale
====== =========== ==================================================
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from tuner.domain import Brief, Oven
from tuner.learning.program_table import Array, ProgramTable
from tuner.physics import PARAMETERS, PortionModel, ProgramArrays, portion_model

_STEP = 0.08
"""Finite-difference step in prior standard deviations: well above the physics' rounding, small against its curvature."""
_MASS_STEP, _START_STEP_C = 0.02, 1.0


Together = tuple[tuple[int, slice], ...]

_OWN_COLUMN = {"browning": 1, "texture": 2, "moisture": 3, "loss": 4}


def _moved_together() -> tuple[Together, ...]:
    """Parameters that may be moved in one run of the physics, each with the columns of the state it moves.

    A parameter of the mapping from what happened to the attributes moves the attribute of its name alone, so that one
    parameter of each attribute can be moved at once.
    """
    alone: list[Together] = []
    of_attribute: dict[int, list[int]] = {column: [] for column in _OWN_COLUMN.values()}
    for place, parameter in enumerate(PARAMETERS):
        column = _OWN_COLUMN.get(parameter.name.partition("_")[0]) if parameter.group == "mapping" else None
        if column is None:
            alone.append(((place, slice(0, 5)),))
        else:
            of_attribute[column].append(place)
    rounds = max(len(places) for places in of_attribute.values())
    shared = [
        tuple((places[turn], slice(column, column + 1)) for column, places in of_attribute.items() if turn < len(places))
        for turn in range(rounds)
    ]
    return (*alone, *shared)


_MOVED_TOGETHER = _moved_together()


@dataclass(frozen=True, eq=False)
class Conditions:
    """What is known of portions besides the program: mass [g], start temperature [°C], rest [s], each (n,)."""

    mass_g: Array
    start_c: Array
    rest_s: Array

    @classmethod
    def nominal(cls, brief: Brief, count: int) -> Conditions:
        """The brief's own portion and rest, `count` times."""
        portion = brief.portion
        return cls(
            np.full(count, portion.mass_g), np.full(count, portion.start_temperature_c), np.full(count, float(brief.rest_s))
        )

    def repeat(self, times: int) -> Conditions:
        """Every row `times` times, copies side by side."""
        return Conditions(np.repeat(self.mass_g, times), np.repeat(self.start_c, times), np.repeat(self.rest_s, times))


@dataclass(frozen=True, eq=False)
class Simulator:
    """States and derivatives of programs for a brief's portion in an oven."""

    model: PortionModel
    start_step_c: float

    @property
    def prior_mean(self) -> Array:
        """Centre of the prior of theta before any evidence, (P,)."""
        return np.asarray(self.model.prior_mean, dtype=float)

    @property
    def prior_sd(self) -> Array:
        """Spread of the prior of theta before any evidence, (P,)."""
        return np.asarray(self.model.prior_sd, dtype=float)

    def states(self, table: ProgramTable, at: Conditions, theta: Array) -> Array:
        """States of programs, (n, 5); theta is (P,) or (n, P)."""
        arrays = ProgramArrays(table.air_temperature_c, table.duration_s, table.share.T, table.air.T, table.micro.T)
        return self.model.predict(arrays, mass_g=at.mass_g, start_temperature_c=at.start_c, theta=theta, rest_s=at.rest_s)

    def expanded(self, table: ProgramTable, at: Conditions, theta: Array, scale: Array) -> Expansion:
        """States and all their derivatives from one run of the physics.

        Parameters
        ----------
        scale : ndarray (P,)
            Derivatives are by parameters in these units.
        """
        count, size, groups = len(table), len(theta), _MOVED_TOGETHER
        runs = len(groups) + 3
        moved = np.tile(theta, (runs, 1))
        for run, group in enumerate(groups):
            for parameter, _ in group:
                moved[run, parameter] += _STEP * scale[parameter]
        mass, start = np.repeat(at.mass_g, runs), np.repeat(at.start_c, runs)
        mass[runs - 3 :: runs] *= 1.0 + _MASS_STEP
        start[runs - 2 :: runs] += self.start_step_c
        conditions = Conditions(mass, start, np.repeat(at.rest_s, runs))
        states = self.states(table.repeat(runs), conditions, np.tile(moved, (count, 1))).reshape(count, runs, 5)
        base = states[:, runs - 1]
        jacobian = np.zeros((count, 5, size))
        for run, group in enumerate(groups):
            slope = (states[:, run] - base) / _STEP
            for parameter, columns in group:
                jacobian[:, columns, parameter] = slope[:, columns]
        by_mass = (states[:, runs - 3] - base) / _MASS_STEP
        by_start = (states[:, runs - 2] - base) / self.start_step_c
        return Expansion(base, jacobian, np.stack([by_mass, by_start], axis=2))


@dataclass(frozen=True, eq=False)
class Expansion:
    """First-order expansion of the physics at programs.

    Attributes
    ----------
    states : ndarray (n, 5)
    jacobian : ndarray (n, 5, P)
        Derivatives by the parameters, in the units asked for.
    sensitivity : ndarray (n, 5, 2)
        Change per 1 (100 %) of mass and per kelvin of start temperature.
    """

    states: Array
    jacobian: Array
    sensitivity: Array


def simulator_for(brief: Brief, oven: Oven) -> Simulator:
    """The physics of the brief's portion in the oven."""
    frozen = brief.portion.start_state in {"frozen", "tempered"}
    return Simulator(portion_model(brief, oven), -_START_STEP_C if frozen else _START_STEP_C)
