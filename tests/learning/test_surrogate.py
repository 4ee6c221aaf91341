"""The surrogate as a scikit-learn estimator: its checks, scikit-learn's own process as referee, and its place in the learner."""

import numpy as np
import pytest
from sklearn.base import clone
from sklearn.gaussian_process import GaussianProcessRegressor
from sklearn.gaussian_process.kernels import RBF, ConstantKernel
from sklearn.model_selection import cross_val_score
from sklearn.utils.estimator_checks import parametrize_with_checks

from tests.learning import cases
from tuner.learning import learn
from tuner.learning.prediction import expanded, means_round, posterior
from tuner.learning.program_table import ProgramTable
from tuner.learning.surrogate import ResidualProcess


@parametrize_with_checks([ResidualProcess()])
def test_it_is_a_scikit_learn_estimator(estimator, check):
    check(estimator)


def _data(seed, count=25, features=8):
    rng = np.random.default_rng(seed)
    points = rng.normal(size=(count, features))
    return points, np.sin(points[:, 0]) + 0.3 * points[:, 1] + 0.1 * rng.normal(size=count), rng.uniform(0.01, 0.2, size=count)


@pytest.mark.parametrize("seed", range(4))
def test_scikit_learns_own_process_gives_the_same_numbers(seed):
    points, target, noise = _data(seed)
    ours = ResidualProcess(length=1.7, sd=0.8).fit(points, target, noise)
    kernel = ConstantKernel(0.8**2, "fixed") * RBF(1.7, "fixed")
    theirs = GaussianProcessRegressor(kernel, alpha=noise, optimizer=None).fit(points, target)
    asked = np.concatenate([points[:3], _data(seed + 100)[0]])
    mean, sd = ours.predict(asked, return_std=True)
    their_mean, their_sd = theirs.predict(asked, return_std=True)
    assert mean == pytest.approx(their_mean, abs=1e-9)
    assert sd == pytest.approx(their_sd, abs=1e-7)
    assert ours.predict(asked) == pytest.approx(mean)


def test_parameters_are_got_set_and_cloned():
    process = ResidualProcess(length=2.0, sd=0.5, noise_sd=0.2)
    assert process.get_params() == {"length": 2.0, "sd": 0.5, "noise_sd": 0.2}
    assert clone(process).set_params(sd=0.7).get_params()["sd"] == 0.7
    points, target, _ = _data(1)
    assert np.isfinite(cross_val_score(process, points, target, cv=3)).all()


def test_spread_is_the_prior_far_away_and_small_at_exact_measurements():
    points, target, _ = _data(2)
    process = ResidualProcess(sd=0.9).fit(points, target, 1e-8)
    mean, sd = process.predict(np.concatenate([points[:2], points[:2] + 100.0]), return_std=True)
    assert mean[:2] == pytest.approx(target[:2], abs=1e-5)
    assert sd[:2] == pytest.approx(0.0, abs=1e-3)
    assert mean[2:] == pytest.approx(0.0, abs=1e-9)
    assert sd[2:] == pytest.approx(0.9)


@pytest.mark.parametrize("wrong", [{"length": 0.0}, {"sd": -1.0}, {"noise_sd": 0.0}])
def test_parameters_that_are_no_sizes_are_refused_in_words(wrong):
    points, target, _ = _data(3)
    with pytest.raises(ValueError, match="must be above zero"):
        ResidualProcess(**wrong).fit(points, target)


def test_the_learner_uses_it_and_conditions_as_the_joint_model_does():
    cooks = [
        cases.cook(cases.program(), core=76, marks=(2, 3, 3.5)),
        cases.cook(cases.program(260, 240), core=88, marks=(4, 3.5, 2.5), loss=None),
        cases.cook(cases.program(235, 180, [(50, 40, 70), (50, 100, 10)]), core=72, marks=None),
    ]
    now = learn(cases.brief(), cases.oven(), cooks).view.calibration
    weights = np.full((len(now.points), 5), np.nan)
    weights[now.rows[:, 0], now.rows[:, 1]] = now.alpha
    for column, surrogate in enumerate(now.surrogates):
        measured = weights[~np.isnan(weights[:, column]), column]
        assert surrogate.alpha_ == pytest.approx(measured, rel=1e-6, abs=1e-9)
    asked = ProgramTable.of([cases.program(245, 200), cases.program(255, 230)])
    view = learn(cases.brief(), cases.oven(), cooks).view
    whole = posterior(now, asked, expanded(now, asked, view.at(2))).mean
    step = expanded(now, asked, view.at(2)).jacobian @ (now.u_mean - now.u)
    assert means_round(now, asked, view.states(asked)) + step == pytest.approx(whole, abs=1e-8)


def test_without_cooks_there_is_nothing_left_over_to_model():
    now = learn(cases.brief(), cases.oven(), []).view.calibration
    assert now.surrogates == (None,) * 5
