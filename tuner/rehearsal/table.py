"""Programs as arrays, so that thousands are cooked side by side."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tuner.domain import Program

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class ProgramTable:
    """n programs of up to s stages; stages that a program lacks have share 0.

    Attributes
    ----------
    air_temperature_c, duration_s
        Shape (n,).
    share, speed, microwave
        Shape (n, s), as fractions of 1.
    """

    air_temperature_c: Array
    duration_s: Array
    share: Array
    speed: Array
    microwave: Array

    def __len__(self) -> int:
        """Number of programs."""
        return len(self.duration_s)

    def take(self, index: NDArray[np.intp] | NDArray[np.bool_]) -> ProgramTable:
        """The programs at `index`, in that order."""
        return ProgramTable(
            self.air_temperature_c[index], self.duration_s[index], self.share[index], self.speed[index], self.microwave[index]
        )

    def repeated(self, times: int) -> ProgramTable:
        """Each program `times` times, one after the other."""
        return self.take(np.repeat(np.arange(len(self)), times))

    def reversed_stages(self) -> ProgramTable:
        """The same stages in the opposite order (empty stages come first, which changes nothing)."""
        return ProgramTable(
            self.air_temperature_c, self.duration_s, self.share[:, ::-1], self.speed[:, ::-1], self.microwave[:, ::-1]
        )

    def program(self, index: int) -> Program:
        """One program as a document; shares are given in whole hundredths of a percent."""
        stages = [
            {
                "share_pct": round(float(share) * 100, 6),
                "air_speed_pct": round(float(speed) * 100, 6),
                "microwave_pct": round(float(level) * 100, 6),
            }
            for share, speed, level in zip(self.share[index], self.speed[index], self.microwave[index], strict=True)
            if share > 0
        ]
        document = {
            "air_temperature_c": float(self.air_temperature_c[index]),
            "duration_s": float(self.duration_s[index]),
            "stages": stages,
        }
        return Program.model_validate(document)


def table_of(programs: Sequence[Program]) -> ProgramTable:
    """Programs as a table, on whatever steps they lie."""
    width = max(len(program.stages) for program in programs)
    share, speed, microwave = (np.zeros((len(programs), width)) for _ in range(3))
    for row, program in enumerate(programs):
        for column, stage in enumerate(program.stages):
            share[row, column] = stage.share_pct / 100
            speed[row, column] = stage.air_speed_pct / 100
            microwave[row, column] = stage.microwave_pct / 100
    return ProgramTable(
        np.array([float(program.air_temperature_c) for program in programs]),
        np.array([float(program.duration_s) for program in programs]),
        share,
        speed,
        microwave,
    )


def joined(tables: Sequence[ProgramTable]) -> ProgramTable:
    """Several tables as one, padded with empty stages."""
    width = max(table.share.shape[1] for table in tables)

    def padded(values: Array) -> Array:
        return np.pad(values, ((0, 0), (0, width - values.shape[1])))

    return ProgramTable(
        np.concatenate([table.air_temperature_c for table in tables]),
        np.concatenate([table.duration_s for table in tables]),
        np.concatenate([padded(table.share) for table in tables]),
        np.concatenate([padded(table.speed) for table in tables]),
        np.concatenate([padded(table.microwave) for table in tables]),
    )
