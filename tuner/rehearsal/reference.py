"""The seeded search for a reference program around which a kitchen's windows are built.

1. Random programs of one, two and three stages are scaled in microwave until the core is right.
2. The conventional oven is simulated over temperatures and durations; those with a right core are the benchmark's candidates.
3. A pair of program and conventional method is chosen that eat alike; where the order of stages is to decide, the program must
   also lie far from everything that one stage can do, and from its own reverse.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tuner.domain import Oven
from tuner.rehearsal.bench import Bench
from tuner.rehearsal.conventional import CONVENTIONAL, STEPS, conventional_grid
from tuner.rehearsal.grid import on_steps, random_programs, stages_long_enough
from tuner.rehearsal.senses import Impression, together
from tuner.rehearsal.table import Array, ProgramTable, joined

_SPREAD_MARKS = 0.95
"""Standard deviation, in marks, of programs whose core is right: what makes a score worth tuning."""


_COLOUR_PER_MARK = 0.8
"""Most that the logarithm of the colour changes over one mark: nobody calls twice and a half as dark the same."""


_LEAST_PER_MARK = np.array([0.2, 0.12, 0.08])
"""Least change of colour, firmness and juiciness that anybody calls a mark."""


@dataclass(frozen=True, slots=True)
class CoreAim:
    """Usable low edge and high edge of the core window [°C]."""

    low: float
    high: float

    def right(self, impression: Impression) -> NDArray[np.bool_]:
        """Whether the core is inside with something to spare, shape (n,)."""
        spare = 0.18 * (self.high - self.low)
        return np.asarray((impression.lowest_c > self.low + spare) & (impression.mean_c < self.high - spare))


@dataclass(frozen=True, slots=True)
class Pool:
    """Programs with a right core and their impressions."""

    table: ProgramTable
    impression: Impression

    def take(self, index: NDArray[np.intp]) -> Pool:
        """Those at `index`."""
        return Pool(self.table.take(index), self.impression.take(index))


def core_right(
    bench: Bench, oven: Oven, aim: CoreAim, durations: tuple[float, float], rng: np.random.Generator, stages: int, count: int
) -> Pool:
    """Random programs scaled in microwave until the core is right; those that got there."""
    table = random_programs(oven, durations, rng, count, stages)
    target = rng.uniform(aim.low + 0.3 * (aim.high - aim.low), aim.high - 0.25 * (aim.high - aim.low), count)
    start, top = bench.setup.portion.start_temperature_c, oven.microwave_pct.high / 100
    for _ in range(2):
        core = bench.cook_nominal(table).lowest_c
        factor = np.clip((target - start) / np.maximum(core - start, 1.0), 0.35, 2.5)
        table = ProgramTable(
            table.air_temperature_c,
            table.duration_s,
            table.share,
            table.speed,
            np.minimum(table.microwave * factor[:, None], top),
        )
    table = on_steps(oven, table)
    table = table.take(stages_long_enough(oven, table))
    impression = bench.cook_nominal(table)
    index = np.flatnonzero(aim.right(impression))
    return Pool(table.take(index), impression.take(index))


def conventional_methods(bench: Bench, aim: CoreAim) -> Pool:
    """Conventional methods with a right core."""
    table = conventional_grid()
    impression = bench.in_cavity(CONVENTIONAL).cook_nominal(table, steps=STEPS)
    index = np.flatnonzero(aim.right(impression))
    return Pool(table.take(index), impression.take(index))


def per_mark(pools: list[Pool]) -> Array:
    """Change of colour, firmness and juiciness that is one mark, shape (3,): robust spread of programs with a right core."""
    latent = np.concatenate([pool.impression.latent for pool in pools], axis=1)
    low, high = np.percentile(latent, [16, 84], axis=1)
    mark: Array = np.maximum((high - low) / 2 / _SPREAD_MARKS, _LEAST_PER_MARK)
    mark[0] = min(mark[0], _COLOUR_PER_MARK)
    return mark


def longest_s(duration_s: Array) -> Array:
    """Upper edge of the duration window that a brief around programs of these durations would have [s]."""
    return np.asarray(np.ceil(duration_s * 1.08 / 15.0) * 15.0)


def separation(many: Pool, single: Pool, mark: Array) -> Array:
    """How far each program is from the nearest one-stage program, in half-widths of a window, shape (n,)."""
    one, other = many.impression, single.impression
    marks = np.abs(one.latent[:, :, None] - other.latent[:, None, :]) / mark[:, None, None] / 0.5
    loss = np.maximum(other.loss_pct[None, :] - one.loss_pct[:, None] - 1.0, 0.0)
    apart = np.maximum(marks.max(axis=0), loss)
    in_time = single.table.duration_s[None, :] <= longest_s(many.table.duration_s)[:, None]
    return np.asarray(np.where(in_time, apart, 5.0).min(axis=1))


def likeness(many: Pool, conventional: Pool, mark: Array) -> tuple[Array, NDArray[np.intp]]:
    """Distance in marks of each program to the conventional method it is most like, and which that is."""
    gap = np.abs(many.impression.latent[:, :, None] - conventional.impression.latent[:, None, :]) / mark[:, None, None]
    far = gap.max(axis=0)
    return np.asarray(far.min(axis=1)), np.asarray(far.argmin(axis=1))


def pools_of(
    bench: Bench, oven: Oven, aim: CoreAim, durations: tuple[float, float], rng: np.random.Generator, size: int
) -> tuple[Pool, Pool]:
    """Programs with a right core: of several stages, and of one."""
    stages = [count for count in (2, 3) if count <= min(oven.max_stages, oven.share_parts)]
    many = [core_right(bench, oven, aim, durations, rng, count, size // len(stages)) for count in stages]
    single = core_right(bench, oven, aim, durations, rng, 1, size)
    return Pool(joined([pool.table for pool in many]), together([pool.impression for pool in many])), single
