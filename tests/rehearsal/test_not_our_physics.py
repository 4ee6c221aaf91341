"""A kitchen that the tool's own physics could match exactly would prove nothing: most keep an error that no parameter removes."""

from dataclasses import dataclass

import numpy as np
import pytest
from scipy.optimize import least_squares

from tuner.physics import PARAMETERS, ProgramArrays, portion_model, score_from_latent
from tuner.rehearsal import kitchen, names
from tuner.rehearsal.grid import duration_range, on_steps, random_programs
from tuner.rehearsal.reference import CoreAim, core_right
from tuner.rehearsal.table import joined
from tuner.rehearsal.windows import usable_low_c

COOKS = 200
CORE_C, MARKS = 2.0, 0.3
CORE_SD, MARK_SD, LOSS_SD = 1.5, 0.2, 1.0
"""Weights of the fit: what a good model would be off."""
PRIOR = 1 / 3
"""A weak prior: a parameter may be off by three of its own standard deviations for the price of one misfit."""


@dataclass
class Truth:
    programs: list
    mass_g: np.ndarray
    start_c: np.ndarray
    core_c: np.ndarray
    marks: np.ndarray
    loss_pct: np.ndarray


def noise_free_cooks(here):
    """Half with a core near its window, as most of a development has, half anywhere on the oven's grid."""
    rng = np.random.default_rng(0)
    durations = duration_range(here.oven, here.brief.targets.duration_s)
    aim = CoreAim(usable_low_c(here.brief) - 20, here.brief.targets.core_temperature_c.high + 8)
    near = joined([core_right(here.bench, here.oven, aim, durations, rng, stages, 160).table for stages in (1, 2, 3)])
    anywhere = joined([on_steps(here.oven, random_programs(here.oven, durations, rng, 34, stages)) for stages in (1, 2, 3)])
    half = COOKS // 2
    table = joined([part.take(rng.permutation(len(part))[:half]) for part in (near, anywhere)])
    portions = here.bench.natural(rng, len(table))
    found = here.bench.cook(table, portions)
    programs = [table.program(row) for row in range(len(table))]
    return Truth(programs, portions.mass_g, portions.start_c, found.mean_c, here.scale.marks(found.latent), found.loss_pct)


def errors_after_fit(here):
    """Root mean square error of core [degC] and of each score [marks] with every parameter free."""
    truth = noise_free_cooks(here)
    count, free = len(truth.programs), len(PARAMETERS)
    model = portion_model(here.brief, here.oven)
    many = ProgramArrays.of(truth.programs * (free + 1))

    def predicted(thetas):
        sets = len(thetas)
        columns = model.predict(
            many[np.arange(sets * count)],
            mass_g=np.tile(truth.mass_g, sets),
            start_temperature_c=np.tile(truth.start_c, sets),
            theta=np.repeat(thetas, count, axis=0),
        )
        return columns.reshape(sets, count, 5)

    def weighted(columns):
        marks = score_from_latent(columns[:, 1:4]).T
        return np.concatenate([columns[:, 0] / CORE_SD, marks.ravel() / MARK_SD, columns[:, 4] / LOSS_SD])

    target = np.concatenate([truth.core_c / CORE_SD, truth.marks.ravel() / MARK_SD, truth.loss_pct / LOSS_SD])

    def residuals(theta):
        return np.concatenate([weighted(predicted(theta[None])[0]) - target, PRIOR * theta])

    def slopes(theta, by=1e-3):
        columns = predicted(np.vstack([theta, theta + by * np.eye(free)]))
        base = weighted(columns[0])
        return np.vstack([np.stack([(weighted(moved) - base) / by for moved in columns[1:]], axis=1), PRIOR * np.eye(free)])

    start = np.zeros(free)
    fit = least_squares(residuals, start, jac=slopes, max_nfev=25)
    assert fit.cost < 0.5 * (0.5 * (residuals(start) ** 2).sum())  # the parameters were really moved
    columns = predicted(fit.x[None])[0]
    off = score_from_latent(columns[:, 1:4]).T - truth.marks
    return float(np.sqrt(np.mean((columns[:, 0] - truth.core_c) ** 2))), np.sqrt(np.mean(off**2, axis=1))


@pytest.mark.slow
@pytest.mark.timeout(900)
def test_our_physics_fitted_to_two_hundred_cooks_misses_at_least_half_of_the_kitchens():
    missed = {}
    for name in names():
        core, marks = errors_after_fit(kitchen(name))
        missed[name] = core > CORE_C or marks.max() > MARKS
    assert 2 * sum(missed.values()) >= len(missed), missed
