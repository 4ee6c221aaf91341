"""What is known of a development after its cooks: the calibrated model with all that is asked of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from tuner.domain import Assessment, Brief, Forecast, NoLegalProgram, Oven, Portion, Program, Proposal, TestCook
from tuner.learning.calibration import Calibration, ParameterPrior, calibrate
from tuner.learning.candidates import distinct, widened
from tuner.learning.goals import LOSS, Goals, goals_of
from tuner.learning.grid import Codes, Grid, grid_of
from tuner.learning.memo import Memo
from tuner.learning.misfit import misfit_factors
from tuner.learning.noise import NoiseModel, noise_of
from tuner.learning.observations import observe
from tuner.learning.outlook import Outlook, View, forecasts_of
from tuner.learning.pool import Pool
from tuner.learning.priors import Earlier, Prior, parameter_prior, prior
from tuner.learning.program_table import ProgramTable
from tuner.learning.replicates import extra_spread, repeats_of, weighing_spread
from tuner.learning.residual import Residual
from tuner.learning.search import search
from tuner.learning.simulator import simulator_for
from tuner.learning.variation import natural_variation


@dataclass(frozen=True, eq=False)
class Learned:
    """A development's calibrated model. Its methods give the same answers as the calls of the same names.

    Attributes
    ----------
    brief, oven, cooks
        What it was learned from.
    view
        The calibrated model with noise and natural variation.
    goals
        What the brief asks for, as arrays.
    """

    brief: Brief
    oven: Oven
    cooks: tuple[TestCook, ...]
    view: View
    goals: Goals
    _pools: Memo[Pool] = field(default_factory=lambda: Memo(4), repr=False)

    @property
    def cooked(self) -> int:
        """Number of cooks with a program that the model learned from."""
        return len(self.view.calibration.observations)

    @property
    def grid(self) -> Grid:
        """What may be proposed.

        Raises
        ------
        NoLegalProgram
            If no step of the oven lies inside the brief's duration window.
        """
        return grid_of(self.brief, self.oven, self.goals)

    @property
    def grid_or_none(self) -> Grid | None:
        """What may be proposed, or None where nothing may."""
        try:
            return self.grid
        except NoLegalProgram:
            return None

    def pool(self, seed: int = 0) -> Pool:
        """Programs that the search looked at closely, with their outlook.

        Raises
        ------
        NoLegalProgram
            If no step of the oven lies inside the brief's duration window.
        """
        grid = self.grid
        return self._pools.get(seed, lambda: search(self.view, grid, self.goals, seed=seed, cooked=cooked_codes(self, grid)))

    def outlook(self, programs: Sequence[Program], portion: Portion | None = None) -> Outlook:
        """Everything expected of programs, also of programs that are off the oven's steps."""
        return self.view.outlook(ProgramTable.of(programs), self.goals, portion)

    def forecast(self, programs: Sequence[Program], *, portion: Portion | None = None) -> list[Forecast]:
        """What is expected of programs; see `tuner.learning.forecast`."""
        if not programs:
            return []
        return forecasts_of(tuple(programs), self.outlook(programs, portion), self.goals)

    def propose(
        self, *, count: int = 1, seed: int = 0, pending: Sequence[Program] = (), refused: Sequence[Program] = ()
    ) -> list[Proposal]:
        """What to cook next; see `tuner.learning.propose`.

        Raises
        ------
        NoLegalProgram
            If nothing is left that may be proposed.
        """
        from tuner.learning.proposer import proposals

        return proposals(self, count=count, seed=seed, pending=tuple(pending), refused=tuple(refused))

    def assess(self) -> Assessment:
        """Where the development stands; see `tuner.learning.assess`."""
        from tuner.learning.stopping import assessment

        return assessment(self)


def cooked_codes(learned: Learned, grid: Grid) -> Codes | None:
    """Codes of the cooked programs that lie near enough to the oven's steps, each once."""
    codes = [grid.snapped(program) for program in learned.view.calibration.observations.programs]
    found = [code for code in codes if code is not None]
    if not found:
        return None
    return distinct(np.concatenate([widened(code[None, :], grid.stages) for code in found]))


def learned_from(brief: Brief, oven: Oven, cooks: Sequence[TestCook], earlier: Earlier = ()) -> Learned:
    """Learn from cooks of one development, in the order of cooking; see `tuner.learning.learn`."""
    cooks = tuple(cooks)
    noise: NoiseModel = noise_of(brief, cooks)
    seen = observe(brief, oven, cooks, noise)
    natural = natural_variation(brief, cooks, noise.extra_sd)
    simulator = simulator_for(brief, oven)
    known = earlier if isinstance(earlier, Prior) else prior(earlier)

    residual = Residual()

    def fit(with_prior: ParameterPrior, start: Calibration | None = None) -> Calibration:
        return calibrate(simulator, residual, with_prior, seen, natural, start=start)

    calibration = parameter_prior(simulator, brief, oven, known, fit)
    repeats = repeats_of(calibration)
    if any(len(part) for part in repeats.dof):
        noise = replace(noise, loss_sd=weighing_spread(repeats, noise.loss_sd, float(noise.extra_sd[LOSS])))
        seen = observe(brief, oven, cooks, noise)
        extra = extra_spread(repeats_of(replace(calibration, observations=seen)), noise.extra_sd)
        natural = natural_variation(brief, cooks, extra)
        calibration = fit(calibration.prior, calibration)
    factors = misfit_factors(calibration)
    if not np.allclose(factors, 1.0):
        residual = Residual(residual.length, residual.sd * factors)
        calibration = fit(calibration.prior, calibration)
    return Learned(brief, oven, cooks, View(brief, calibration, noise, natural), goals_of(brief))
