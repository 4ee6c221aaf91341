"""The proposer as an Optuna sampler: a development opens as an Optuna study.

Ask with all settings at once, because shares of the time must add up; tell by `CookSampler.tell`, because a cook is more than
one number::

    sampler = CookSampler(brief, oven)
    study = optuna.create_study(direction="maximize", sampler=sampler)
    trial = study.ask(fixed_distributions=sampler.search_space())
    cook = ...                       # cook sampler.program(trial) and measure
    sampler.tell(study, trial, cook)

Told is the smallest margin to a window's edge in half-widths: 1 in the middle of all windows, negative outside. Earlier cooks
belong to the constructor, not into the study, whose distributions could not hold programs that are off the oven's steps.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import Any

from optuna.distributions import BaseDistribution, FloatDistribution
from optuna.samplers import BaseSampler
from optuna.study import Study, StudyDirection
from optuna.trial import FrozenTrial, Trial, TrialState

from tuner.domain import Brief, InvalidDocument, Oven, Program, Setting, TestCook
from tuner.learning.calls import propose
from tuner.learning.grid import MOST_SEARCHED_STAGES
from tuner.learning.priors import Earlier
from tuner.learning.program_table import program_of
from tuner.proof import margins
from tuner.safety import effective_limit

COOK_ATTRIBUTE = "cook"
"""User attribute of a trial that keeps its cook, as JSON text."""


def _last_step(setting: Setting) -> float:
    """The last value that can be set, in the decimal arithmetic that Optuna checks with."""
    if setting.step is None:
        return setting.low
    return float(Decimal(str(setting.low)) + (setting.count - 1) * Decimal(str(setting.step)))


def _distribution(setting: Setting) -> FloatDistribution:
    high = _last_step(setting)
    return FloatDistribution(setting.low, high, step=setting.step if high > setting.low else None)


class CookSampler(BaseSampler):
    """Samples the program that `propose` would propose for the cooks so far and the same seed.

    Parameters
    ----------
    brief, oven
        What is wanted, and where.
    cooks
        Cooks done before the study.
    earlier
        Earlier developments, as for `tuner.learning.propose`.
    seed
        Of the search.
    """

    def __init__(
        self, brief: Brief, oven: Oven, *, cooks: Sequence[TestCook] = (), earlier: Earlier = (), seed: int = 0
    ) -> None:
        self._brief, self._oven, self._seed = brief, oven, seed
        self._cooks, self._earlier = tuple(cooks), earlier
        self._asked: dict[tuple[str, int], Program] = {}
        given = max((len(cook.done_program.stages) for cook in self._cooks if cook.done_program), default=1)
        self._stages = min(oven.max_stages, oven.share_parts, max(MOST_SEARCHED_STAGES, given))

    def search_space(self) -> dict[str, BaseDistribution]:
        """Distributions of all settings, for `study.ask(fixed_distributions=...)`; a stage with share 0 is not there."""
        share_step = self._oven.share_step_pct
        whole = float(self._oven.share_parts * Decimal(str(share_step)))
        space: dict[str, BaseDistribution] = {
            "air_temperature_c": _distribution(self._oven.air_temperature_c),
            "duration_s": _distribution(self._oven.duration_s),
        }
        for stage in range(1, self._stages + 1):
            least = whole if self._stages == 1 else (share_step if stage == 1 else 0.0)
            space[f"share_pct_{stage}"] = FloatDistribution(least, whole, step=None if least == whole else share_step)
            space[f"air_speed_pct_{stage}"] = _distribution(self._oven.air_speed_pct)
            space[f"microwave_pct_{stage}"] = _distribution(self._oven.microwave_pct)
        return space

    def program(self, trial: Trial | FrozenTrial) -> Program:
        """The program of a trial; settings that were not asked for yet are asked for now.

        Raises
        ------
        InvalidDocument
            If the trial lacks settings of this sampler's search space.
        """
        if isinstance(trial, Trial):
            missing = {name: space for name, space in self.search_space().items() if name not in trial.params}
            for name, space in missing.items():
                assert isinstance(space, FloatDistribution)
                trial.suggest_float(name, space.low, space.high, step=space.step)
        return self._from_settings(trial.params, trial.number)

    def _from_settings(self, settings: Mapping[str, Any], number: int) -> Program:
        try:
            shares = [float(settings[f"share_pct_{k}"]) for k in range(1, self._stages + 1)]
            parts = [round(share / self._oven.share_step_pct) for share in shares]
            stages = [
                (
                    round(count * 100.0 / self._oven.share_parts, 9),
                    settings[f"air_speed_pct_{k}"],
                    settings[f"microwave_pct_{k}"],
                )
                for k, count in enumerate(parts, start=1)
                if count > 0
            ]
            return program_of(settings["air_temperature_c"], settings["duration_s"], stages)
        except KeyError as error:
            raise InvalidDocument(
                [f"trial {number} has no setting {error}. A program needs all of search_space(). Ask with fixed_distributions"]
            ) from None

    def _settings(self, program: Program) -> dict[str, float]:
        """Settings of a program, snapped by each distribution's own steps."""
        space = self.search_space()
        values = {"air_temperature_c": program.air_temperature_c, "duration_s": program.duration_s}
        for k in range(1, self._stages + 1):
            there = k <= len(program.stages)
            stage = program.stages[k - 1] if there else None
            values[f"share_pct_{k}"] = stage.share_pct if stage else 0.0
            values[f"air_speed_pct_{k}"] = stage.air_speed_pct if stage else self._oven.air_speed_pct.low
            values[f"microwave_pct_{k}"] = stage.microwave_pct if stage else self._oven.microwave_pct.low
        return {name: _snapped(space[name], value) for name, value in values.items()}

    # What Optuna asks of a sampler.

    def infer_relative_search_space(self, study: Study, trial: FrozenTrial) -> dict[str, BaseDistribution]:
        """All settings at once: shares of the time can't be drawn one by one."""
        del study, trial
        return self.search_space()

    def sample_relative(self, study: Study, trial: FrozenTrial, search_space: dict[str, BaseDistribution]) -> dict[str, Any]:
        """Settings of the next program: that of `propose`, with running trials as pending ones."""
        cooks, pending = self._so_far(study, trial.number)
        [proposal] = propose(self._brief, self._oven, cooks, seed=self._seed, earlier=self._earlier, pending=pending)
        self._asked[study.study_name, trial.number] = proposal.program
        settings = self._settings(proposal.program)
        return {name: settings[name] for name in search_space}

    def sample_independent(
        self, study: Study, trial: FrozenTrial, param_name: str, param_distribution: BaseDistribution
    ) -> Any:
        """Refuse: a setting drawn on its own would be a random cook.

        Raises
        ------
        InvalidDocument
            Always; it names the setting.
        """
        del study
        raise InvalidDocument(
            [
                f"setting {param_name!r} of trial {trial.number} is {param_distribution!r}, which is not what "
                "search_space() holds. All settings of a program are chosen together. Ask with "
                "fixed_distributions=sampler.search_space(), or let sampler.program(trial) ask"
            ]
        )

    def _so_far(self, study: Study, number: int) -> tuple[tuple[TestCook, ...], tuple[Program, ...]]:
        """Cooks told or kept so far in the order of their trials, and programs of running trials without a cook."""
        cooks, pending = list(self._cooks), []
        for trial in study.get_trials(deepcopy=False):
            kept = trial.user_attrs.get(COOK_ATTRIBUTE)
            if kept is not None:
                cooks.append(TestCook.model_validate_json(kept))
            elif trial.state == TrialState.RUNNING and trial.number != number:
                asked = self._asked.get((study.study_name, trial.number))
                if asked is None and set(self.search_space()) <= set(trial.params):
                    asked = self._from_settings(trial.params, trial.number)
                pending += [asked] if asked is not None else []
        return tuple(cooks), tuple(pending)

    def record(self, trial: Trial, cook: TestCook) -> float | None:
        """Keep the cook with its trial and set its constraints; the smallest margin, None where a part is missing.

        An objective of `study.optimize` may return it. Constraints, one for each limit (0 or less is kept): the critical
        limit [K], and every window [half-widths].
        """
        trial.set_user_attr(COOK_ATTRIBUTE, cook.model_dump_json(exclude_unset=True))
        found = margins(self._brief, cook)
        wanted = [name for name in found if self._has_window(name)]
        if any(found[name] is None for name in wanted) or len(cook.readings_c) < self._brief.places:
            return None
        line = effective_limit(self._brief).pass_line_c
        if line is not None:
            trial.set_constraint("critical_limit", line - min(cook.readings_c))
        for name in wanted:
            margin = found[name]
            assert margin is not None
            trial.set_constraint(name, -margin)
        return min((margin for name in wanted if (margin := found[name]) is not None), default=0.0)

    def _has_window(self, attribute: str) -> bool:
        if attribute == "core_temperature_c" and effective_limit(self._brief).pass_line_c is not None:
            return True
        return self._brief.targets.of(attribute) is not None

    def tell(self, study: Study, trial: Trial, cook: TestCook) -> FrozenTrial | None:
        """Tell a cook: its smallest margin, to be maximised. A cook that misses a part leaves the trial running.

        Tell the same trial again when the missing part is there.

        Raises
        ------
        InvalidDocument
            If the study does not maximise.
        """
        if study.directions != [StudyDirection.MAXIMIZE]:
            raise InvalidDocument(
                [f"the study {study.study_name!r} does not maximise one value. Margins are told, the larger the better. "
                 'Create it with direction="maximize"']
            )  # fmt: skip
        margin = self.record(trial, cook)
        return None if margin is None else study.tell(trial, margin)


def _snapped(distribution: BaseDistribution, value: float) -> float:
    """`value` on the distribution's own steps, counted from its low."""
    assert isinstance(distribution, FloatDistribution)
    if distribution.step is None:
        return distribution.low if distribution.low == distribution.high else float(value)
    steps = round((value - distribution.low) / distribution.step)
    exact = Decimal(str(distribution.low)) + steps * Decimal(str(distribution.step))
    return min(max(float(exact), distribution.low), distribution.high)
