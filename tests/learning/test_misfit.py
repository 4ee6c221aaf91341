"""The residual's spread follows how well the physics fits a dish's own cooks."""

from __future__ import annotations

import numpy as np

from tests.learning import cases
from tuner.learning.learned import learned_from
from tuner.learning.misfit import misfit_factors

PROGRAMS = [cases.program(temperature, duration) for temperature in (230, 245, 260) for duration in (180, 210, 240)]


def _cooks(moved: float) -> list:
    """Cooks that follow the physics, but for browning marks pushed up and down in turn by `moved`."""
    brief = cases.brief()
    told = learned_from(brief, cases.oven(), []).forecast(PROGRAMS)
    cooks = []
    for turn, forecast in enumerate(told):
        marks = [forecast.attributes[name].mean for name in ("browning", "texture", "moisture")]
        marks[0] += moved * (-1) ** turn
        half = [float(np.clip(round(2 * mark) / 2, 1.5, 4.5)) for mark in marks]
        cooks.append(cases.cook(forecast.program, core=forecast.attributes["core_temperature_c"].mean, marks=tuple(half)))
    return cooks


def _factors(cooks: list) -> np.ndarray:
    return misfit_factors(learned_from(cases.brief(), cases.oven(), cooks).view.calibration)


def test_a_dish_that_does_not_follow_the_physics_is_doubted_more():
    follows, strays = _factors(_cooks(0.0)), _factors(_cooks(1.0))
    assert strays[1] > 1.0 > follows[1]


def test_core_and_loss_and_a_handful_of_marks_keep_their_spread():
    assert _factors(_cooks(1.0))[[0, 4]].tolist() == [1.0, 1.0]
    assert _factors(_cooks(1.0)[:2]).tolist() == [1.0] * 5
    assert _factors([]).tolist() == [1.0] * 5


def test_the_forecast_widens_where_the_physics_strays():
    spread = []
    for moved in (0.0, 1.0):
        learned = learned_from(cases.brief(), cases.oven(), _cooks(moved))
        [forecast] = learned.forecast([cases.program(250, 225)])
        spread.append(forecast.attributes["browning"].spread)
    assert spread[1] > spread[0]
