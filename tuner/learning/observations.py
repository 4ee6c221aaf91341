"""Test cooks as arrays: what was done, what was seen, how sure each number is.

What a cook lacks is left out, never imputed. What makes a cook a weaker witness (another oven, an interruption, several
portions, a rest nobody wrote down) widens its noise instead of leaving it out.

====== ======== ==============================================================================
symbol shape    meaning
====== ======== ==============================================================================
n               cooks with a program
y      (n, 5)   core [°C, mean of the readings], three score latents, loss [%]; NaN where not seen
var    (n, 5)   variance of y as a measurement of that cook
side   (n, 5)   -1 / +1 where the mark is censored low / high, else 0
====== ======== ==============================================================================
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tuner.domain import SCORES, Brief, Oven, Program, TestCook
from tuner.learning.goals import BROWNING, CORE, LOSS
from tuner.learning.noise import NoiseModel
from tuner.learning.probes import plausible_readings
from tuner.learning.program_table import Array, ProgramTable
from tuner.learning.scores import CENSORED_ABOVE, CENSORED_BELOW, latent_of, slope_at

_OTHER_OVEN = (4.0, 0.35, 0.25, 0.25, 1.5)
_INTERRUPTED = (30.0, 1.5, 1.5, 1.5, 6.0)
_SEVERAL_PORTIONS = (6.0, 0.4, 0.3, 0.3, 1.0)
_REST_UNKNOWN = (1.5, 0.0, 0.05, 0.05, 0.2)
"""Extra standard deviations for weaker witnesses: core [K], score latents, loss [points] (judgement)."""


@dataclass(frozen=True, eq=False)
class Observations:
    """Cooks as arrays; see the module's table of symbols. Masses in g, temperatures in °C, rests in s."""

    programs: tuple[Program, ...]
    table: ProgramTable
    mass_g: Array
    start_c: Array
    rest_s: Array
    mass_known: NDArray[np.bool_]
    start_known: NDArray[np.bool_]
    y: Array
    var: Array
    side: Array

    def __len__(self) -> int:
        return len(self.programs)

    @property
    def seen(self) -> NDArray[np.bool_]:
        """Which of `y` were measured, (n, 5)."""
        return np.isfinite(self.y)


def _row(cook: TestCook, noise: NoiseModel) -> tuple[Array, Array, Array]:
    y, var, side = np.full(5, np.nan), np.ones(5), np.zeros(5)
    readings = plausible_readings(cook)
    if readings:
        y[CORE], var[CORE] = float(np.mean(readings)), noise.probe.reading_sd**2 / len(readings)
    for column, attribute in enumerate(SCORES, start=BROWNING):
        panel = noise.corrected_mean(cook, attribute)
        if panel is not None:
            mark, tasters = panel
            y[column] = float(latent_of(mark))
            var[column] = (noise.taster_sd / np.sqrt(tasters) / float(slope_at(mark))) ** 2
            side[column] = float(mark > CENSORED_ABOVE) - float(mark < CENSORED_BELOW)
    if cook.cook_loss_pct is not None:
        y[LOSS], var[LOSS] = cook.cook_loss_pct, noise.loss_sd**2
    return y, var, side


def _doubt(cook: TestCook, oven: Oven) -> Array:
    """Extra variance of a weaker witness, (5,)."""
    extra = np.zeros(5)
    if cook.oven_serial is not None and cook.oven_serial != oven.serial:
        extra += np.square(_OTHER_OVEN)
    if cook.completed is False:
        extra += np.square(_INTERRUPTED)
    if (cook.load or 1) > 1:
        extra += np.square(_SEVERAL_PORTIONS)
    if cook.rest_s is None:
        extra += np.square(_REST_UNKNOWN)
    return extra


def _filled(values: list[float | None], otherwise: float) -> tuple[Array, NDArray[np.bool_]]:
    known = np.array([value is not None for value in values], dtype=bool)
    return np.array([otherwise if value is None else value for value in values], dtype=float), known


def observe(brief: Brief, oven: Oven, cooks: Sequence[TestCook], noise: NoiseModel) -> Observations:
    """Arrays of all cooks that had a program, with the program that the oven really did."""
    done = [(cook, cook.done_program) for cook in cooks]
    pairs = [(cook, program) for cook, program in done if program is not None]
    rows = [_row(cook, noise) for cook, _ in pairs]
    mass, mass_known = _filled([cook.mass_g for cook, _ in pairs], brief.portion.mass_g)
    start, start_known = _filled([cook.start_temperature_c for cook, _ in pairs], brief.portion.start_temperature_c)
    rest, _ = _filled([cook.rest_s for cook, _ in pairs], brief.rest_s)
    doubt = np.array([_doubt(cook, oven) for cook, _ in pairs]).reshape(-1, 5)
    programs = tuple(program for _, program in pairs)
    return Observations(
        programs,
        ProgramTable.of(programs),
        mass,
        start,
        rest,
        mass_known,
        start_known,
        np.array([y for y, _, _ in rows]).reshape(-1, 5),
        np.array([var for _, var, _ in rows]).reshape(-1, 5) + doubt,
        np.array([side for _, _, side in rows]).reshape(-1, 5),
    )
