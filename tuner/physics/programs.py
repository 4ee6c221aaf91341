"""Programs as arrays, and what happens in each step of the simulation.

Arrays have one row per stage and one column per program: (S, n). Programs with fewer stages are filled with stages of
no time.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tuner.domain import Program

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class ProgramArrays:
    """Many programs side by side.

    Attributes
    ----------
    air_temperature_c, duration_s : ndarray (n,)
        Air temperature [°C] and duration [s].
    share, air_speed, microwave : ndarray (S, n)
        Share of the time, air speed and microwave level of each stage, as fractions of 1; shares add up to 1.
    """

    air_temperature_c: Array
    duration_s: Array
    share: Array
    air_speed: Array
    microwave: Array

    def __len__(self) -> int:
        return int(self.duration_s.shape[0])

    @staticmethod
    def of(programs: Sequence[Program] | ProgramArrays) -> ProgramArrays:
        """Arrays of a sequence of programs; arrays pass through."""
        if isinstance(programs, ProgramArrays):
            return programs
        stages = max((len(program.stages) for program in programs), default=1)
        flat = np.zeros((len(programs), 3 * stages + 2))
        for row, program in enumerate(programs):
            numbers = [program.air_temperature_c, program.duration_s]
            for stage in program.stages:
                numbers += (stage.share_pct, stage.air_speed_pct, stage.microwave_pct)
            flat[row, : len(numbers)] = numbers
        columns = np.ascontiguousarray(flat.T)
        return ProgramArrays(columns[0], columns[1], columns[2::3] / 100, columns[3::3] / 100, columns[4::3] / 100)

    def __getitem__(self, which: slice | NDArray[np.intp] | NDArray[np.bool_]) -> ProgramArrays:
        return ProgramArrays(*(part[..., which] for part in self._parts()))

    def _parts(self) -> tuple[Array, Array, Array, Array, Array]:
        return self.air_temperature_c, self.duration_s, self.share, self.air_speed, self.microwave


def step_means(share: Array, values: Array, steps: int) -> Array:
    """Mean of a stage value over each of equally long steps.

    Exact for stages that begin or end inside a step, so that doses are kept and forecasts move smoothly with the shares.

    Parameters
    ----------
    share, values : ndarray (S, n)
        Share of the time and value of each stage.
    steps
        Number of steps.

    Returns
    -------
    ndarray (steps, n)
    """
    if share.shape[0] == 1:
        return np.broadcast_to(values[0], (steps, values.shape[1]))
    edges = np.arange(1, steps + 1)[:, None] / steps
    dose = np.zeros((steps + 1, values.shape[1]))
    begin = np.zeros(values.shape[1])
    part = np.empty((steps, values.shape[1]))
    for length, value in zip(share, values, strict=True):
        np.subtract(edges, begin, out=part)
        np.clip(part, 0.0, length, out=part)
        part *= value
        dose[1:] += part
        begin += length
    result: Array = np.diff(dose, axis=0)
    result *= steps
    return result
