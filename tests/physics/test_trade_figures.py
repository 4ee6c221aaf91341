"""The forecasts against the trade's figures, as ranges (common practice and hand calculations, no single source)."""

from __future__ import annotations

import numpy as np
import pytest

from tests.physics.dishes import USUAL, brief, oven, program
from tuner.domain import Program
from tuner.physics import crust_clock_s, duration_bounds_s, energy_balance, energy_by_hand, portion_model, score_from_latent
from tuner.physics.food import food_of
from tuner.physics.microwave import coupling

MODEL = portion_model(brief(), oven())
STAGES = tuple((stage.share_pct, stage.air_speed_pct, stage.microwave_pct) for stage in USUAL.stages)


def _cooked(of: Program = USUAL, mass: float = 180.0, start: float = 4.0, rest: float = 60.0) -> np.ndarray:
    """Core [°C], three scores, loss [%]."""
    found = MODEL.predict([of], mass_g=mass, start_temperature_c=start, theta=MODEL.prior_mean, rest_s=rest)[0]
    return np.concatenate([found[:1], score_from_latent(found[1:4]), found[4:]])


BASE = _cooked()


def _dosed(factor: float) -> Program:
    return program(250, 240, *((share, air, level * factor) for share, air, level in STAGES))


def test_the_usual_program_cooks_the_usual_dish() -> None:
    assert 74.0 < BASE[0] < 88.0
    assert 9.0 < BASE[4] < 20.0


def test_a_tenth_more_mass_at_the_same_watts_costs_four_to_six_degrees() -> None:
    same_watts = float(coupling(np.array(180.0)) / coupling(np.array(198.0)))
    assert -6.0 <= _cooked(_dosed(same_watts), mass=198.0)[0] - BASE[0] <= -3.5


def test_a_degree_warmer_at_the_start_is_most_of_a_degree_at_the_end() -> None:
    assert 0.6 <= _cooked(start=5.0)[0] - BASE[0] <= 0.9


def test_five_degrees_take_seven_to_nine_percent_more_dose() -> None:
    assert 3.5 <= _cooked(_dosed(1.08))[0] - BASE[0] <= 6.0
    assert -6.5 <= _cooked(_dosed(0.92))[0] - BASE[0] <= -3.5


def test_more_dose_costs_half_a_point_to_a_point_of_loss() -> None:
    assert 0.2 <= _cooked(_dosed(1.08))[4] - BASE[4] <= 1.2


def test_longer_and_shorter_programs_move_the_core_as_known() -> None:
    """8-10 % longer is 5 °C up, 7 % shorter 5 °C down."""
    assert 3.5 <= _cooked(program(250, 240 * 1.09, *STAGES))[0] - BASE[0] <= 7.0
    assert -6.5 <= _cooked(program(250, 240 * 0.93, *STAGES))[0] - BASE[0] <= -3.5


def test_late_microwave_that_is_not_moved_forward_is_missed_in_the_core() -> None:
    without = program(250, 240, *STAGES[:2], (25, 85, 0))
    assert -6.5 <= _cooked(without)[0] - BASE[0] <= -2.5


def test_late_air_browns_and_hardly_moves_the_core() -> None:
    airier = _cooked(program(250, 240, *STAGES[:2], (25, 98, 10))) - BASE
    assert airier[1] > 0.03
    assert abs(airier[0]) < 1.0
    longer = _cooked(program(250, 253, (100 - 73 / 2.53 - 84 / 2.53, 30, 62), (84 / 2.53, 60, 20), (73 / 2.53, 85, 10))) - BASE
    assert longer[1] > 0.08


def test_the_core_goes_on_rising_in_the_rest() -> None:
    """Carry-over of 20-40 mm portions: 3-10 °C in 60-120 s, less where the surface evaporates."""
    assert 1.0 <= _cooked(rest=90.0)[0] - _cooked(rest=0.0)[0] <= 10.0


def test_microwave_brings_most_of_the_heat_of_the_core() -> None:
    """About 0.9 at 28 mm, less in thin portions."""
    shares = []
    for thickness in (15, 22, 28, 35):
        dish = brief(portion={"thickness_mm": thickness})
        model = portion_model(dish, oven())
        cores = model.predict([USUAL, _dosed(0.0)], mass_g=180, start_temperature_c=4, theta=model.prior_mean, rest_s=60)[:, 0]
        shares.append((cores[0] - cores[1]) / (cores[0] - 4.0))
    assert shares == sorted(shares)
    assert 0.65 < shares[2] < 0.95


def test_energy_to_heat_meat_is_the_known_one() -> None:
    """Lean meat, 72 % water: 245 kJ/kg from 4 to 74 °C, 507 from -18 °C (Chang & Tao); tempering to -5 °C saves 14 %."""
    food = food_of(brief(portion={"water": 0.72, "fat": 0.05, "protein": 0.21, "carbohydrate": 0.0, "ash": 0.01}).portion)
    assert energy_by_hand(food, 4.0, 74.0) == pytest.approx(245e3, rel=0.03)
    from_frozen = energy_by_hand(food, -18.0, 74.0)
    assert from_frozen == pytest.approx(507e3, rel=0.03)
    assert 0.08 < 1.0 - energy_by_hand(food, -5.0, 74.0) / from_frozen < 0.18
    # 1 % of mass evaporated costs as much as 6.4 K.
    assert energy_by_hand(food, 4.0, 74.0, 0.01) == pytest.approx(energy_by_hand(food, 4.0, 80.4), rel=0.01)


@pytest.mark.parametrize("h, seconds", [(20.0, 212.0), (60.0, 71.0), (100.0, 42.0), (150.0, 28.0)])
def test_the_crust_clock_runs_as_known(h: float, seconds: float) -> None:
    assert crust_clock_s(h, 260.0) == pytest.approx(seconds, abs=1.0)


def test_a_skin_is_dry_about_when_the_crust_clock_says() -> None:
    """Full air, no microwave: between one and five times the clock, which knows convection alone, the front has left 0.3 kg/m2."""
    with pytest.raises(ValueError, match="hotter"):
        crust_clock_s(60.0, 95.0)
    h = 14 + 53 * (22 / 8) ** 0.65
    clock = crust_clock_s(h, 242.0)
    doses = [
        MODEL.predict([program(250, clock * times, (100, 100, 0))], mass_g=180, start_temperature_c=4, theta=MODEL.prior_mean)[
            0, 1
        ]
        for times in (1, 5)
    ]
    assert score_from_latent(doses[0]) < 1.3
    assert score_from_latent(doses[1]) > 1.5


def test_no_program_is_faster_than_the_bounds() -> None:
    energy_s, crust_s = duration_bounds_s(MODEL, 79.0, mass_g=180, start_c=4, air_c=250)
    assert 45 < energy_s < 150
    assert 10 < crust_clock_s(115.0, 242.0) < 60 < crust_s < 240
    flat_out = program(250, 0.75 * energy_s, (100, 100, 100))
    found = MODEL.predict([flat_out], mass_g=180, start_temperature_c=4, theta=MODEL.prior_mean)
    assert found[0, 0] < 79.0
    assert duration_bounds_s(MODEL, 79.0, mass_g=180, start_c=4, air_c=60)[1] == float("inf")
    frozen = duration_bounds_s(MODEL, 79.0, mass_g=180, start_c=-18, air_c=250)[0]
    assert 1.5 < frozen / energy_s < 2.4


def test_the_hand_balance_is_the_simulators() -> None:
    """Mean temperature and evaporation of a simulated cook, priced by hand, are what microwave and air delivered."""
    balance = energy_balance(MODEL, [USUAL], mass_g=180, start_temperature_c=4, theta=MODEL.prior_mean)
    end_c = 4.0 + float(balance.heating[0]) / MODEL.body.food.specific_heat
    by_hand = energy_by_hand(MODEL.body.food, 4.0, end_c, float(balance.evaporation[0]) / 2.257e6)
    assert by_hand == pytest.approx(float((balance.microwave + balance.air)[0]), rel=0.01)
    assert 60.0 < end_c < 100.0
