"""Thermal properties of food against published coefficients, mixtures and enthalpies.

Sources: Choi & Okos 1986 and ASHRAE Handbook Refrigeration, Thermal Properties of Foods (coefficients checked over several
transcriptions); ASHRAE Refrigeration 2006 chapter 9 table 3 (foods); Chen 1985 (ice and enthalpy). Water's specific heat is
the 4.1762 variant of the original, which is nearer to real water than the handbook's 4.1289.
"""

from __future__ import annotations

import re

import pytest

from tests.reference.reading import rows
from tuner.domain import Portion
from tuner.physics import choi_okos, freezing
from tuner.physics.food import food_of

pytestmark = pytest.mark.reference
COMPONENTS = ("protein", "fat", "carbohydrate", "fibre", "ash", "water", "ice")
PROPERTIES = {
    "thermal_conductivity": (choi_okos.CONDUCTIVITY, 1.0),
    "density": (choi_okos.DENSITY, 1.0),
    "specific_heat": (choi_okos.SPECIFIC_HEAT, 1e3),
}
COEFFICIENTS = {(row["component"], row["property"]): row for row in rows("02_choi_okos_coefficients.csv")}
MIXTURES = rows("02_mixture_golden.csv")
VEGETABLES = rows("02_food_freezing_table.csv")


@pytest.mark.parametrize("name", PROPERTIES)
@pytest.mark.parametrize("component", COMPONENTS)
def test_the_coefficients_are_the_published_ones(name: str, component: str) -> None:
    table, unit = PROPERTIES[name]
    water = component == "water" and name == "specific_heat"
    row = COEFFICIENTS["water_original_1986_variant" if water else component, name]
    published = [float(row[column]) * unit for column in ("c0", "c1_per_C", "c2_per_C2")]
    assert table[component] == pytest.approx(published, rel=1e-12)


@pytest.mark.parametrize("row", rows("02_choi_okos_values.csv"), ids=lambda row: f"{row['component']} {row['T_C']}")
def test_the_polynomials_give_the_published_values(row: dict[str, str]) -> None:
    component, t = row["component"], float(row["T_C"])
    assert choi_okos.component_conductivity(component, t) == pytest.approx(float(row["k_W_mK"]), rel=1e-6)
    assert choi_okos.component_density(component, t) == pytest.approx(float(row["rho_kg_m3"]), rel=1e-6)
    # The table of values holds water's other constant, 47.3 J/(kg K) lower.
    other = 4176.2 - 4128.9 if component == "water" else 0.0
    assert choi_okos.component_specific_heat(component, t) - other == pytest.approx(1e3 * float(row["cp_kJ_kgK"]), rel=1e-6)


@pytest.mark.parametrize("component", COMPONENTS)
def test_diffusivity_from_the_three_properties_agrees_with_the_fitted_one(component: str) -> None:
    t = -20.0 if component == "ice" else 20.0
    row = COEFFICIENTS[component, "thermal_diffusivity"]
    fitted = float(row["c0"]) + float(row["c1_per_C"]) * t + float(row["c2_per_C2"]) * t * t
    k, rho = choi_okos.component_conductivity(component, t), choi_okos.component_density(component, t)
    assert k / (rho * choi_okos.component_specific_heat(component, t)) == pytest.approx(fitted, rel=0.05)


@pytest.mark.parametrize("row", MIXTURES, ids=lambda row: f"{row['mixture']} {row['T_C']}")
def test_mixtures_follow_the_published_rules(row: dict[str, str]) -> None:
    fractions = {name: float(row[f"x_{name}"]) for name in COMPONENTS if name != "ice"}
    t = float(row["T_C"])
    assert choi_okos.mixture_density(fractions, t) == pytest.approx(float(row["rho_kg_m3"]), rel=1e-6)
    published = 1e3 * float(row["cp_water_4p1762_kJ_kgK"])
    assert choi_okos.mixture_specific_heat(fractions, t) == pytest.approx(published, rel=1e-6)
    parallel, series = choi_okos.mixture_conductivity(fractions, t)
    assert parallel == pytest.approx(float(row["k_parallel_W_mK"]), rel=1e-6)
    assert series == pytest.approx(float(row["k_series_W_mK"]), rel=1e-6)


def _golden(quantity: str, inputs: str) -> float:
    found = [row for row in rows("02_ice_enthalpy_golden.csv") if row["quantity"] == quantity and inputs in row["inputs"]]
    return float(found[0]["value"])


def test_ice_fraction_is_that_of_chen() -> None:
    freezable = freezing.freezable_water(0.58, 0.175)
    assert freezing.ice_fraction(freezable, -1.7, -20.0) == pytest.approx(_golden("ice_fraction_chen", "-20"), rel=1e-6)


def test_enthalpy_below_freezing_is_that_of_chen() -> None:
    """The published values count from -40 °C."""
    freezable, solids = freezing.freezable_water(0.58, 0.175), 0.42
    at_20 = freezing.frozen_enthalpy(freezable, solids, -1.7, -20.0)
    at_40 = freezing.frozen_enthalpy(freezable, solids, -1.7, -40.0)
    assert (at_20 - at_40) / 1e3 == pytest.approx(_golden("enthalpy_frozen", "-20"), rel=1e-6)
    assert -at_40 / 1e3 == pytest.approx(_golden("enthalpy_at_freezing_point", "t_f"), rel=1e-6)


@pytest.mark.parametrize("t", [-20.0, -5.0])
def test_apparent_heat_of_frozen_food_is_that_of_chen(t: float) -> None:
    freezable = freezing.freezable_water(0.58, 0.175)
    apparent = freezing.apparent_specific_heat(freezable, 0.42, -1.7, t) / 1e3
    assert apparent == pytest.approx(_golden("cp_frozen_apparent", f"t {t:g} C"), rel=1e-6)


def _vegetable(row: dict[str, str]) -> Portion:
    part = {name: float(row[f"{name}_pct"]) / 100 for name in ("water", "protein", "fat", "fibre", "ash")}
    part["carbohydrate"] = float(row["carbohydrate_total_pct"]) / 100 - part["fibre"]
    return Portion(mass_g=100, shape="loose", thickness_mm=10, start_state="chilled", start_temperature_c=4, **part)


@pytest.mark.parametrize("row", VEGETABLES, ids=lambda row: row["food"])
def test_published_foods_are_met_in_range(row: dict[str, str]) -> None:
    """Latent heat of the table is 334 kJ/kg x water; freezing points and heat are ranges, from composition alone."""
    food = food_of(_vegetable(row))
    printed = float(row["latent_heat_kJ_kg"])
    assert freezing.LATENT_HEAT_ICE * float(row["water_pct"]) / 1e5 == pytest.approx(printed, abs=1.2)
    assert food.freezing_point_c == pytest.approx(float(row["initial_freezing_point_C"]), abs=1.1)
    assert food.specific_heat / 1e3 == pytest.approx(float(row["cp_above_freezing_kJ_kgK"]), rel=0.03)


def test_the_table_is_of_food_as_it_is_read() -> None:
    assert all(re.fullmatch(r"[a-z ]+", row["food"]) for row in VEGETABLES)
    assert len(VEGETABLES) == 14
