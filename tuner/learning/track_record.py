"""How good a development's forecasts were: before each cook, and of each cook from all the others."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.special import ndtri

from tuner.domain import ATTRIBUTES, Brief, Oven, TestCook
from tuner.learning.calibration import Calibration
from tuner.learning.goals import SCORE_COLUMNS
from tuner.learning.learned import learned_from
from tuner.learning.priors import Prior
from tuner.learning.program_table import Array
from tuner.learning.scores import slope_at
from tuner.proof import judge

WIDTH = 0.8
"""Of the intervals whose coverage is counted."""
_Z = float(ndtri(0.5 + WIDTH / 2))


@dataclass(frozen=True, eq=False)
class ForecastRecord:
    """Forecasts made before their cooks: errors and spreads (n, 5), NaN where not measured; chances to pass and passes (n,)."""

    error: Array
    spread: Array
    chance: Array
    passed: Array

    def covered(self, column: int) -> tuple[int, int]:
        """How many measurements lay inside their 80 % interval, of how many."""
        seen = np.isfinite(self.error[:, column])
        inside = np.abs(self.error[seen, column]) <= _Z * self.spread[seen, column]
        return int(inside.sum()), int(seen.sum())

    @property
    def brier(self) -> float | None:
        """Mean squared distance of the chances to pass from what happened; None before any judged cook."""
        judged = np.isfinite(self.passed)
        return float(np.mean((self.chance[judged] - self.passed[judged]) ** 2)) if judged.any() else None


def measured_as_forecast(cook: TestCook) -> Array:
    """What a forecast speaks of: lowest reading, panel means, cook loss; NaN where not measured, (5,)."""
    lowest = min(cook.readings_c) if cook.readings_c else None
    values = [lowest, *(cook.panel_mean(name) for name in ATTRIBUTES[SCORE_COLUMNS]), cook.cook_loss_pct]
    return np.array([np.nan if value is None else value for value in values], dtype=float)


def forecast_record(brief: Brief, oven: Oven, cooks: Sequence[TestCook], known: Prior) -> ForecastRecord:
    """Forecast each cook's program from the cooks before it, for the portion that it was, and hold it against the cook."""
    errors, spreads, chances, passes = [], [], [], []
    for place, cook in enumerate(cooks):
        program = cook.done_program
        if program is None or cook.completed is False:
            continue
        learned = learned_from(brief, oven, cooks[:place], known)
        portion = brief.portion.model_copy(
            update={
                name: value
                for name, value in (("mass_g", cook.mass_g), ("start_temperature_c", cook.start_temperature_c))
                if value is not None
            }
        )
        [forecast] = learned.forecast([program], portion=portion)
        told = [forecast.attributes[name] for name in ATTRIBUTES]
        errors.append(measured_as_forecast(cook) - np.array([one.mean for one in told]))
        spreads.append(np.array([one.spread for one in told]))
        chances.append(forecast.chance_all_inside)
        result = judge(brief, cook).result
        passes.append({"pass": 1.0, "fail": 0.0}.get(result, np.nan))
    return ForecastRecord(
        np.array(errors).reshape(-1, 5), np.array(spreads).reshape(-1, 5), np.array(chances), np.array(passes, dtype=float)
    )


def left_out_errors(now: Calibration) -> tuple[Array, Array]:
    """Each cook forecast from all the others: errors and spreads (n, 5) in attribute units, NaN where not used.

    Block form of leave-one-out for a linear-Gaussian model: with B the block of A^-1 of one cook, error B^-1 alpha and
    covariance B^-1 (Rasmussen & Williams 2006, Gaussian Processes for Machine Learning, section 5.4.2, for one number each).
    """
    count = len(now.observations)
    error, spread = np.full((count, 5), np.nan), np.full((count, 5), np.nan)
    for cook in range(count):
        mine = np.flatnonzero(now.rows[:, 0] == cook) if len(now.alpha) else np.zeros(0, dtype=np.intp)
        if not len(mine):
            continue
        block = np.linalg.inv(now.inverse[np.ix_(mine, mine)])
        columns = now.rows[mine, 1]
        error[cook, columns] = block @ now.alpha[mine]
        spread[cook, columns] = np.sqrt(np.clip(np.diag(block), 0.0, None))
    marks = 3.0 + 2.0 * np.tanh(now.observations.y[:, SCORE_COLUMNS] / 2.0)
    slope = slope_at(marks)
    error[:, SCORE_COLUMNS] *= slope
    spread[:, SCORE_COLUMNS] *= slope
    return error, spread
