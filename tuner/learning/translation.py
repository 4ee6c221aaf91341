"""Moving a program from one oven to another: the program on the target's steps that does the same to the portion."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from tuner.domain import Brief, NoLegalProgram, Oven, Program, Translation
from tuner.learning.candidates import distinct, neighbours, widened
from tuner.learning.goals import CORE, goals_of
from tuner.learning.grid import Codes, Grid, grid_of
from tuner.learning.levers import moved_levers
from tuner.learning.priors import oven_key
from tuner.learning.program_table import Array, ProgramTable
from tuner.learning.simulator import Conditions, Simulator, simulator_for
from tuner.physics import INDEX, PARAMETERS

_SCALE = np.array([3.0, 0.35, 0.35, 0.35, 2.0])
"""Differences that count the same: core [K], score latents, loss [points]."""
_ROUNDS, _PARENTS, _EACH, _DRAWS = 8, 6, 16, 64
_DURATION_LOG, _AIR_K, _AIR_SPEED, _DOSE_SHARE, _DOSE_LOG = 0.10, 15.0, 0.15, 0.05, 0.02
"""Moves away from the kept program that count as much as the differences above (judgement)."""
_OWN_SHARE = 0.5
"""Share of the variance of an oven's air side that differs from oven to oven (judgement)."""
_WATTS_LOG = 0.15
"""Spread over ovens of watts delivered to watts rated, as a logarithm: what a check of watts takes away (judgement)."""


def _rescaled(program: Program, factor: float) -> Program:
    """The program with its microwave levels times a factor, as far as 100 % lets them."""
    stages = tuple(
        stage.model_copy(update={"microwave_pct": min(stage.microwave_pct * factor, 100.0)}) for stage in program.stages
    )
    return program.model_copy(update={"stages": stages})


def _dose_kept(program: Program, factor: float) -> ProgramTable:
    """The program as the trade moves it: microwave by the ratio of the watts, also above 100 % (common practice)."""
    table = ProgramTable.of([program])
    return replace(table, micro=table.micro * factor)


def _start(grid: Grid, program: Program, rng: np.random.Generator) -> Codes:
    near = grid.snapped(program)
    if near is None:
        from tuner.learning.candidates import start_set

        return start_set(rng, 200, grid, grid.longest_s)
    return widened(near[None, :], grid.stages)


def _away(table: ProgramTable, kept: ProgramTable) -> Array:
    """Squared distance of programs from the kept one, in what the physics may be wrong by, (n,).

    What a dish really does is better told by the program that was cooked than by the physics before any cook: so the new one
    stays near it, third by third.
    """
    total = ((np.log(table.duration_s) - np.log(kept.duration_s)) / _DURATION_LOG) ** 2
    total = total + ((table.air_temperature_c - kept.air_temperature_c) / _AIR_K) ** 2
    for begin, end in ((0.0, 1 / 3), (1 / 3, 2 / 3), (2 / 3, 1.0)):
        energy = table.mean_over(table.micro, begin, end) * table.duration_s
        before = kept.mean_over(kept.micro, begin, end) * kept.duration_s
        total = total + ((energy - before) / (_DOSE_SHARE * kept.duration_s)) ** 2
        total = total + ((table.mean_over(table.air, begin, end) - kept.mean_over(kept.air, begin, end)) / _AIR_SPEED) ** 2
    return np.asarray(total)


def _nearest(
    rng: np.random.Generator, grid: Grid, physics: Simulator, brief: Brief, start: Codes, wanted: Array, kept: ProgramTable
) -> Codes:
    """The program on the grid whose states at the prior's centre come nearest to those wanted, near the kept one."""
    overall = float(kept.mean_over(kept.micro, 0.0, 1.0)[0] * kept.duration_s[0])

    def gaps(codes: Codes) -> Array:
        table = grid.table(codes)
        states = physics.states(table, Conditions.nominal(brief, len(table)), physics.prior_mean)
        found = (((states - wanted) / _SCALE) ** 2).sum(axis=1) + _away(table, kept)
        if overall > 0.0:
            dose = table.mean_over(table.micro, 0.0, 1.0) * table.duration_s
            found = found + (np.log(np.maximum(dose, 1e-6) / overall) / _DOSE_LOG) ** 2
        return np.asarray(np.round(found, 6))

    best = start
    for _ in range(_ROUNDS):
        family = distinct(np.concatenate([best, neighbours(rng, best, _EACH, grid)]))
        best = family[np.argsort(gaps(family), kind="stable")[:_PARENTS]]
    return np.asarray(best[0])


def _own_variance(physics: Simulator) -> Array:
    """Variance of the parameters that belongs to one oven alone, the rest being common to ovens of this kind, (P,).

    How much of its watts a portion takes is uncertain for all ovens alike; a check of watts leaves only its error to the oven.
    """
    variance = physics.prior_sd**2
    of_oven = np.array([parameter.group == "oven" for parameter in PARAMETERS])
    own = np.where(of_oven, _OWN_SHARE * variance, 0.0)
    watts = INDEX["coupled_share"]
    common = 1.0 - (_WATTS_LOG / PARAMETERS[watts].spread) ** 2
    own[watts] = max(variance[watts] - common, 0.0)
    return own


def _core_gaps(
    brief: Brief, source: Simulator, target: Simulator, programs: tuple[Program, Program], *, same_oven: bool
) -> Array:
    """Core of the translated program on the target less that of the original on the source, over the physics' doubt."""
    common, first, second = np.random.default_rng(20260107).standard_normal((3, _DRAWS, len(PARAMETERS)))
    own = _own_variance(source), _own_variance(target)
    shared = np.sqrt(np.minimum(source.prior_sd**2 - own[0], target.prior_sd**2 - own[1]).clip(0.0))
    at = Conditions.nominal(brief, _DRAWS)
    cores = [
        physics.states(
            ProgramTable.of([program]).repeat(_DRAWS),
            at,
            physics.prior_mean + shared * common + np.sqrt(variance) * drawn,
        )[:, CORE]
        for physics, program, variance, drawn in (
            (source, programs[0], own[0], first),
            (target, programs[1], own[1], first if same_oven else second),
        )
    ]
    return np.asarray(cores[1] - cores[0])


def _reasons(old: Program, new: Program, shift: float, spread: float) -> tuple[str, ...]:
    moved = moved_levers(new, old)[:3]
    change = (
        "It changes " + ", ".join(f"{lever.words} by {value:+.{lever.digits}f} {lever.unit}" for lever, value in moved) + "."
        if moved
        else "All settings stay as they are."
    )
    return (
        change,
        f"The core is expected to differ by {shift:+.1f} °C, with a spread of {spread:.1f} °C "
        "from what is unknown of the ovens.",
        "Cook it with a thermometer before it is served: ovens differ by more than their plates tell.",
    )


def translate(program: Program, brief: Brief, *, source: Oven, target: Oven) -> Translation:
    """Move a program to another oven, on its steps, limits and the brief's durations.

    Parameters
    ----------
    program
        As proven on `source`; it may be off any steps.
    source, target
        The ovens, with whatever was measured on them.

    Returns
    -------
    Translation
        `core_shift_c` and `spread_c` are mean and standard deviation of the core's change over what is not known of the
        ovens and the dish.

    Raises
    ------
    NoLegalProgram
        If no step of the target lies inside the brief's duration window.
    """
    grid = grid_of(brief, target, goals_of(brief))
    from_physics, to_physics = simulator_for(brief, source), simulator_for(brief, target)
    same = oven_key(source) == oven_key(target)
    kept = grid.code_of(program)
    if same and kept is not None:
        new = program
    else:
        rng = np.random.default_rng(20260106)
        table = ProgramTable.of([program])
        wanted = from_physics.states(table, Conditions.nominal(brief, 1), from_physics.prior_mean)
        mass_g = brief.portion.mass_g
        factor = from_physics.model.coupled_watts(mass_g) / to_physics.model.coupled_watts(mass_g)
        start = _start(grid, _rescaled(program, factor), rng)
        code = _nearest(rng, grid, to_physics, brief, start, wanted, _dose_kept(program, factor))
        [new] = grid.programs(code[None, :])
    gaps = _core_gaps(brief, from_physics, to_physics, (program, new), same_oven=same)
    shift, spread = float(gaps.mean()), float(gaps.std())
    return Translation(program=new, core_shift_c=shift, spread_c=spread, reasons=_reasons(program, new, shift, spread))


__all__ = ["NoLegalProgram", "translate"]
