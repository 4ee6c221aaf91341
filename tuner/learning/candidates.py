"""Candidate programs on an oven's steps: a spread start, neighbours, and the corners of what can be set."""

from __future__ import annotations

from itertools import product

import numpy as np
from numpy.typing import NDArray

from tuner.domain import Brief
from tuner.learning.grid import Codes, Grid

_IN_ORDER = 0.7
"""Share of the spread programs that follow the trade: microwave falls and air rises from stage to stage."""
_FEW = 4000
_REACH = (0.0, 0.04, 0.10, 0.25)
"""Sizes of a move as shares of a setting's range; zero is one step of the oven."""


def _compositions(rng: np.random.Generator, count: int, parts: int, stages: int) -> Codes:
    """Share steps of `count` programs, each at least 1, that add up to `parts`."""
    weights = rng.dirichlet(np.full(stages, 2.0), size=count)
    whole = np.floor(weights * (parts - stages)).astype(np.int64) + 1
    whole[np.arange(count), np.argmax(weights, axis=1)] += parts - whole.sum(axis=1)
    return whole


def _durations(rng: np.random.Generator, count: int, grid: Grid, longest_s: float) -> NDArray[np.int64]:
    setting = grid.oven.duration_s
    low, high = np.log(grid.shortest_s), np.log(max(grid.shortest_s, min(grid.longest_s, longest_s)))
    seconds = np.exp(rng.uniform(low, high, size=count))
    steps = np.rint((seconds - setting.low) / (setting.step or 1.0)).astype(np.int64)
    return np.clip(steps, grid.first_duration, grid.last_duration)


def longest_useful_s(brief: Brief, grid: Grid) -> float:
    """Longest duration worth searching [s]: the conventional one, because a rapid oven is there to be faster."""
    conventional = brief.conventional.duration_s if brief.conventional else 3600.0
    return max(grid.shortest_s, min(grid.longest_s, conventional))


def spread_programs(rng: np.random.Generator, count: int, grid: Grid, longest_s: float, stages: int) -> Codes:
    """Legal random programs of `stages` stages (fewer than `count` where a shortest stage forbids many)."""
    parts = _compositions(rng, count, grid.parts, stages)
    air = rng.integers(0, grid.speeds, size=(count, stages))
    micro = rng.integers(0, grid.levels, size=(count, stages))
    ordered = rng.random(count) < _IN_ORDER
    air[ordered] = np.sort(air[ordered], axis=1)
    micro[ordered] = -np.sort(-micro[ordered], axis=1)
    temperature = rng.integers(0, grid.temperatures, size=count)
    codes = np.column_stack([temperature, _durations(rng, count, grid, longest_s), _braided(parts, air, micro)])
    return codes[grid.legal(codes)]


def _braided(parts: Codes, air: Codes, micro: Codes) -> Codes:
    return np.stack([parts, air, micro], axis=2).reshape(len(parts), -1)


def stage_counts(grid: Grid) -> tuple[int, ...]:
    """Numbers of stages to search: two and three where the oven has them, one only where it must be."""
    return tuple(range(2, grid.stages + 1)) or (1,)


def widened(codes: Codes, stages: int) -> Codes:
    """Codes with room for `stages` stages."""
    return np.pad(codes, ((0, 0), (0, max(0, 2 + 3 * stages - codes.shape[1]))))


def start_set(rng: np.random.Generator, count: int, grid: Grid, longest_s: float) -> Codes:
    """A spread start over the searched numbers of stages; single-stage programs where nothing else is legal."""
    counts = stage_counts(grid)
    found = [widened(spread_programs(rng, count // len(counts), grid, longest_s, stages), grid.stages) for stages in counts]
    codes = np.concatenate(found)
    if len(codes) < min(count // 4, 20) and 1 not in counts:
        codes = np.concatenate([codes, widened(spread_programs(rng, count, grid, longest_s, 1), grid.stages)])
    return distinct(np.concatenate([codes, corners(grid)]))


def corners(grid: Grid) -> Codes:
    """Programs of one stage at the ends of what can be set: the most and the least that the oven can do."""
    rows = [
        (temperature, duration, grid.parts, air, micro)
        for temperature, duration, air, micro in product(
            {0, grid.temperatures - 1},
            {grid.first_duration, grid.last_duration},
            {0, grid.speeds - 1},
            {0, grid.levels - 1},
        )
    ]
    return widened(np.array(sorted(rows), dtype=np.int64), grid.stages)


def every_program(grid: Grid) -> Codes | None:
    """All programs of the searched and of one stage where they are few, else None."""
    durations = grid.last_duration - grid.first_duration + 1
    settings = grid.speeds * grid.levels
    total = 0.0
    for stages in range(1, grid.stages + 1):
        ways = float(np.prod([grid.parts - 1 - k for k in range(stages - 1)])) / (1 if stages < 3 else 2)
        total += durations * grid.temperatures * max(ways, 0.0) * float(settings) ** stages
    if total > _FEW:
        return None
    found = []
    for stages in range(1, grid.stages + 1):
        levels = [range(grid.speeds), range(grid.levels)] * stages
        shares = [row for row in product(range(1, grid.parts + 1), repeat=stages) if sum(row) == grid.parts]
        heads = product(range(grid.temperatures), range(grid.first_duration, grid.last_duration + 1), shares, product(*levels))
        rows = [
            [t, d, *[number for k in range(stages) for number in (share[k], level[2 * k], level[2 * k + 1])]]
            for t, d, share, level in heads
        ]
        if rows:
            found.append(widened(np.array(rows, dtype=np.int64), grid.stages))
    codes = np.concatenate(found)
    return codes[grid.legal(codes)]


def first_rows(codes: Codes) -> NDArray[np.intp]:
    """Rows at which each code appears for the first time, in order."""
    seen: dict[bytes, int] = {}
    for row, code in enumerate(np.ascontiguousarray(codes)):
        seen.setdefault(code.tobytes(), row)
    return np.fromiter(seen.values(), dtype=np.intp, count=len(seen))


def distinct(codes: Codes) -> Codes:
    """Codes without repeats, in the order of their first appearance."""
    return codes[first_rows(codes)]


def _sizes(rng: np.random.Generator, count: int, settings: int) -> NDArray[np.int64]:
    reach = rng.choice(_REACH, size=count) * (settings - 1)
    sizes = np.maximum(np.rint(reach * rng.random(count)), 1).astype(np.int64)
    return np.asarray(sizes * rng.choice([-1, 1], size=count))


def neighbours(rng: np.random.Generator, codes: Codes, each: int, grid: Grid) -> Codes:
    """About `each` legal neighbours of every code: one or two levers moved by one step up to a quarter of the range."""
    moved = np.repeat(codes, each, axis=0)
    for _ in range(2):
        again = rng.random(len(moved)) < (1.0 if _ == 0 else 0.4)
        moved = np.where(again[:, None], _moved(rng, moved, grid), moved)
    return distinct(moved[grid.legal(moved)])


def _moved(rng: np.random.Generator, codes: Codes, grid: Grid) -> Codes:
    """Every code with one lever moved and clipped to what can be set."""
    moved, count, stages = codes.copy(), len(codes), (codes.shape[1] - 2) // 3
    lever = rng.integers(0, 9, size=count)
    rows = np.arange(count)
    there = codes[:, 2::3] > 0
    stage = np.floor(rng.random(count) * there.sum(axis=1)).astype(np.int64)
    durations = grid.last_duration - grid.first_duration + 1
    change = {
        0: _sizes(rng, count, grid.temperatures),
        1: _sizes(rng, count, min(durations, max(2, int(durations**0.9)))),
        3: _sizes(rng, count, grid.speeds),
        4: _sizes(rng, count, grid.levels),
        2: _sizes(rng, count, grid.parts),
    }
    moved[:, 0] += np.where(lever == 0, change[0], 0)
    longer = np.isin(lever, (1, 8))
    moved[:, 1] += np.where(longer, change[1], 0)
    moved[rows, 3 + 3 * stage] += np.where(lever == 3, change[3], 0)
    moved[rows, 4 + 3 * stage] += np.where(lever == 4, change[4], 0)
    moved[:, 3::3] += np.where((lever == 5)[:, None], change[3][:, None], 0)
    moved[:, 4::3] += np.where((lever == 6)[:, None], change[4][:, None], 0)
    other = (stage + 1) % np.maximum(there.sum(axis=1), 1)
    shift = np.where((lever == 2) | (lever == 7), np.minimum(np.abs(change[2]), codes[rows, 2 + 3 * stage] - 1), 0)
    shift = np.where(stage == other, 0, shift)
    moved[rows, 2 + 3 * stage] -= shift
    moved[rows, 2 + 3 * other] += shift
    kept = np.clip(moved[:, 1], grid.first_duration, grid.last_duration)
    _keep_dose(codes, moved, kept, lever == 8, grid)
    return _clipped(moved, there, grid, stages)


def _keep_dose(codes: Codes, moved: Codes, duration: NDArray[np.int64], chosen: NDArray[np.bool_], grid: Grid) -> None:
    """Where the duration alone was moved, divide the microwave levels by the same factor: dose kept."""
    setting, micro = grid.oven.duration_s, grid.oven.microwave_pct
    if micro.step is None or not chosen.any():
        return
    step = setting.step or 0.0
    factor = (setting.low + codes[chosen, 1] * step) / (setting.low + duration[chosen] * step)
    levels = micro.low + codes[chosen][:, 4::3] * micro.step
    moved[np.ix_(np.flatnonzero(chosen), np.arange(4, codes.shape[1], 3))] = np.rint(
        (levels * factor[:, None] - micro.low) / micro.step
    ).astype(np.int64)


def _clipped(moved: Codes, there: NDArray[np.bool_], grid: Grid, stages: int) -> Codes:
    moved[:, 0] = np.clip(moved[:, 0], 0, grid.temperatures - 1)
    moved[:, 1] = np.clip(moved[:, 1], grid.first_duration, grid.last_duration)
    for k in range(stages):
        moved[:, 3 + 3 * k] = np.where(there[:, k], np.clip(moved[:, 3 + 3 * k], 0, grid.speeds - 1), 0)
        moved[:, 4 + 3 * k] = np.where(there[:, k], np.clip(moved[:, 4 + 3 * k], 0, grid.levels - 1), 0)
    return moved
