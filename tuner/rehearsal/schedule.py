"""What an oven does over time: programs cut into equal steps of air and microwave."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from tuner.rehearsal.cavity import Cavity
from tuner.rehearsal.table import Array, ProgramTable


@dataclass(frozen=True, slots=True)
class Schedule:
    """Oven state in each of k equal steps of n programs.

    Attributes
    ----------
    step_s
        Length of a program's steps [s], shape (n,).
    film_w_m2k
        Heat transfer from the air, shape (k, n).
    duty
        Share of the step in which full microwave power is on, shape (k, n).
    air_c, tray_c
        Air and tray temperature in the middle of the step, shape (k, n).
    """

    step_s: Array
    film_w_m2k: Array
    duty: Array
    air_c: Array
    tray_c: Array


_ROOM_C = 22.0
_AIR_FOLLOWS_S, _MAGNETRON_WARMS_S = 22.0, 60.0
"""Time constants of the air after a change of microwave, and of the magnetron's warming."""


def _seconds_on(time_s: Array, on_s: Array, period_s: float) -> Array:
    """Seconds of microwave since 0 where it is on for the first `on_s` of every period."""
    whole = np.floor(time_s / period_s + 1e-9)
    return whole * on_s + np.minimum(np.maximum(time_s - whole * period_s, 0.0), on_s)


def _duty(table: ProgramTable, cavity: Cavity, begin: Array, end: Array, overlap: Array, steps: int) -> Array:
    """Share of full power, with the oven's own on/off switching; shapes (k, n, s) in, (k, n) out."""
    level = table.microwave[None]
    if cavity.period_s <= 0:
        return np.asarray((overlap * level).sum(axis=2))
    on_s = np.where(level >= 1.0, cavity.period_s, np.maximum(level * cavity.period_s - cavity.lag_s * (level > 0), 0.0))
    seconds = table.duration_s[None, :, None]
    ran = _seconds_on(end * seconds, on_s, cavity.period_s) - _seconds_on(begin * seconds, on_s, cavity.period_s)
    return np.asarray((np.maximum(ran, 0.0) * (overlap > 0)).sum(axis=2) * steps / table.duration_s)


def _followed(duty: Array, step_s: Array) -> Array:
    """How far the air has followed the microwave's claim on the supply, 0 to 1, shape (k, n)."""
    part = step_s / (step_s + _AIR_FOLLOWS_S)
    followed = np.empty_like(duty)
    state = np.zeros(duty.shape[1])
    for index, now in enumerate(duty):
        state = state + part * (now - state)
        followed[index] = state
    return followed


def _warm_magnetron(duty: Array, step_s: Array, cavity: Cavity) -> Array:
    """Power left after the seconds it has been on, as a factor, shape (k, n)."""
    ran_s = np.cumsum(duty * step_s, axis=0)
    return 1.0 - cavity.fade * (1.0 - np.exp(-ran_s / _MAGNETRON_WARMS_S))


def schedule_of(table: ProgramTable, cavity: Cavity, steps: int) -> Schedule:
    """Cut programs into `steps` equal steps; a step across a stage's edge gets the right mean of both."""
    edge = np.minimum(np.cumsum(table.share, axis=1), 1.0)
    start = np.concatenate([np.zeros((len(table), 1)), edge[:, :-1]], axis=1)
    grid = np.arange(steps + 1) / steps
    begin = np.maximum(grid[:-1, None, None], start[None])
    end = np.maximum(np.minimum(grid[1:, None, None], edge[None]), begin)
    overlap = (end - begin) * steps
    speed = table.speed * cavity.full_speed_m_s
    film = cavity.free_w_m2k + cavity.jet_w_m2k * speed / (speed + cavity.half_speed_m_s)
    middle_s = (grid[:-1] + 0.5 / steps)[:, None] * table.duration_s
    step_s = table.duration_s / steps
    duty = _duty(table, cavity, begin, end, overlap, steps)
    target = table.air_temperature_c + cavity.air_offset_c
    air = target - cavity.sag_c * np.exp(-middle_s / cavity.recovery_s) - cavity.droop_c * _followed(duty, step_s)
    tray = air - (air - _ROOM_C) * np.exp(-middle_s / cavity.tray_s)
    return Schedule(
        step_s=step_s,
        film_w_m2k=np.asarray((overlap * film[None]).sum(axis=2)),
        duty=duty * _warm_magnetron(duty, step_s, cavity),
        air_c=air,
        tray_c=tray,
    )


def rest_schedule(rest_s: float, count: int, steps: int, *, covered: bool) -> Schedule:
    """Standing on the counter, under a cover or open."""
    film = np.full((steps, count), 3.0 if covered else 9.0)
    room = np.full((steps, count), _ROOM_C + (18.0 if covered else 0.0))
    return Schedule(np.full(count, rest_s / steps), film, np.zeros((steps, count)), room, room + 15.0)
