"""The calibrated linear-Gaussian model against plain Gaussian conditioning, and its behaviour."""

import numpy as np
import pytest

from tests.learning import cases
from tuner.learning.calibration import residual_covariance
from tuner.learning.coordinates import coordinates
from tuner.learning.learned import learned_from
from tuner.learning.prediction import expanded, means_round, posterior
from tuner.learning.program_table import ProgramTable
from tuner.learning.scores import latent_of, score_of, slope_at
from tuner.learning.simulator import Conditions
from tuner.physics import PARAMETERS

ASKED = [cases.program(), cases.program(240, 200, [(50, 40, 60), (50, 80, 20)]), cases.program(265, 280)]
COOKS = [
    cases.cook(cases.program(), core=74, marks=(2, 3, 3.5)),
    cases.cook(cases.program(235, 180, [(50, 40, 70), (50, 100, 10)]), core=70, loss=10),
    cases.cook(cases.program(260, 240), core=85, marks=(3.5, 3.5, 2.5)),
]


@pytest.fixture(scope="module")
def now():
    return learned_from(cases.brief(), cases.oven(), COOKS).view.calibration


def _calibrate_steps(steps):
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("tuner.learning.calibration._MOST_STEPS", steps)
        return learned_from(cases.brief(), cases.oven(), COOKS).view.calibration


def test_the_posterior_is_plain_gaussian_conditioning(now):
    """A second way: stack parameters and residuals into one Gaussian vector and condition on the measured numbers."""
    table = ProgramTable.of(ASKED)
    view = learned_from(cases.brief(), cases.oven(), COOKS).view
    there = expanded(now, table, view.at(len(ASKED)))
    points, seen = coordinates(table), now.points
    corr = now.residual.correlation(np.concatenate([points, seen]), np.concatenate([points, seen]))
    size, n = len(now.u), len(ASKED)
    prior_cov = np.zeros((size + 5 * len(corr),) * 2)
    prior_cov[:size, :size] = np.eye(size)
    for k in range(5):
        where = size + 5 * np.arange(len(corr)) + k
        prior_cov[np.ix_(where, where)] = now.residual.sd[k] ** 2 * corr
    observe = np.zeros((len(now.rows), len(prior_cov)))
    for row, (cook, column) in enumerate(now.rows):
        observe[row, :size] = now.jacobian[row]
        observe[row, size + 5 * (n + cook) + column] = 1
    y = now.observations.y[tuple(now.rows.T)] - now.expansion.states[tuple(now.rows.T)] + now.jacobian @ now.u
    gain = prior_cov @ observe.T @ np.linalg.inv(observe @ prior_cov @ observe.T + np.diag(now.noise_var))
    mean, cov = gain @ y, prior_cov - gain @ observe @ prior_cov
    found = posterior(now, table, there)
    for row in range(n):
        pick = np.zeros((5, len(prior_cov)))
        pick[:, :size] = there.jacobian[row]
        pick[np.arange(5), size + 5 * row + np.arange(5)] = 1
        assert found.mean[row] == pytest.approx(there.states[row] - there.jacobian[row] @ now.u + pick @ mean, abs=1e-6)
        assert found.cov[row] == pytest.approx(pick @ cov @ pick.T, abs=1e-6)


def test_iterations_end_higher_than_they_began_and_within_the_prior(now):
    def minus_log_posterior(calibration):
        rows = tuple(calibration.rows.T)
        gap = calibration.observations.y[rows] - calibration.expansion.states[rows]
        spread = residual_covariance(now.residual, calibration.rows, calibration.points) + np.diag(calibration.noise_var)
        return 0.5 * calibration.u @ calibration.u + 0.5 * gap @ np.linalg.solve(spread, gap)

    begun = _calibrate_steps(0)
    assert np.array_equal(begun.rows, now.rows)
    assert minus_log_posterior(now) < minus_log_posterior(begun) - 1
    assert (np.abs(now.u) <= 4).all()
    assert np.abs(now.u_mean - now.u).max() < 1.5


def test_cheap_means_agree_with_the_posterior_up_to_the_last_step(now):
    table = ProgramTable.of(ASKED)
    view = learned_from(cases.brief(), cases.oven(), COOKS).view
    there = expanded(now, table, view.at(len(ASKED)))
    cheap = means_round(now, table, there.states)
    step = there.jacobian @ (now.u_mean - now.u)
    assert cheap + step == pytest.approx(posterior(now, table, there).mean, abs=1e-8)


def test_cooks_narrow_parameters_and_never_widen_them(now):
    spread = np.sqrt(np.diag(now.u_cov))
    assert (spread <= 1 + 1e-9).all()
    assert spread.min() < 0.7
    assert len(spread) == len(PARAMETERS)


def test_residuals_of_different_attributes_are_independent(now):
    kernel = residual_covariance(now.residual, now.rows, now.points)
    different = now.rows[:, 1][:, None] != now.rows[:, 1][None, :]
    assert (kernel[different] == 0).all()
    assert np.linalg.eigvalsh(kernel).min() > -1e-8


def test_the_posterior_in_parts_is_the_posterior_in_one(now, monkeypatch):
    table = ProgramTable.of(ASKED * 5)
    view = learned_from(cases.brief(), cases.oven(), COOKS).view
    there = expanded(now, table, view.at(len(table)))
    whole = posterior(now, table, there)
    monkeypatch.setattr("tuner.learning.prediction._MOST_NUMBERS", 5 * len(now.alpha) * 4)
    parts = posterior(now, table, there)
    assert parts.mean == pytest.approx(whole.mean)
    assert parts.cov == pytest.approx(whole.cov)


def test_scores_and_latents_are_inverse_inside_the_scale():
    marks = np.linspace(1.4, 4.6, 17)
    assert score_of(latent_of(marks)) == pytest.approx(marks)
    assert latent_of(1.0) == latent_of(1.35)
    step = 1e-6
    numeric = (score_of(latent_of(marks) + step) - score_of(latent_of(marks) - step)) / (2 * step)
    assert slope_at(marks) == pytest.approx(numeric, abs=1e-6)
    assert slope_at(5.0) == pytest.approx(0.08)


def test_derivatives_moved_together_are_those_moved_one_by_one():
    learned = learned_from(cases.brief(), cases.oven(), COOKS)
    simulator, table = learned.view.calibration.simulator, ProgramTable.of(ASKED)
    at, theta = learned.view.at(len(ASKED)), learned.view.calibration.theta
    found = simulator.expanded(table, at, theta, np.ones(len(theta)))
    for place in range(len(theta)):
        moved = theta.copy()
        moved[place] += 0.08
        one = (simulator.states(table, at, moved) - simulator.states(table, at, theta)) / 0.08
        assert found.jacobian[:, :, place] == pytest.approx(one, abs=1e-7), PARAMETERS[place].name
    heavier = (simulator.states(table, Conditions(at.mass_g * 1.02, at.start_c, at.rest_s), theta) - found.states) / 0.02
    assert found.sensitivity[:, :, 0] == pytest.approx(heavier, abs=1e-7)
