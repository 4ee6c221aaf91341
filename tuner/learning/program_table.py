"""Many programs side by side as arrays.

======== ========= ==============================================================
symbol   shape     meaning
======== ========= ==============================================================
n                  number of programs
S                  largest number of stages among them
share    (n, S)    share of the time of each stage, 0..1; 0 where there is no stage
air      (n, S)    air speed, 0..1
micro    (n, S)    microwave level, 0..1
======== ========= ==============================================================
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tuner.domain import Program, Stage

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class ProgramTable:
    """Programs as arrays; see the module's table of symbols. Temperatures in °C, durations in s."""

    air_temperature_c: Array
    duration_s: Array
    share: Array
    air: Array
    micro: Array

    def __len__(self) -> int:
        return len(self.duration_s)

    @classmethod
    def of(cls, programs: Sequence[Program]) -> ProgramTable:
        """Arrays of the given programs, in their order."""
        width = max((len(program.stages) for program in programs), default=1)
        stages = np.zeros((len(programs), width, 3))
        for row, program in enumerate(programs):
            for column, stage in enumerate(program.stages):
                stages[row, column] = stage.share_pct, stage.air_speed_pct, stage.microwave_pct
        stages /= 100.0
        head = np.array([(p.air_temperature_c, p.duration_s) for p in programs], dtype=float).reshape(-1, 2)
        return cls(head[:, 0], head[:, 1], stages[:, :, 0], stages[:, :, 1], stages[:, :, 2])

    def take(self, rows: NDArray[np.intp] | Sequence[int]) -> ProgramTable:
        """The chosen rows, in the order asked for."""
        rows = np.asarray(rows, dtype=np.intp)
        return ProgramTable(
            self.air_temperature_c[rows], self.duration_s[rows], self.share[rows], self.air[rows], self.micro[rows]
        )

    def repeat(self, times: int) -> ProgramTable:
        """Every row `times` times, copies side by side."""
        return self.take(np.repeat(np.arange(len(self)), times))

    def edges(self) -> Array:
        """Times at which stages begin and end as shares of the duration, shape (n, S + 1), from 0 to 1."""
        ends = np.cumsum(self.share, axis=1)
        return np.concatenate([np.zeros((len(self), 1)), ends], axis=1)

    def mean_over(self, level: Array, begin: float, end: float) -> Array:
        """Mean of a stage-wise level between two shares of the duration, shape (n,)."""
        edges = self.edges()
        overlap = np.minimum(edges[:, 1:], end) - np.maximum(edges[:, :-1], begin)
        return np.asarray((np.clip(overlap, 0.0, None) * level).sum(axis=1) / (end - begin))


def joined(tables: Iterable[ProgramTable]) -> ProgramTable:
    """The rows of several tables below each other."""
    parts = list(tables)
    width = max(part.share.shape[1] for part in parts)

    def padded(values: Array) -> Array:
        return np.pad(values, ((0, 0), (0, width - values.shape[1])))

    return ProgramTable(
        np.concatenate([part.air_temperature_c for part in parts]),
        np.concatenate([part.duration_s for part in parts]),
        np.concatenate([padded(part.share) for part in parts]),
        np.concatenate([padded(part.air) for part in parts]),
        np.concatenate([padded(part.micro) for part in parts]),
    )


def program_of(air_temperature_c: float, duration_s: float, stages: Iterable[tuple[float, float, float]]) -> Program:
    """A program from numbers; stages are (share %, air speed %, microwave %)."""
    return Program(
        air_temperature_c=float(air_temperature_c),
        duration_s=float(duration_s),
        stages=tuple(
            Stage(share_pct=float(share), air_speed_pct=float(air), microwave_pct=float(micro)) for share, air, micro in stages
        ),
    )
