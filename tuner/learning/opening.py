"""The first program, before any cook: the trade's shape, with the dose that brings the core to the middle of its window.

The conventional method fixes what has to be reached; the search pool looks for a fair chance in every window at once and may
lean out of the one for the core, because the scores are hardly known before any cook. The opening does not: its core is
expected in the middle, and the other windows decide between such programs. Microwave falls and air rises from stage to stage
(common practice); the duration keeps to the energy the portion needs and to the time its crust takes.
"""

from __future__ import annotations

from itertools import product

import numpy as np
from numpy.typing import NDArray

from tuner.domain import Program
from tuner.learning.aim import marks_of, offsets
from tuner.learning.candidates import distinct, neighbours, widened
from tuner.learning.goals import CORE, LOSS, Goals
from tuner.learning.grid import Codes, Grid
from tuner.learning.outlook import View
from tuner.learning.pool import ranked
from tuner.learning.program_table import Array, ProgramTable, program_of
from tuner.physics import PARAMETERS, duration_bounds_s, energy_by_hand

_SHAPES: dict[int, tuple[tuple[float, ...], ...]] = {
    1: ((100.0,),),
    2: ((50.0, 50.0), (65.0, 35.0)),
    3: ((40.0, 35.0, 25.0), (50.0, 20.0, 30.0)),
}
"""Shares of the time of the stages [%]."""
_AIR: dict[int, tuple[tuple[float, ...], ...]] = {
    1: ((0.3,), (0.6,), (0.9,)),
    2: ((0.2, 0.8), (0.4, 0.9), (0.6, 1.0)),
    3: ((0.1, 0.5, 0.8), (0.3, 0.6, 0.9), (0.5, 0.8, 1.0)),
}
"""Air speeds of the stages between the least and the most that can be set."""
_MICROWAVE: dict[int, tuple[tuple[float, ...], ...]] = {
    1: ((1.0,),),
    2: ((1.0, 0.35), (1.0, 0.15)),
    3: ((1.0, 0.5, 0.1), (1.0, 0.7, 0.25)),
}
"""Microwave levels of the stages against the first."""
_LEVELS, _DURATIONS = np.linspace(0.25, 1.0, 7), 6
_USUAL_AIR_C = (230.0, 250.0, 270.0)
"""Usual settings of the cavity's air [°C] (common practice, no source)."""

_LONGEST_OVER_CLOCK, _MEAN_AIR = 2.0, 0.6
"""No first program is longer than this many times what energy and crust ask for, nor shorter than the energy alone;
the clock runs at the mean air speed of a program, of which the early part has little air."""

_LAST, _LATE_MICROWAVE, _LATE_AIR = 0.25, 0.4, 0.6
"""The last quarter of the time has at most this mean microwave and at least this mean air speed (common practice: high air
and little microwave in the last 20-30 %)."""

_THAW_TIMES = 0.15
"""With ice inside, no first program is shorter than this many times half thickness² / diffusivity: heat must reach the middle
before the edges, which thaw first and then take most of the power, boil (common practice: 20-30 % longer where the centre stays
icy)."""
_DIFFUSIVITY = 1.4e-7

_MICROWAVE_SHARE = ((15.0, 22.0, 28.0, 35.0), (0.55, 0.80, 0.90, 0.95))
"""Share of the core's heat that comes by microwave, by thickness of a slab [mm] (hand calculation: conduction and exponential
absorption; common practice)."""
_SLAB_THICKNESS = {"slab": 1.0, "cylinder": 0.7, "sphere": 0.6, "loose": 0.7}
"""Thickness of the slab that the air reaches as well (judgement: between surface over volume and none)."""
_ICE_COUPLING = 0.75
"""Ice takes about this part of the power that the thawed portion takes (judgement; the physics has 0.6-0.8)."""

_USUAL_DOSE, _DOSE_WEIGHT, _TIME_WEIGHT = 1.1, 5.0, 1.5
"""A first program has about this many times the least dose and the middle of its durations; the price of being away from each
by a factor of e. So the energy follows mass, ice and watts as the energy balance does, and the air settles the rest."""
_LOWEST_BELOW_MEAN_C = 2.5
"""The coldest place found lies about this far below the mean of the places (judgement)."""
_AIM_ICE_C, _MUCH_ICE = 6.0, 0.6
"""With ice inside, too little leaves a frozen middle while too much ends at boiling: the aim lies up to this much higher [K],
for food with this much ice [kg/kg] or more (judgement)."""
_HIGHEST_AIM_C = 92.0
"""Nearer to boiling the reading hardly tells how much heat went in."""
_CORE_C, _CORE_WEIGHT, _FARTHEST = 8.0, 4.0, 4.0
_SCREENED, _ROUNDS, _PARENTS, _EACH, _DRAWS = 80, 5, 6, 10, 16


def core_aim_c(view: View, goals: Goals) -> float:
    """Mean reading the first program aims at [°C]: the middle of the usable core window, taken at the coldest place."""
    food = view.calibration.simulator.model.body.food
    icy = view.brief.portion.start_state in {"frozen", "tempered"}
    above = _AIM_ICE_C * min(food.freezable / _MUCH_ICE, 1.0) if icy else 0.0
    centre = float(goals.centre[CORE])
    return max(centre, min(centre + _LOWEST_BELOW_MEAN_C + above, _HIGHEST_AIM_C))


def in_order(table: ProgramTable) -> NDArray[np.bool_]:
    """Which programs never raise the microwave and never lower the air from one stage to the next, (n,)."""
    there = table.share[:, 1:] > 0
    falls = np.diff(table.micro, axis=1) <= 1e-9
    rises = np.diff(table.air, axis=1) >= -1e-9
    return np.asarray((~there | (falls & rises)).all(axis=1))


def dries_late(table: ProgramTable) -> NDArray[np.bool_]:
    """Which programs end on high air and little microwave, (n,)."""
    begin = 1.0 - _LAST
    return np.asarray(
        (table.mean_over(table.micro, begin, 1.0) <= _LATE_MICROWAVE + 1e-9)
        & (table.mean_over(table.air, begin, 1.0) >= _LATE_AIR - 1e-9)
    )


def duration_range_s(view: View, goals: Goals, grid: Grid) -> tuple[float, float]:
    """Durations a first program may have [s], narrowed to what can be set."""
    model, portion = view.calibration.simulator.model, view.brief.portion
    setting = grid.oven.air_temperature_c
    energy, crust = duration_bounds_s(
        model,
        float(goals.centre[CORE]),
        mass_g=portion.mass_g,
        start_c=portion.start_temperature_c,
        air_c=setting.at(setting.count - 1),
        air_speed=_MEAN_AIR,
    )
    longest = _LONGEST_OVER_CLOCK * max(energy, crust if np.isfinite(crust) else energy)
    least = energy
    if portion.start_state in {"frozen", "tempered"}:
        least = min(max(energy, _THAW_TIMES * (5e-4 * portion.thickness_mm) ** 2 / _DIFFUSIVITY), longest)
    low = float(np.clip(least, grid.shortest_s, grid.longest_s))
    return low, float(np.clip(longest, low, grid.longest_s))


def _dose_of(table: ProgramTable) -> Array:
    """Seconds of full microwave, (n,)."""
    return np.asarray(table.duration_s * (table.share * table.micro).sum(axis=1))


def least_dose_s(view: View, goals: Goals) -> float:
    """Seconds of full microwave that the energy balance asks for at least, the air's part of the heat taken off."""
    model, portion = view.calibration.simulator.model, view.brief.portion
    food, start_c, core_c = model.body.food, portion.start_temperature_c, float(goals.centre[CORE])
    thawed_from_c = max(start_c, food.freezing_point_c)
    need = max(energy_by_hand(food, thawed_from_c, core_c), 0.0)
    need += max(energy_by_hand(food, start_c, thawed_from_c), 0.0) / _ICE_COUPLING
    slab_mm = portion.thickness_mm * _SLAB_THICKNESS[portion.shape]
    share = float(np.interp(slab_mm, *_MICROWAVE_SHARE))
    return share * need * 1e-3 * portion.mass_g / model.coupled_watts(portion.mass_g)


def _shapes(grid: Grid, stages: int) -> list[Program]:
    """Programs of the trade's shapes with so many stages, in the oven's longest time."""
    air, micro = grid.oven.air_speed_pct, grid.oven.microwave_pct
    found = []
    for shares, speeds, levels, level in product(_SHAPES[stages], _AIR[stages], _MICROWAVE[stages], _LEVELS):
        parts = [
            (share, air.low + speed * (air.high - air.low), micro.low + level * part * (micro.high - micro.low))
            for share, speed, part in zip(shares, speeds, levels, strict=True)
        ]
        found.append(program_of(grid.oven.air_temperature_c.low, grid.longest_s, parts))
    return found


def _snapped(grid: Grid, programs: list[Program], numbers: slice) -> Codes:
    """Some numbers of the codes of programs, of those that fit the oven's steps, (n, numbers)."""
    found = [code[numbers] for program in programs if (code := grid.snapped(program)) is not None]
    return np.array(found, dtype=np.int64).reshape(len(found), -1)


def _templates(grid: Grid, durations_s: tuple[float, float]) -> Codes:
    """Programs of the trade's shapes over the durations, on the oven's steps."""
    air, micro = grid.oven.air_speed_pct.low, grid.oven.microwave_pct.low
    temperatures = sorted({grid.oven.air_temperature_c.nearest(value) for value in _USUAL_AIR_C})
    times = product(temperatures, np.geomspace(*durations_s, _DURATIONS))
    heads = _snapped(grid, [program_of(air_c, seconds, [(100.0, air, micro)]) for air_c, seconds in times], slice(0, 2))
    found = [np.zeros((0, 2 + 3 * grid.stages), dtype=np.int64)]
    for stages in {min(2, grid.stages), grid.stages}:
        bodies = _snapped(grid, _shapes(grid, stages), slice(2, None))
        if len(bodies) and len(heads):
            codes = np.hstack([np.repeat(heads, len(bodies), axis=0), np.tile(bodies, (len(heads), 1))])
            found.append(widened(codes[grid.legal(codes)], grid.stages))
    return distinct(np.concatenate(found))


class _Opening:
    """What the candidates for the first program are judged by."""

    def __init__(self, view: View, grid: Grid, goals: Goals) -> None:
        self.view, self.grid, self.goals = view, grid, goals
        self.durations_s = duration_range_s(view, goals, grid)
        self.dose_s = least_dose_s(view, goals)
        half = np.random.default_rng(20260108).standard_normal((_DRAWS // 2, len(PARAMETERS)))
        prior = view.calibration.prior
        self.thetas = view.calibration.theta + np.concatenate([half, -half]) * prior.sd

    def allowed(self, codes: Codes) -> Codes:
        """Those in the trade's order and inside the durations; all where none are."""
        table = self.grid.table(codes)
        low, high = self.durations_s
        step = self.grid.oven.duration_s.step or 0.0
        kept = in_order(table) & (table.duration_s >= low - step) & (table.duration_s <= high + step)
        for wish in (_dose_of(table) >= self.dose_s, dries_late(table)):
            kept = kept & wish if (kept & wish).any() else kept
        return codes[kept]

    def plain_cost(self, codes: Codes) -> Array:
        """Distance from the aims at the prior's centre, (n,)."""
        table = self.grid.table(codes)
        states = self.view.states(table)
        return np.asarray(self._off_core(states[:, CORE]) + self._others(states) + self._off_dose(table))

    def cost(self, codes: Codes) -> Array:
        """The same, with the core's distance taken over the prior's doubt, (n,).

        Below the window the doubt reaches far (ice, weak microwave), above it boiling ends it: so the core is aimed a
        little higher the less is known.
        """
        table, draws = self.grid.table(codes), len(self.thetas)
        several, at = table.repeat(draws), self.view.at(len(codes) * draws)
        thetas = np.tile(self.thetas, (len(codes), 1))
        cores = self.view.calibration.simulator.states(several, at, thetas)[:, CORE].reshape(len(codes), draws)
        states = self.view.states(table)
        core = self._off_core(states[:, CORE]) + self._off_core(cores).mean(axis=1)
        return np.asarray(core + self._others(states) + self._off_dose(table))

    def _off_core(self, core_c: Array) -> Array:
        if not self.goals.bound[CORE]:
            return np.zeros(core_c.shape)
        return _CORE_WEIGHT * np.minimum(np.abs(core_c - core_aim_c(self.view, self.goals)) / _CORE_C, _FARTHEST)

    def _off_dose(self, table: ProgramTable) -> Array:
        """Distance of the microwave dose from what the energy balance asks for, (n,)."""
        if self.dose_s <= 0.0:
            return np.zeros(len(table))
        off = np.abs(np.log(np.maximum(_dose_of(table), 1e-3) / (_USUAL_DOSE * self.dose_s)))
        usual_s = (self.durations_s[0] * self.durations_s[1]) ** 0.5
        return np.asarray(_DOSE_WEIGHT * off + _TIME_WEIGHT * np.abs(np.log(table.duration_s / usual_s)))

    def _others(self, states: Array) -> Array:
        off = offsets(marks_of(states), self.goals)[:, CORE + 1 : LOSS + 1]
        return np.asarray(np.log1p(off**2).sum(axis=1))


def opening_program(view: View, grid: Grid, goals: Goals) -> Codes | None:
    """Code of the first program, (1, 2 + 3 stages); None where the trade's shapes can't be set.

    Parameters
    ----------
    view
        The model before any cook.
    grid, goals
        What can be set, and what is wanted.
    """
    opening = _Opening(view, grid, goals)
    codes = opening.allowed(_templates(grid, opening.durations_s))
    if not len(codes):
        return None
    rng = np.random.default_rng(20260109)
    codes = codes[ranked(opening.plain_cost(codes), codes)[:_SCREENED]]
    for _ in range(_ROUNDS):
        best = codes[ranked(opening.cost(codes), codes)[:_PARENTS]]
        codes = distinct(np.concatenate([best, opening.allowed(neighbours(rng, best, _EACH, grid))]))
    return codes[ranked(opening.cost(codes), codes)[:1]]
