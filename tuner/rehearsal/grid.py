"""Programs on an oven's own steps: drawn at random, snapped, and their neighbours."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from tuner.domain import Oven, Setting, Window
from tuner.rehearsal.table import Array, ProgramTable


def snapped(setting: Setting, value: Array, *, scale: float = 1.0) -> Array:
    """Nearest values that can be set; `scale` is what one unit of `value` is on the setting's own scale."""
    if setting.step is None:
        return np.full_like(value, setting.low / scale)
    index = np.clip(np.rint((value * scale - setting.low) / setting.step), 0, setting.count - 1)
    return np.asarray(np.round(setting.low + index * setting.step, 9) / scale)


def duration_range(oven: Oven, window: Window | None) -> tuple[float, float]:
    """Shortest and longest settable duration inside the window [s]."""
    low = -np.inf if window is None or window.low is None else window.low
    high = np.inf if window is None or window.high is None else window.high
    values = [value for value in oven.duration_s.values if low <= value <= high]
    if not values:
        raise ValueError(
            f"{oven.name} has no duration step within {low:g} to {high:g} s. A kitchen needs one. Widen the window"
        )
    return values[0], values[-1]


def _shares(oven: Oven, rng: np.random.Generator, count: int, stages: int) -> Array:
    """Random shares of the time in whole share steps, none empty, shape (count, stages)."""
    parts = oven.share_parts
    cuts = np.sort(rng.random((count, stages - 1)), axis=1) * (parts - stages)
    cuts = np.floor(cuts) + np.arange(1, stages)
    edges = np.concatenate([np.zeros((count, 1)), cuts, np.full((count, 1), float(parts))], axis=1)
    return np.diff(edges, axis=1) / parts


def random_programs(
    oven: Oven, durations: tuple[float, float], rng: np.random.Generator, count: int, stages: int
) -> ProgramTable:
    """`count` programs of `stages` stages, most with falling microwave and rising air, as the trade has it.

    Microwave levels are not on steps yet: they are meant to be scaled to the core first.
    """
    low, high = durations
    air = snapped(oven.air_temperature_c, rng.uniform(oven.air_temperature_c.low, oven.air_temperature_c.high, count))
    duration = snapped(oven.duration_s, high - (high - max(low, 0.4 * high)) * rng.random(count) ** 1.5)
    speed = rng.uniform(oven.air_speed_pct.low, oven.air_speed_pct.high, (count, stages))
    microwave = rng.beta(0.8, 1.6, (count, stages)) + 0.02
    usual = rng.random(count) < 0.75
    speed[usual] = np.sort(speed[usual], axis=1)
    microwave[usual] = -np.sort(-microwave[usual], axis=1)
    return ProgramTable(
        air, duration, _shares(oven, rng, count, stages), snapped(oven.air_speed_pct, speed / 100, scale=100.0), microwave
    )


def stages_long_enough(oven: Oven, table: ProgramTable) -> NDArray[np.bool_]:
    """Whether every stage of a program lasts as long as the oven asks for, shape (n,)."""
    seconds = np.where(table.share > 0, table.share * table.duration_s[:, None], np.inf)
    return np.asarray(seconds.min(axis=1) >= (oven.min_stage_s or 0.0) - 1e-9)


def on_steps(oven: Oven, table: ProgramTable) -> ProgramTable:
    """The same programs with microwave levels on the oven's steps."""
    return ProgramTable(
        table.air_temperature_c,
        table.duration_s,
        table.share,
        table.speed,
        snapped(oven.microwave_pct, table.microwave, scale=100.0),
    )


def neighbours(
    oven: Oven, table: ProgramTable, durations: tuple[float, float], rng: np.random.Generator, each: int
) -> ProgramTable:
    """`each` neighbours of every program: one to three settings moved by one or two steps."""
    many = table.repeated(each)
    count, stages = many.share.shape
    used = many.share > 0
    eager = rng.uniform(0.08, 0.35, (1, count, 1))
    move = rng.integers(-2, 3, (4, count, stages)) * (rng.random((4, count, stages)) < eager)
    speed_step, level_step = (setting.step or 0.0 for setting in (oven.air_speed_pct, oven.microwave_pct))
    speed = snapped(oven.air_speed_pct, many.speed + move[0] * speed_step / 100, scale=100.0)
    level = snapped(oven.microwave_pct, many.microwave + move[1] * level_step / 100, scale=100.0)
    air = snapped(oven.air_temperature_c, many.air_temperature_c + move[2][:, 0] * (oven.air_temperature_c.step or 0.0))
    duration = snapped(oven.duration_s, many.duration_s + move[3][:, 0] * (oven.duration_s.step or 0.0))
    duration = np.clip(duration, *durations)
    share = _moved_shares(many.share, used, 1.0 / oven.share_parts, rng)
    return ProgramTable(air, duration, share, np.where(used, speed, 0.0), np.where(used, level, 0.0))


def _moved_shares(share: Array, used: NDArray[np.bool_], part: float, rng: np.random.Generator) -> Array:
    """Some of the programs with one share step moved from one stage to the next."""
    if share.shape[1] < 2:
        return share
    moved = share.copy()
    donor = rng.integers(0, share.shape[1] - 1, len(share))
    sign = rng.integers(-1, 2, len(share))
    rows = np.arange(len(share))
    give, take = np.where(sign >= 0, donor, donor + 1), np.where(sign >= 0, donor + 1, donor)
    able = (sign != 0) & used[rows, give] & used[rows, take] & (share[rows, give] > 1.5 * part)
    moved[rows[able], give[able]] -= part
    moved[rows[able], take[able]] += part
    return np.asarray(np.round(moved, 9))
