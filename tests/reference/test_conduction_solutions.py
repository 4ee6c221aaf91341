"""The conduction cells against series solutions, textbook examples and Plank's thawing times.

Sources: Incropera et al., Fundamentals of Heat and Mass Transfer, table 5.1; Cengel & Ghajar, table 4-2 and examples 4-3 to
4-5 (recomputed from 50-term series; a one-term solution is off by up to 0.0145 at Fo 0.2, so the full series is compared);
closed form of the semi-infinite body; Plank's equation as in Singh & Heldman and in Earle.
"""

from __future__ import annotations

from typing import Literal

import numpy as np
import pytest

from tests.reference.heating import Body, food
from tests.reference.reading import rows

pytestmark = pytest.mark.reference
SHAPES: dict[str, Literal["slab", "cylinder", "sphere"]] = {"wall": "slab", "cylinder": "cylinder", "sphere": "sphere"}
SERIES = rows("03_series_golden.csv")
EXAMPLES = {row["case"]: row for row in rows("03_worked_examples.csv")}


def _cases() -> list[tuple[str, float, float]]:
    return sorted({(row["geometry"], float(row["Bi"]), float(row["Fo"])) for row in SERIES})


@pytest.mark.parametrize("case", _cases(), ids=str)
def test_the_cells_follow_the_series_solution(case: tuple[str, float, float]) -> None:
    """Half thickness 14 mm, cells cut four-fold, 200 steps: within 0.004 of the whole temperature difference."""
    geometry, biot, fourier = case
    half, stuff = 0.014, food(conductivity=0.5, diffusivity=1.3e-7)
    body = Body(SHAPES[geometry], half, stuff, biot * stuff.conductivity / half, 1.0, 0.0)
    body.after(fourier * half**2 / 1.3e-7, 200)
    for row in SERIES:
        if (row["geometry"], float(row["Bi"]), float(row["Fo"])) == case:
            theta = 1.0 - body.at(float(row["x_over_L"]))
            assert theta == pytest.approx(float(row["theta_full_series_50_terms"]), abs=0.004)


def test_the_cells_as_used_are_close_enough_to_the_series_for_a_cook() -> None:
    """6 cells and 20 steps, as a program is cooked: the centre within 1.5 % of the whole difference, about 1 K of 70."""
    half, stuff = 0.014, food(conductivity=0.5, diffusivity=1.3e-7)
    body = Body("slab", half, stuff, stuff.conductivity / half, 1.0, 0.0, refine=1)
    body.after(0.2 * half**2 / 1.3e-7, 20)
    row = next(r for r in SERIES if (r["geometry"], r["Bi"], r["Fo"], r["x_over_L"]) == ("wall", "1.0", "0.2", "0.0"))
    assert 1.0 - body.at(0.0) == pytest.approx(float(row["theta_full_series_50_terms"]), abs=0.015)


@pytest.mark.parametrize("row", rows("03_one_term_coefficients.csv"), ids=lambda row: row["Bi"])
@pytest.mark.parametrize("geometry", SHAPES)
def test_late_cooling_falls_at_the_rate_of_the_first_eigenvalue(row: dict[str, str], geometry: str) -> None:
    biot, half, stuff = float(row["Bi"]), 0.014, food(conductivity=0.5, diffusivity=1.3e-7)
    zeta, first = float(row[f"zeta1_{geometry}"]), float(row[f"C1_{geometry}"])
    late = max(1.0 / zeta**2, 0.35)  # from here on the first term stands alone
    body = Body(SHAPES[geometry], half, stuff, biot * stuff.conductivity / half, 0.0, 1.0)
    body.after(late * half**2 / 1.3e-7, 400)
    assert body.at(0.0) == pytest.approx(first * np.exp(-(zeta**2) * late), rel=0.02)


def test_a_boiled_egg_is_done_when_the_textbook_says() -> None:
    row = EXAMPLES["egg_boil_time"]
    body = Body("sphere", 0.025, food(conductivity=0.627, diffusivity=0.151e-6), 1200.0, 95.0, 5.0)
    body.begin(1.0)
    seconds = 0
    while body.at(0.0) < 70.0:
        body.step()
        seconds += 1
    assert seconds == pytest.approx(float(row["value"]), rel=0.01)
    assert seconds == pytest.approx(float(row["printed_value"]), rel=0.02)


def test_metal_examples_come_out_too() -> None:
    plate = Body("slab", 0.02, food(conductivity=110.0, diffusivity=33.9e-6), 120.0, 500.0, 20.0)
    plate.after(420.0, 1000)
    assert plate.at(1.0) == pytest.approx(float(EXAMPLES["brass_plate_surface"]["value"]), rel=0.005)
    shaft = Body("cylinder", 0.10, food(conductivity=14.9, diffusivity=3.95e-6), 80.0, 200.0, 600.0)
    shaft.after(2700.0, 1000)
    assert shaft.at(0.0) == pytest.approx(float(EXAMPLES["steel_shaft_centre"]["value"]), rel=0.005)


def test_a_thick_slab_behaves_as_a_half_space_at_first() -> None:
    half = 0.06
    body = Body("slab", half, food(conductivity=0.5, diffusivity=1.35e-7), 100.0, 260.0, 5.0, refine=10)
    body.after(60.0, 600)
    for row in rows("03_worked_examples.csv"):
        if row["case"] == "semi_inf_convection":
            depth = float(row["inputs"].split(" x ")[1].split(" m")[0])
            assert body.at(1.0 - depth / half) == pytest.approx(float(row["value"]), abs=1.0)


@pytest.mark.parametrize(
    "case, shape, size, h, k, density, latent, warmer",
    [
        ("plank_cylinder_thaw_like", "cylinder", 0.05, 30.0, 0.5, 1050.0, 230e3, 25.0),
        ("plank_slab_plates", "slab", 0.10, 600.0, 1.6, 1090.0, 256e3, 32.0),
        ("plank_sphere", "sphere", 0.07, 50.0, 1.2, 1000.0, 250e3, 38.75),
    ],
)
def test_thawing_takes_the_time_of_plank(
    case: str, shape: Literal["slab", "cylinder", "sphere"], size: float, h: float, k: float, density: float, latent: float,
    warmer: float,
) -> None:  # fmt: skip
    """Plank's equation knows latent heat only, so its examples are run in air 1 K warmer than the ice, where nothing else counts.

    Times are then as many times longer as the example's difference is larger. The examples that freeze are run backwards as
    thawing with the same numbers; the equation is the same. The freezing point is next to 0 °C, where Chen's enthalpy
    melts all ice at one temperature as Plank's does.
    """
    stuff = food(
        conductivity=k, diffusivity=k / (density * 3600.0), density=density, freezing_point_c=-1e-4, freezable=latent / 333.6e3
    )
    body = Body(shape, size / 2, stuff, h, 1.0, -0.01, refine=2, ice=True)
    expected = float(EXAMPLES[case]["value"]) * warmer
    seconds, dt = 0.0, expected / 500
    body.begin(dt)
    while body.cells.temperature[0, 0] < 0.0:
        body.step()
        seconds += dt
    assert seconds == pytest.approx(expected, rel=0.02)
