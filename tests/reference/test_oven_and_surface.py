"""Jets, microwaves, browning and losses against published values.

Sources: Martin 1977 (array of round nozzles; formula from memory, air properties from a reference equation); spans of measured
coefficients (file); Datta & Ramaswamy 2001, Bengtsson & Risman 1971, To et al. 1974 (permittivities); Zanoni, Peri & Bruno
1995 (bread crust); Lee 2017 (texture kinetics); Food Sci Anim Resour 2018, 38:417 (ground chicken).
"""

from __future__ import annotations

import numpy as np
import pytest

from tests.reference.reading import rows
from tuner import safety
from tuner.domain import TestCook
from tuner.physics import INDEX, PARAMETERS, kinetics
from tuner.physics.cells import cells_for
from tuner.physics.convection import AREA_RANGE, SPACING_RANGE, jet_array_h, jet_array_nusselt
from tuner.physics.microwave import FREQUENCY_HZ, SPEED_OF_LIGHT, absorption, penetration_depth_mm

pytestmark = pytest.mark.reference


@pytest.mark.parametrize("row", rows("04_martin_golden.csv"), ids=lambda row: f"{row['Re']} {row['H_over_D_or_W']} {row['Ar']}")
def test_nozzle_arrays_follow_martin(row: dict[str, str]) -> None:
    nusselt = jet_array_nusselt(float(row["Re"]), float(row["H_over_D_or_W"]), float(row["Ar"]), float(row["Pr"]))
    assert nusselt == pytest.approx(float(row["Nu_mean"]), rel=1e-6)


def test_the_range_of_the_correlation_is_the_published_one() -> None:
    validity = rows("04_martin_correlations.csv")[0]["validity"]
    assert f"H/D {SPACING_RANGE[0]:g}..{SPACING_RANGE[1]:g}" in validity
    assert f"Ar {AREA_RANGE[0]:g}..{AREA_RANGE[1]:g}" in validity
    with pytest.raises(ValueError, match="H/D"):
        jet_array_nusselt(5000.0, 13.0, 0.02, 0.7)


@pytest.mark.parametrize(
    "row", rows("04_oven_like_h.csv"), ids=lambda row: f"{row['jet_velocity_m_s']} m/s {row['nozzle_diameter_m']}"
)
def test_hot_jets_heat_as_computed_from_air_properties(row: dict[str, str]) -> None:
    h = jet_array_h(float(row["jet_velocity_m_s"]), float(row["nozzle_diameter_m"]))
    assert h == pytest.approx(float(row["h_W_m2K"]), rel=0.01)


def test_the_calibrated_form_lies_in_the_measured_spans() -> None:
    spans = {row["situation"]: row for row in rows("04_heat_transfer_coefficients.csv")}
    jets = spans["hot-air impingement on flat foods, 10-40 m/s"]
    still, jet, exponent = (PARAMETERS[INDEX[name]].centre for name in ("h_still", "h_jet", "h_exponent"))
    for speed in (10.0, 20.0, 27.0, 40.0):
        h = still + jet * (speed / 8.0) ** exponent
        assert float(jets["h_low_W_m2K"]) <= h <= float(jets["h_high_W_m2K"])
    natural = spans["natural-convection domestic oven"]
    assert float(natural["h_low_W_m2K"]) <= still <= float(natural["h_high_W_m2K"])
    # Correlation and calibrated form part by no more than the prior of h_jet allows (30 % at one spread, plus still air).
    for row in rows("04_oven_like_h.csv"):
        h = still + jet * (float(row["jet_velocity_m_s"]) / 8.0) ** exponent
        assert 0.9 <= h / float(row["h_W_m2K"]) <= 1.6


@pytest.mark.parametrize(
    "row", rows("05_food_dielectric.csv"), ids=lambda row: f"{row['food']} {row['T_C']} {row['frequency_MHz']}"
)
def test_penetration_depths_are_those_of_the_permittivities(row: dict[str, str]) -> None:
    depth = penetration_depth_mm(float(row["eps_real"]), float(row["eps_loss"]), 1e6 * float(row["frequency_MHz"]))
    assert depth == pytest.approx(float(row["power_penetration_depth_mm"]), rel=1e-6)


@pytest.mark.parametrize("row", rows("05_water_debye_kaatze.csv"), ids=lambda row: row["T_C"])
def test_penetration_into_water_follows_kaatze(row: dict[str, str]) -> None:
    """Kaatze 1989, J Chem Eng Data 34:371-374, at 2 450 and 915 MHz: deeper the warmer, which the falling uptake stands for."""
    for mhz in (2450, 915):
        depth = penetration_depth_mm(float(row[f"eps_real_{mhz}MHz"]), float(row[f"eps_loss_{mhz}MHz"]), 1e6 * mhz)
        assert depth == pytest.approx(float(row[f"power_penetration_depth_mm_{mhz}MHz"]), rel=1e-6)


def test_golden_microwave_cases() -> None:
    golden = {row["case"]: float(row["value"]) for row in rows("05_microwave_golden.csv")}
    assert pytest.approx(golden["wavelength_2450MHz"], rel=1e-6) == SPEED_OF_LIGHT / FREQUENCY_HZ
    assert penetration_depth_mm(78.0, 10.0) == pytest.approx(golden["dp_78_10"], rel=1e-6)
    # Lambert's law inside the cells: one pass through 20 mm of potato leaves a tenth of the power.
    depth = 1e-3 * penetration_depth_mm(57.0, 17.0)
    assert np.exp(-0.020 / depth) == pytest.approx(golden["lambert_2cm"], rel=1e-6)
    cells = cells_for("slab", 0.020, 8)
    spread, _ = absorption(cells, 0.020, np.array([depth]), np.zeros(1))
    outer_to_inner = spread[-1, 0] / spread[0, 0]
    both = np.exp(-0.020 / depth) + np.exp(-0.020 / depth)  # the centre is reached from both sides
    assert outer_to_inner == pytest.approx((1 + np.exp(-0.040 / depth)) / both, rel=0.02)
    assert 1.0 - np.exp(-0.040 / depth) == pytest.approx(golden["lambert_absorbed_40mm"], rel=1e-6)


def test_priors_of_penetration_are_inside_the_published_depths() -> None:
    table = rows("05_food_dielectric.csv")
    thawed = [
        float(row["power_penetration_depth_mm"])
        for row in table
        if row["frequency_MHz"] == "2450" and "frozen" not in row["food"] and float(row["eps_loss"]) > 5
    ]
    centre = PARAMETERS[INDEX["penetration_depth"]].centre
    assert min(thawed) < centre < max(thawed)
    raw, frozen = (
        next(r for r in table if r["food"] == name and r["frequency_MHz"] == "2800") for name in ("beef, raw", "beef, frozen")
    )
    ratio = float(raw["power_penetration_depth_mm"]) / float(frozen["power_penetration_depth_mm"])
    attenuation = PARAMETERS[INDEX["frozen_attenuation"]]
    assert attenuation.low < ratio < attenuation.high


@pytest.mark.parametrize("row", rows("06_zanoni_golden.csv"), ids=lambda row: row["T_C"])
def test_bread_crust_browns_as_published(row: dict[str, str]) -> None:
    t = float(row["T_C"])
    assert kinetics.bread_half_colour_s(t) == pytest.approx(float(row["half_time_s"]), rel=1e-6)
    ratio = float(kinetics.arrhenius_ratio(np.array(t), kinetics.BREAD_ENERGY, 200.0))
    at_200 = next(float(r["k_1_per_s"]) for r in rows("06_zanoni_golden.csv") if r["T_C"] == "200")
    assert ratio == pytest.approx(float(row["k_1_per_s"]) / at_200, rel=1e-6)
    # First-order colour: 60 s at this temperature give the same share of the final colour difference.
    share = 1.0 - 0.5 ** (60.0 / kinetics.bread_half_colour_s(t))
    assert 52.0 * share == pytest.approx(float(row["dE_after_60s"]), rel=1e-6)


def test_the_browning_prior_spans_the_published_energies() -> None:
    published = float(rows("06_browning_kinetics.csv")[0]["Ea_kJ_mol"])
    prior = PARAMETERS[INDEX["browning_energy"]]
    assert published == kinetics.BREAD_ENERGY
    assert prior.low < published < prior.centre < 160.0


def test_arrhenius_ratio_of_the_texture_example() -> None:
    golden = float(rows("07_kinetics_golden.csv")[0]["value"])
    assert 1.0 / float(kinetics.arrhenius_ratio(np.array(90.0), 117.0, 100.0)) == pytest.approx(golden, rel=1e-6)


@pytest.mark.parametrize("row", rows("07_texture_kinetics.csv"), ids=lambda row: f"{row['food']} {row['k_100C_per_min']}")
def test_softening_speeds_up_with_temperature_as_published(row: dict[str, str]) -> None:
    """Rates at 90 and 110 °C from those at 100 °C and the activation energies (Lee 2017, table 1)."""
    energy = float(row["Ea_kJ_mol"])
    colder, hotter = kinetics.arrhenius_ratio(np.array([90.0, 110.0]), energy, 100.0)
    assert float(row["k_100C_per_min"]) * colder == pytest.approx(float(row["k_90C_per_min"]), rel=1e-6)
    assert hotter == pytest.approx(float(row["Q10_100_to_110"]), rel=1e-6)


@pytest.mark.parametrize(
    "case, minutes, ends", [("cook_value_C100", 10.0, (90.0, 90.0)), ("cook_value_ramp", 8.0, (20.0, 100.0))]
)
def test_cook_values_are_the_same_integral_with_another_z(case: str, minutes: float, ends: tuple[float, float]) -> None:
    golden = {row["case"]: float(row["value"]) for row in rows("07_kinetics_golden.csv")}
    found = safety.lethality_min([0.0, 60.0 * minutes], ends, reference_c=100.0, z_c=33.0)
    assert found == pytest.approx(golden[case], rel=1e-6)


def test_cook_loss_is_what_the_worked_example_says() -> None:
    golden = {row["case"]: float(row["value"]) for row in rows("07_kinetics_golden.csv")}
    cook = TestCook.model_validate({"program": None, "purpose": "benchmark", "mass_g": 1800, "mass_out_g": 1404})
    assert cook.cook_loss_pct == pytest.approx(golden["loss_percent"], rel=1e-6)


def test_the_width_of_the_heat_dose_lies_in_the_published_span() -> None:
    """Vegetables 16 to 49 K per decade at 100 °C; cooler and for proteins it is narrower, as z goes with T squared."""
    published = [float(row["z_C_at_100C"]) for row in rows("07_texture_kinetics.csv")]
    assert 0.5 * min(published) < kinetics.HEAT_DOSE_Z_K * (373.15 / 348.15) ** 2 < max(published)


def test_juice_is_set_free_where_proteins_shrink() -> None:
    transitions = {row["transition"]: row for row in rows("07_transition_temperatures.csv")}
    first = float(transitions["myosin and subunits"]["T_low_C"])
    last = float(transitions["actin"]["T_high_C"])
    assert first < kinetics.DRIP_MIDDLE_C < last
    ends = kinetics.drip_share(np.array([first - 15.0, last + 5.0]), 0.2, 0.75)
    whole = kinetics.DRIP_PER_PROTEIN * 0.2 + kinetics.DRIP_PER_WATER * 0.75
    assert ends[0] < 0.06 * whole
    assert ends[1] > 0.94 * whole


def test_juice_of_ground_chicken_is_within_the_published_losses() -> None:
    """6.8 % at 70 °C to 15.3 % at 85 °C without salt, a fifth of that with 2 %: the factor's prior covers both."""
    row = next(r for r in rows("07_cooking_loss.csv") if r["product"].startswith("ground chicken breast, 0 % salt"))
    published = [float(word) for word in row["cooking_loss_percent"].split("(")[0].split("/")]
    modelled = 100 * kinetics.drip_share(np.array([70.0, 75.0, 80.0, 85.0]), 0.22, 0.74)
    assert np.all(np.diff(modelled) > 0)
    prior = PARAMETERS[INDEX["drip_factor"]]
    for seen, model in zip(published, modelled, strict=True):
        assert prior.low < seen / model < prior.high
