"""Published food-safety values against the shipped limits and the lethality integral.

Sources: USDA FSIS Appendix A (1999; 2021), USDA FSIS time-temperature tables for poultry (2005), US FDA Food Code, USDA safe
minimum internal temperature chart, closed forms. Rows marked `from memory` in the data bind only as far as order.
"""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest

from tests.reference.reading import rows
from tuner import safety

pytestmark = pytest.mark.reference
TABLES = {row.code: row for row in safety.SHIPPED_LIMITS if row.table}


def _by_fahrenheit(code: str) -> dict[int, float]:
    return {round(celsius * 1.8 + 32): hold for celsius, hold in TABLES[code].table}


@pytest.mark.parametrize("code, column", [("us-meat-6.5-log", "hold_6p5log_s"), ("us-meat-7-log", "hold_7log_s")])
def test_the_meat_tables_are_those_of_appendix_a(code: str, column: str) -> None:
    published = {int(row["temp_F"]): float(row[column]) for row in rows("01_fsis_meat_time_temperature.csv")}
    assert _by_fahrenheit(code) == published
    exact = {int(row["temp_F"]): float(row["temp_C_exact"]) for row in rows("01_fsis_meat_time_temperature.csv")}
    for celsius, _ in TABLES[code].table:
        assert celsius == pytest.approx(exact[round(celsius * 1.8 + 32)], abs=1e-4)


def test_the_roast_table_is_that_of_the_food_code() -> None:
    published = {int(row["temp_F"]): float(row["hold_s"]) for row in rows("01_food_code_roast_table.csv")}
    assert _by_fahrenheit("us-roast-table") == published


@pytest.mark.parametrize("row", rows("01_fsis_meat_z_fit.csv"), ids=lambda row: f"{row['column']} {row['rows_used']}")
def test_z_of_the_meat_tables_is_the_slope_of_their_own_rows(row: dict[str, str]) -> None:
    """Our least-squares line of log10(time) on exact °C, through all rows, the minute rows, and the second rows."""
    shipped = TABLES[f"us-meat-{row['column'].replace('log', '-log')}"]
    first, last = (int(part) for part in row["rows_used"].split()[-1].rstrip("F").split("-"))
    pairs = np.array([pair for pair in shipped.table if pair[1] > 0 and first <= round(pair[0] * 1.8 + 32) <= last])
    slope, offset = np.polyfit(pairs[:, 0], np.log10(pairs[:, 1]), 1)
    assert len(pairs) == int(row["n_rows"])
    assert -1 / slope == pytest.approx(float(row["z_C"]), abs=1e-5)
    assert 10 ** (offset + slope * 60) / 60 == pytest.approx(float(row["hold_at_60C_min"]), rel=1e-5)
    if row["rows_used"].startswith("all"):
        assert shipped.z_c == pytest.approx(float(row["z_C"]), abs=0.05)


@pytest.mark.parametrize(
    "code, species, fat",
    [
        ("us-chicken-lean", "chicken", "1"),
        ("us-chicken-fat", "chicken", "12"),
        ("us-turkey-lean", "turkey", "1"),
        ("us-turkey-fat", "turkey", "12"),
    ],
)
def test_the_poultry_tables_hold_the_verified_rows_and_keep_their_order(code: str, species: str, fat: str) -> None:
    shipped = _by_fahrenheit(code)
    for row in rows("01_fsis_poultry_7log.csv"):
        if row["species"] == species and row["fat_percent"] == fat and row["status"].startswith("verified"):
            assert shipped[int(row["temp_F"])] == float(row["hold_7log_s"])
    assert all(later <= earlier for earlier, later in pairwise(shipped.values()))


def test_poultry_needs_far_longer_than_the_meat_table_says() -> None:
    assert _by_fahrenheit("us-chicken-lean")[140] == 1512  # 25.2 min
    assert _by_fahrenheit("us-meat-7-log")[140] == 720


# Holding hot or cold is no end of cooking, so no limit row carries it.
COOKING = [row for row in rows("01_food_code_rules.csv") if not row["section"].startswith("3-501.16")]


@pytest.mark.parametrize("row", COOKING, ids=lambda row: f"{row['section']} {row['min_temp_C']} {row['hold_s']}")
def test_every_cooking_rule_of_the_food_code_is_shipped(row: dict[str, str]) -> None:
    found = [
        shipped
        for shipped in safety.SHIPPED_LIMITS
        if shipped.rule == f"Food Code {row['section']}"
        and shipped.core_temperature_c == float(row["min_temp_C"])
        and shipped.hold_s == float(row["hold_s"])
    ]
    assert len(found) == 1
    assert found[0].core_temperature_c == pytest.approx((float(row["min_temp_F"]) - 32) / 1.8, abs=0.7)
    if "from memory" in row["status"] and "17 s since" in row["applies_to"]:
        assert found[0].seen == "from memory"


def test_the_microwave_rule_is_four_conditions_together() -> None:
    raw = next(row for row in safety.SHIPPED_LIMITS if row.rule == "Food Code 3-401.12")
    assert (raw.core_temperature_c, raw.rest_s, raw.covered, raw.moved) == (74, 120, True, True)


# Ham is left out: no food class of its own.
HOME = [row for row in rows("01_consumer_minimum_temperatures.csv") if not row["food"].startswith("ham")]


@pytest.mark.parametrize("row", HOME, ids=lambda row: row["food"])
def test_advice_for_homes_is_shipped_as_printed(row: dict[str, str]) -> None:
    shipped = [(item.core_temperature_c, item.rest_s) for item in safety.SHIPPED_LIMITS if item.code.startswith("us-home")]
    wanted = ((float(row["min_temp_F"]) - 32) / 1.8, float(row["rest_s"]))
    assert any(pair == pytest.approx(wanted) for pair in shipped)


def _golden(case: str) -> float:
    return float(next(row["value"] for row in rows("01_lethality_golden.csv") if row["case"] == case))


def _minutes(times_min: list[float], temperatures_c: list[float], reference_c: float, z_c: float) -> float:
    return safety.lethality_min(np.array(times_min) * 60, temperatures_c, reference_c=reference_c, z_c=z_c)


LETHALITY = [
    ("const_at_ref", [0, 12], [60, 60], 60, 6, 2),
    ("const_above_ref", [0, 1], [66, 66], 60, 6, 2),
    ("const_below_ref", [0, 70], [54, 54], 60, 6, 2),
    ("ramp_20_70", [0, 10], [20, 70], 60, 6, 2),
    ("ramp_20_70_F", [0, 10], [20, 70], 60, 6, 1),
    ("ramp_4_74_z10F", [0, 10], [4, 74], 60, 5.5556, 12 / 7),
    ("ramp_hold_cool", [0, 14.5, 17.5, 23.5], [4, 62, 62, 50], 60, 6, 2),
    ("piecewise_linear_exact", [0, 1, 2, 3, 4, 5, 6], [40, 50, 58, 64, 68, 70, 70], 70, 10, 1),
    ("F0_sterilisation", [0, 10], [115, 115], 121.1, 10, 1),
]


@pytest.mark.parametrize("case, times, temperatures, reference, z, d", LETHALITY, ids=[row[0] for row in LETHALITY])
def test_lethality_agrees_with_the_closed_forms(
    case: str, times: list[float], temperatures: list[float], reference: float, z: float, d: float
) -> None:
    assert _minutes(times, temperatures, reference, z) / d == pytest.approx(_golden(case), rel=1e-6)


def test_a_curved_trace_converges_to_its_integral() -> None:
    times = np.linspace(0, 8, 8001)
    found = _minutes(list(times), list(95 - 90 * np.exp(-times / 4)), 70, 7.5)
    assert found == pytest.approx(_golden("newton_heating"), rel=1e-6)


def test_the_trapezoid_of_the_rate_is_another_and_larger_number() -> None:
    exact = _minutes([0, 1, 2, 3, 4, 5, 6], [40, 50, 58, 64, 68, 70, 70], 70, 10)
    assert exact < 0.98 * _golden("trapezoid_logger")


@pytest.mark.parametrize("temperature_c", [60, 65, 70, 75, 80])
def test_two_minutes_at_70_are_worth_the_published_holds(temperature_c: int) -> None:
    hold_min = _golden(f"P70_2min_eq_{temperature_c}")
    assert _minutes([0, hold_min], [temperature_c] * 2, 70, 7.5) == pytest.approx(2.0, rel=1e-6)


def test_74_degrees_for_15_s_is_not_the_same_as_70_degrees_for_2_minutes() -> None:
    # 0.43 of it at z 7.5 and 0.58 at z 6 (arithmetic of the definition).
    assert _minutes([0, 0.25], [74, 74], 70, 7.5) / 2 == pytest.approx(0.43, abs=0.005)
    assert _minutes([0, 0.25], [74, 74], 70, 6) / 2 == pytest.approx(0.58, abs=0.005)
