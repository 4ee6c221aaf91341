"""What the calibrated model expects of programs: states, chances and worth, for the brief's own portions or a given one."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tuner.domain import ATTRIBUTES, AttributeForecast, Brief, Forecast, Portion, Program
from tuner.learning.acquisition import acquisition, chance_reliable
from tuner.learning.calibration import Calibration
from tuner.learning.chances import Chances, chances_of
from tuner.learning.goals import Goals
from tuner.learning.noise import NoiseModel
from tuner.learning.prediction import Prediction, expanded, means_round, posterior
from tuner.learning.program_table import Array, ProgramTable
from tuner.learning.simulator import Conditions, Expansion
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

    def take(self, rows: NDArray[np.intp]) -> Outlook:
        """The chosen rows."""
        return _mapped([self], lambda parts: parts[0][rows])

    @classmethod
    def all_of(cls, outlooks: Sequence[Outlook]) -> Outlook:
        """Rows of several outlooks below each other."""
        return _mapped(outlooks, np.concatenate)


def _mapped(outlooks: Sequence[Outlook], change: Callable[[list[Array]], Array]) -> Outlook:
    """An outlook whose every array is made from those of the given outlooks."""

    def each(kind: str, names: tuple[str, ...]) -> list[Array]:
        return [change([getattr(getattr(outlook, kind), name) for outlook in outlooks]) for name in names]

    return Outlook(
        Prediction(*each("prediction", ("mean", "cov", "sensitivity"))),
        Chances(*each("chances", ("p", "a", "safe", "mean", "spread"))),
        change([outlook.acquisition for outlook in outlooks]),
        change([outlook.reliable for outlook in outlooks]),
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

    def states(self, table: ProgramTable) -> Array:
        """What the calibrated physics alone gives for the brief's portions, (n, 5)."""
        return self.calibration.simulator.states(table, self.at(len(table)), self.calibration.theta)

    def means(self, table: ProgramTable, states: Array) -> Array:
        """Posterior means of the states of programs from what the physics alone gives, (n, 5)."""
        return means_round(self.calibration, table, states)

    def expanded(self, table: ProgramTable, portion: Portion | None = None) -> Expansion:
        """The calibrated physics with its derivatives."""
        return expanded(self.calibration, table, self.at(len(table), portion))

    def outlook(self, table: ProgramTable, goals: Goals, portion: Portion | None = None) -> Outlook:
        """Everything expected of programs; with `portion`, its mass and start temperature are taken as known."""
        return self.judged(table, self.expanded(table, portion), goals, known=portion is not None)

    def predicted(self, table: ProgramTable, expansion: Expansion) -> Prediction:
        """Posterior of the states of programs whose expansion is known."""
        return posterior(self.calibration, table, expansion)

    def judged(self, table: ProgramTable, expansion: Expansion, goals: Goals, *, known: bool = False) -> Outlook:
        """Everything expected of programs whose expansion is known; `known`: mass and start temperature do not vary."""
        prediction = self.predicted(table, expansion)
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
