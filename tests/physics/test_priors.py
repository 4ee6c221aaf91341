"""Priors that follow the dish and the oven's checks."""

from __future__ import annotations

import numpy as np
import pytest

from tests.physics.dishes import NAMES, USUAL, brief, oven
from tuner.domain import Brief, Oven
from tuner.physics import INDEX, PARAMETERS, natural, portion_model
from tuner.physics.priors import likely_penetration_mm, sharpened


def _prior(dish: Brief, machine: Oven, name: str) -> tuple[float, float]:
    """Natural centre and spread on the parameter's scale."""
    found, position = sharpened(dish, machine), INDEX[name]
    return float(natural(found.mean)[position]), float(found.sd[position] * PARAMETERS[position].spread)


@pytest.mark.parametrize(
    "name, word, centre",
    [
        ("Turkey escalope", None, 0.40),
        ("Root vegetables", None, -0.45),
        ("Cinnamon bun", None, 0.15),
        ("Root vegetables", "firmer", 0.45),
        ("Turkey escalope", "softer", -0.45),
    ],
)
def test_texture_goes_the_way_the_chef_or_the_make_up_says(name: str, word: str | None, centre: float) -> None:
    found = _prior(brief(name, texture_with_heat=word), oven(), "texture_per_dose")
    assert found[0] == pytest.approx(centre)
    assert (found[1] <= 0.25) == (centre != 0.15)


def test_a_check_of_watts_shifts_and_narrows_the_coupled_share() -> None:
    usual, spread = _prior(brief(), oven(), "coupled_share")
    weak = [{"watts_w": 900.0, "standard_error_w": 9.0}]  # 80 % of the usual 1125 W
    checked, narrowed = _prior(brief(), oven(checks=weak), "coupled_share")
    assert checked / usual == pytest.approx(0.80, abs=0.03)
    assert narrowed < spread
    vague, wider = _prior(brief(), oven(checks=[{"watts_w": 900.0, "standard_error_w": 300.0}]), "coupled_share")
    assert checked < vague < usual
    assert narrowed < wider < spread + 1e-9


def test_repeated_checks_tell_more_than_one() -> None:
    once = [{"watts_w": 900.0, "standard_error_w": 60.0}]
    spreads = [_prior(brief(), oven(checks=once * times), "coupled_share")[1] for times in (1, 3)]
    assert spreads[1] < spreads[0]


def test_two_ovens_ranked_by_their_checks_are_ranked_in_the_core() -> None:
    cores = []
    for watts in (950.0, 1125.0):
        model = portion_model(brief(), oven(checks=[{"watts_w": watts, "standard_error_w": 10.0}]))
        cores.append(model.predict([USUAL], mass_g=180, start_temperature_c=4, theta=model.prior_mean)[0, 0])
    # 15 % of the microwave part of about 70 K.
    assert 6.0 < cores[1] - cores[0] < 12.0


def test_an_oven_that_does_not_tell_its_rating_or_speed_is_less_certain() -> None:
    silent = {key: value for key, value in oven().model_dump().items() if key not in ("microwave_rated_w", "air_speed_max_m_s")}
    unknown = Oven.model_validate({key: value for key, value in silent.items() if value is not None})
    for name in ("coupled_share", "h_jet"):
        assert _prior(brief(), unknown, name)[1] > _prior(brief(), oven(), name)[1]


def test_a_check_of_h_moves_the_jets() -> None:
    speed = (22 / 8) ** 0.65
    for measured in (80.0, 140.0):
        centre, spread = _prior(brief(), oven(checks=[{"h_w_m2k": measured}]), "h_jet")
        assert 14.0 + centre * speed == pytest.approx(measured, rel=0.01)
        assert spread < 0.30


def test_a_check_of_the_air_moves_its_offset_only_where_it_can_be_read() -> None:
    usual = _prior(brief(), oven(), "air_offset")
    near_top = _prior(brief(), oven(checks=[{"air_temperature_c": 265.0}]), "air_offset")
    assert usual[0] < near_top[0] < -4.0
    assert near_top[1] < usual[1]
    assert _prior(brief(), oven(checks=[{"air_temperature_c": 180.0}]), "air_offset") == usual
    fixed = {"low": 250, "high": 250}
    assert _prior(brief(), oven(air_temperature_c=fixed, checks=[{"air_temperature_c": 230.0}]), "air_offset")[0] < -15.0


@pytest.mark.parametrize("name", NAMES)
def test_power_goes_as_deep_as_the_make_up_lets_it(name: str) -> None:
    assert 7.0 < likely_penetration_mm(brief(name).portion) < 25.0


def test_salt_shortens_and_fat_lengthens_the_penetration() -> None:
    plain = likely_penetration_mm(brief().portion)
    salted = likely_penetration_mm(brief(portion={"salt": 0.025}).portion)
    fatty = likely_penetration_mm(brief(portion={"water": 0.40, "fat": 0.40, "protein": 0.18, "carbohydrate": 0.01}).portion)
    assert salted < plain < fatty


def test_priors_stay_sound_under_absurd_checks() -> None:
    for checks in (
        [{"watts_w": 1.0, "standard_error_w": 3000.0}],
        [{"watts_w": 6000.0, "standard_error_w": 0.0}],
        [{"h_w_m2k": 1.0}],
    ):
        found = sharpened(brief(), oven(checks=checks))
        assert np.abs(found.mean).max() <= 6.0
        assert (found.sd > 0.1).all()
        assert (found.sd <= 1.6).all()


def test_a_check_of_a_hot_oven_is_read_as_that_of_the_same_oven_cold_and_tells_a_little_less() -> None:
    cold, narrow = _prior(brief(), oven(checks=[{"watts_w": 1000.0, "standard_error_w": 10.0}]), "coupled_share")
    hot = [{"watts_w": 1000.0 * float(np.exp(-0.10)), "standard_error_w": 9.0, "hot": True}]
    told, wider = _prior(brief(), oven(checks=hot), "coupled_share")
    assert told == pytest.approx(cold, rel=0.02)
    assert wider > narrow
