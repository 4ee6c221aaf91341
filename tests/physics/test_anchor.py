"""What the conventional recipe did, as the anchor of the scores."""

from __future__ import annotations

import numpy as np
import pytest

from tests.physics.dishes import NAMES, brief, document, oven
from tuner.domain import Brief
from tuner.physics import INDEX, PARAMETERS, portion_model
from tuner.physics.anchor import anchor_for, conventional_of, core_target_c
from tuner.physics.cooking import body_of


@pytest.mark.parametrize("name", NAMES)
def test_the_conventional_oven_is_a_possible_one(name: str) -> None:
    anchor = portion_model(brief(name), oven()).anchor
    assert 8.0 < anchor.h_w_m2k < 90.0
    assert 2.0 < anchor.loss_pct < 35.0


@pytest.mark.parametrize("name", ["Turkey escalope", "Lamb kofta", "Pollock with crumb", "Root vegetables", "Breaded cutlet"])
def test_ordinary_recipes_reach_about_the_middle_of_their_core_window(name: str) -> None:
    dish = brief(name)
    assert portion_model(dish, oven()).anchor.core_c == pytest.approx(core_target_c(dish), abs=6.0)


def test_roasted_poultry_loses_what_was_measured() -> None:
    """15 to 27 % at 71 to 79 °C core in a 176 °C oven (Hong & Lee 2012, Food Sci Biotechnol 21:1497)."""
    dish = brief(conventional={"method": "oven", "oven_temperature_c": 176.0, "duration_s": 1700.0})
    assert 13.0 < portion_model(dish, oven()).anchor.loss_pct < 27.0


def test_the_anchor_follows_the_parameters_as_the_simulation_does() -> None:
    """The linear anchor at a moved theta against the anchor simulated afresh there."""
    dish = brief()
    model, body = portion_model(dish, oven()), body_of(dish, oven())
    for name in ("drying_capacity", "browning_energy", "conductivity_factor"):
        theta = model.prior_mean.copy()
        theta[INDEX[name]] += 0.8
        afresh = anchor_for(dish, body, theta, model.rest_s, covered=model.rest_covered)
        assert model.anchor.at(theta[None, :])[:, 0] == pytest.approx(afresh.base, abs=0.25), name


def test_parameters_that_the_conventional_oven_does_not_know_leave_the_anchor_alone() -> None:
    gradient = portion_model(brief(), oven()).anchor.gradient
    for name in ("coupled_share", "penetration_depth", "h_jet", "browning_shift", "moisture_per_loss"):
        assert not gradient[:, INDEX[name]].any()
    assert np.isfinite(gradient).all()
    assert gradient.shape == (3, len(PARAMETERS))


def test_without_a_conventional_method_a_documented_one_is_taken() -> None:
    plain = document()
    del plain["conventional"]
    taken = conventional_of(Brief.model_validate(plain))
    assert (taken.oven_temperature_c, taken.duration_s) == (180.0, 1500.0)
    thick = brief(portion={"thickness_mm": 56}).model_copy(update={"conventional": None})
    assert conventional_of(thick).duration_s == pytest.approx(1500 * 2**1.5)
    frozen = brief("Breaded cutlet").model_copy(update={"conventional": None})
    assert conventional_of(frozen).duration_s == pytest.approx(1.6 * 1500 * (18 / 28) ** 1.5)


@pytest.mark.parametrize(
    "window, limit, target",
    [
        ({"low": 74.0, "high": 84.0}, None, 79.0),
        ({"low": 74.0, "high": 84.0}, {"core_temperature_c": 74.0}, 80.0),
        ({"low": 70.0}, None, 75.0),
        ({"high": 60.0}, None, 55.0),
        (None, {"core_temperature_c": 70.0, "guard_c": 1.0}, 76.0),
        (None, None, 76.0),
        (None, {"none": True, "rule": "bakery", "approved_by": "AB"}, 76.0),
    ],
)
def test_the_core_target_is_the_middle_of_what_may_be_used(window, limit, target: float) -> None:
    changes = {"targets": {"core_temperature_c": window} if window else {}}
    assert core_target_c(brief(**changes, critical_limit=limit)) == pytest.approx(target)


def test_a_simmered_dish_still_has_a_finite_browning_anchor() -> None:
    dish = brief(conventional={"method": "steam", "oven_temperature_c": 98.0, "duration_s": 1800.0})
    assert np.exp(portion_model(dish, oven()).anchor.base[0]) == pytest.approx(22.7, rel=0.2)


def test_the_largest_loss_is_the_windows_or_follows_the_conventional_one() -> None:
    assert portion_model(brief(), oven()).anchor.largest_loss_pct == 18.0
    free = portion_model(brief(targets={}), oven()).anchor
    assert free.largest_loss_pct == pytest.approx(free.loss_pct / 0.8)
    assert portion_model(brief(targets={"cook_loss_pct": {"high": -2.0}}), oven()).anchor.largest_loss_pct == 5.0
