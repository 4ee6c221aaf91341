"""What the calibrated model expects of programs: states, chances and worth, for the brief's own portions or a given one."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from tuner.domain import ATTRIBUTES, AttributeForecast, Brief, Forecast, Portion, Program
from tuner.learning.acquisition import acquisition, chance_reliable
from tuner.learning.aim import misses
from tuner.learning.calibration import Calibration, Prediction, predicted, predicted_means
from tuner.learning.chances import Chances, chances_of
from tuner.learning.goals import Goals
from tuner.learning.noise import NoiseModel
from tuner.learning.program_table import Array, ProgramTable
from tuner.learning.simulator import Conditions
from tuner.learning.variation import NaturalVariation


@dataclass(frozen=True, eq=False)
class Outlook:
    """Expectations of programs, row by row."""

    prediction: Prediction
    chances: Chances
    acquisition: Array
    reliable: Array

    @property
    def chance_safe(self) -> Array:
        """Chance that the next lowest reading less the guard reaches the limit, (n,)."""
        return self.chances.chance_safe

    @property
    def chance_all_inside(self) -> Array:
        """Chance that one further cook passes every window, (n,)."""
        return np.asarray(self.chances.pass_all.mean(axis=1))

    def joined(self, other: Outlook) -> Outlook:
        """Rows of both below each other."""

        def both(left: Array, right: Array) -> Array:
            return np.concatenate([left, right])

        mine, its = self.chances, other.chances
        return Outlook(
            Prediction(
                both(self.prediction.mean, other.prediction.mean),
                both(self.prediction.cov, other.prediction.cov),
                both(self.prediction.sensitivity, other.prediction.sensitivity),
            ),
            Chances(
                both(mine.p, its.p),
                both(mine.a, its.a),
                both(mine.safe, its.safe),
                both(mine.mean, its.mean),
                both(mine.spread, its.spread),
            ),
            both(self.acquisition, other.acquisition),
            both(self.reliable, other.reliable),
        )


@dataclass(frozen=True, eq=False)
class View:
    """The calibrated model looked at from a brief: the one door to expectations."""

    brief: Brief
    calibration: Calibration
    noise: NoiseModel
    natural: NaturalVariation

    def at(self, count: int, portion: Portion | None = None) -> Conditions:
        """Conditions of `count` portions: the brief's, with mass and start temperature of `portion` where given."""
        nominal = Conditions.nominal(self.brief, count)
        if portion is None:
            return nominal
        return Conditions(np.full(count, portion.mass_g), np.full(count, portion.start_temperature_c), nominal.rest_s)

    def means(self, table: ProgramTable) -> Array:
        """Posterior means of the states, (n, 5)."""
        return predicted_means(self.calibration, table, self.at(len(table)))

    def missed(self, table: ProgramTable, goals: Goals) -> Array:
        """How far means miss the aim, (n,)."""
        return misses(self.means(table), goals)

    def outlook(self, table: ProgramTable, goals: Goals, portion: Portion | None = None) -> Outlook:
        """Everything expected of programs; with `portion`, its mass and start temperature are taken as known."""
        known = portion is not None
        prediction = predicted(self.calibration, table, self.at(len(table), portion))
        variance = self.natural.variance(prediction.sensitivity, mass_known=known, start_known=known)
        chances = chances_of(prediction, variance, goals, self.noise)
        worth = acquisition(chances, self.brief.confirmation_cooks)
        return Outlook(prediction, chances, worth, chance_reliable(chances))


def forecasts_of(programs: tuple[Program, ...], outlook: Outlook, goals: Goals) -> list[Forecast]:
    """Expectations of programs as forecasts, in their order."""
    p, a = outlook.chances.p.mean(axis=1), outlook.chances.a.mean(axis=1)
    together, safe = outlook.chance_all_inside, outlook.chance_safe
    result = []
    for row, program in enumerate(programs):
        attributes = {
            name: AttributeForecast(
                mean=float(outlook.chances.mean[row, column]),
                spread=float(outlook.chances.spread[row, column]),
                chance_inside=_chance(p[row, column]) if goals.has_window[column] else None,
                chance_true_inside=_chance(a[row, column]) if goals.has_window[column] else None,
            )
            for column, name in enumerate(ATTRIBUTES)
        }
        lowest = min((_chance(value) for value in p[row]), default=1.0)
        result.append(
            Forecast(
                program=program,
                attributes=attributes,
                chance_all_inside=min(_chance(together[row]), lowest),
                chance_safe=_chance(safe[row]),
            )
        )
    return result


def _chance(value: float) -> float:
    return float(min(max(value, 0.0), 1.0))
