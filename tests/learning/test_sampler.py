"""The proposer as an Optuna sampler."""

import warnings

import numpy as np
import optuna
import pytest

import tuner
from tests.learning import cases
from tuner.learning import CookSampler
from tuner.proof import margins

optuna.logging.set_verbosity(optuna.logging.ERROR)


def _study(sampler, **more):
    return optuna.create_study(direction="maximize", sampler=sampler, **more)


def _ask(study, sampler):
    return study.ask(fixed_distributions=sampler.search_space())


def test_a_trial_holds_the_program_that_propose_would_propose():
    cooks = [cases.cook(cases.program(), core=70)]
    sampler = CookSampler(cases.brief(), cases.oven(), cooks=cooks, seed=3)
    study = _study(sampler)
    first = _ask(study, sampler)
    assert sampler.program(first) == tuner.propose(cases.brief(), cases.oven(), cooks, seed=3)[0].program
    told = cases.cook(sampler.program(first), core=82, marks=(4, 3, 3))
    sampler.tell(study, first, told)
    second = _ask(study, sampler)
    assert sampler.program(second) == tuner.propose(cases.brief(), cases.oven(), [*cooks, told], seed=3)[0].program


def test_told_are_the_smallest_margin_and_one_constraint_for_each_limit():
    sampler = CookSampler(cases.brief(), cases.oven())
    study = _study(sampler)
    trial = _ask(study, sampler)
    cook = cases.cook(sampler.program(trial), core=74.5, marks=(2, 3, 3))
    sampler.tell(study, trial, cook)
    [frozen] = study.trials
    expected = margins(cases.brief(), cook)
    assert frozen.value == pytest.approx(min(expected.values()))
    assert frozen.constraints["critical_limit"] == pytest.approx(76 - 74.5)
    assert frozen.constraints["browning"] == pytest.approx(-expected["browning"])
    assert set(frozen.constraints) == {"critical_limit", *expected}
    assert tuner.TestCook.model_validate_json(frozen.user_attrs["cook"]) == cook


def test_a_missing_part_leaves_the_trial_running_until_it_is_told():
    sampler = CookSampler(cases.brief(), cases.oven())
    study = _study(sampler)
    trial = _ask(study, sampler)
    program = sampler.program(trial)
    assert sampler.tell(study, trial, cases.cook(program, marks=None)) is None
    assert study.trials[0].state == optuna.trial.TrialState.RUNNING
    sampler.tell(study, trial, cases.cook(program))
    assert study.trials[0].state == optuna.trial.TrialState.COMPLETE
    assert study.best_trial.value > 0


def test_running_trials_are_pending():
    sampler = CookSampler(cases.brief(), cases.oven())
    study = _study(sampler)
    programs = [sampler.program(_ask(study, sampler)) for _ in range(3)]
    assert len({program.key for program in programs}) == 3
    another = CookSampler(cases.brief(), cases.oven())
    _, pending = another._so_far(study, 99)
    assert {program.key for program in pending} == {program.key for program in programs}


def test_optimize_plays_a_development_and_ends_better_than_it_began():
    brief, oven = cases.brief(), cases.oven()
    sampler, rng = CookSampler(brief, oven), np.random.default_rng(1)
    study = _study(sampler)

    def cooked(trial):
        program = sampler.program(trial)
        heat = sum(s.share_pct * s.microwave_pct for s in program.stages) * program.duration_s / 1e6
        core = 40 + 45 * heat + 0.3 * rng.normal()
        return sampler.record(trial, cases.cook(program, core=float(np.clip(core, 10, 98)), loss=12))

    study.optimize(cooked, n_trials=5)
    values = [trial.value for trial in study.trials]
    assert max(values[1:]) >= values[0]
    assert all(trial.state == optuna.trial.TrialState.COMPLETE for trial in study.trials)


@pytest.mark.parametrize("seed", range(8))
def test_odd_ovens_make_distributions_that_hold_every_proposed_value(seed):
    rng = np.random.default_rng(seed)
    oven = cases.random_oven(rng)
    sampler = CookSampler(cases.brief_with_targets(duration_s=None), oven)
    study = _study(sampler)
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        trial = _ask(study, sampler)
    assert cases.problems_of(sampler.program(trial), cases.brief_with_targets(duration_s=None), oven) == []
    assert sampler.program(study.trials[0]) == sampler.program(trial)


def test_a_setting_asked_for_on_its_own_is_an_error_not_a_random_cook():
    sampler = CookSampler(cases.brief(), cases.oven())
    trial = _study(sampler).ask()
    with pytest.raises(tuner.InvalidDocument, match="chosen together"):
        trial.suggest_float("late_steam_pct", 0, 100, step=5)


def test_a_study_that_minimises_is_refused():
    sampler = CookSampler(cases.brief(), cases.oven())
    study = optuna.create_study(direction="minimize", sampler=sampler)
    trial = _ask(study, sampler)
    with pytest.raises(tuner.InvalidDocument, match="maximize"):
        sampler.tell(study, trial, cases.cook(sampler.program(trial)))


def test_a_confirm_of_five_stages_fits_into_the_search_space():
    five = cases.program(250, 210, [(20, 30, 80), (20, 40, 60), (20, 60, 40), (20, 90, 20), (20, 95, 15)])
    cooks = [cases.cook(five)] * 3
    sampler = CookSampler(cases.brief(), cases.oven(), cooks=cooks)
    study = _study(sampler)
    expected = tuner.propose(cases.brief(), cases.oven(), cooks)[0].program
    assert sampler.program(_ask(study, sampler)) == expected


def test_optuna_loads_only_for_the_sampler():
    import subprocess
    import sys

    code = "import sys, tuner.learning; assert 'optuna' not in sys.modules; tuner.learning.CookSampler; assert 'optuna' in sys.modules"
    subprocess.run([sys.executable, "-c", code], check=True)
    with pytest.raises(AttributeError, match="no attribute"):
        getattr(tuner.learning, "Nothing")  # noqa: B009
