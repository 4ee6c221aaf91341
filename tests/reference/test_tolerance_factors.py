"""Tolerance factors, success runs and intervals against published and recomputed tables.

Sources: NIST/SEMATECH e-Handbook of Statistical Methods 7.2.6.3; ISO 16269-6. Printed factors are from memory; all were
recomputed from the non-central t and a double integral.
"""

from __future__ import annotations

import numpy as np
import pytest

from tests.reference.reading import rows
from tuner import proof
from tuner.proof.capability import capability_of
from tuner.proof.shares import share_interval
from tuner.proof.tolerance import (
    distribution_free_cooks,
    distribution_free_lower_limit,
    lower_limit,
    two_sided_limits,
)

pytestmark = pytest.mark.reference
FACTORS = rows("08_tolerance_factors.csv")
GOLDEN = {row["case"]: float(row["value"]) for row in rows("08_statistics_golden.csv")}
GOLDEN_OF = {
    topic: {row["case"]: float(row["value"]) for row in rows("08_statistics_golden.csv") if row["topic"] == topic}
    for topic in ("wilson_95",)
}


@pytest.mark.parametrize("row", FACTORS, ids=lambda row: f"{row['n']}-{row['coverage_p']}-{row['confidence']}")
def test_both_factors_are_the_exact_ones(row: dict[str, str]) -> None:
    case = (int(row["n"]), float(row["coverage_p"]), float(row["confidence"]))
    assert proof.tolerance_factor(*case) == pytest.approx(float(row["k1_one_sided_exact"]), abs=1e-4)
    assert proof.tolerance_factor(*case, two_sided=True) == pytest.approx(float(row["k2_two_sided_exact"]), abs=1e-4)
    for printed, two_sided in ((row["k1_printed_from_memory"], False), (row["k2_printed_from_memory"], True)):
        if printed:
            assert proof.tolerance_factor(*case, two_sided=two_sided) == pytest.approx(float(printed), abs=5e-4)


def test_the_exact_factor_of_the_handbook_example_is_not_its_approximation() -> None:
    golden = {row["case"]: float(row["value"]) for row in rows("08_statistics_golden.csv") if row["topic"] == "tolerance"}
    exact = proof.tolerance_factor(43, 0.90, 0.99)
    assert exact == pytest.approx(golden["same, exact non-central t"], rel=1e-6)
    assert abs(exact - golden["NIST 7.2.6.3 k1 (Natrella approx), same"]) > 1e-3


@pytest.mark.parametrize("row", [row for row in rows("08_statistics_golden.csv") if row["topic"] == "success_run"], ids=str)
def test_success_runs_accept_what_they_should_not_no_more_often_than_stated(row: dict[str, str]) -> None:
    reliability, confidence = (float(word) for word in row["case"].replace(",", "").split() if word.replace(".", "").isdigit())
    cooks = int(float(row["value"]))
    assert proof.NoneBelowRule(cooks).chance_to_accept(1 - reliability) <= 1 - confidence + 1e-12
    assert proof.NoneBelowRule(cooks - 1).chance_to_accept(1 - reliability) > 1 - confidence


def test_factors_of_further_attempts_grow_as_their_confidence_does() -> None:
    # 15 cooks: 95, 97.5 and 98.75 % confidence; 10 cooks: the same (90 % coverage). Computed with the same distribution.
    assert [round(proof.tolerance_factor(15, 0.95, level), 3) for level in (0.95, 0.975, 0.9875)] == [2.566, 2.797, 3.028]
    assert [round(proof.tolerance_factor(10, 0.90, level), 3) for level in (0.95, 0.975, 0.9875)] == [2.355, 2.647, 2.948]


# NIST/SEMATECH e-Handbook 7.2.6.3: 43 wafers with mean 97.07 and s 0.0268; coverage 0.90, confidence 0.99. The printed limits
# use approximate factors, so ours must differ from them by no more than the factors do.
def test_limits_of_the_handbook_example() -> None:
    sample = np.random.default_rng(1).normal(size=43)
    sample = 97.07 + 0.0268 * (sample - sample.mean()) / sample.std(ddof=1)
    upper = -lower_limit(-sample, 0.90, 0.99).low
    assert upper == pytest.approx(GOLDEN["same, upper one-sided limit, mean 97.07, s 0.0268"], abs=0.0268 * 0.002)
    assert upper == pytest.approx(97.07 + 0.0268 * GOLDEN["same, exact non-central t"], abs=1e-8)
    both = two_sided_limits(sample, 0.90, 0.99)
    assert both.low == pytest.approx(GOLDEN["same, two-sided lower limit"], abs=0.0268 * 0.006)
    assert both.high == pytest.approx(GOLDEN["same, two-sided upper limit"], abs=0.0268 * 0.006)


@pytest.mark.parametrize("row", [row for row in rows("08_statistics_golden.csv") if row["topic"] == "success_run"], ids=str)
def test_cooks_without_failure_that_show_a_share(row: dict[str, str]) -> None:
    share, confidence = (float(word) for word in row["case"].replace(",", "").split() if word.replace(".", "").isdigit())
    cooks = distribution_free_cooks(share, confidence)
    assert cooks == int(float(row["value"]))
    values = list(range(cooks))
    limit = distribution_free_lower_limit(values, share, confidence)
    assert limit is not None
    assert limit.low == 0
    assert distribution_free_lower_limit(values[:-1], share, confidence) is None


@pytest.mark.parametrize(
    "row", [row for row in rows("08_statistics_golden.csv") if row["topic"] == "clopper_pearson_95"], ids=str
)
def test_exact_intervals(row: dict[str, str]) -> None:
    _, counted, _, of, end = row["case"].split()
    found = share_interval(int(counted), int(of))
    assert getattr(found, {"lower": "low", "upper": "high"}[end]) == pytest.approx(float(row["value"]), abs=1e-9)


def test_one_sided_and_wilson_intervals() -> None:
    assert share_interval(59, 59, one_sided=True).low == pytest.approx(GOLDEN["x 59 n 59 lower = 0.05^(1/59)"], rel=1e-9)
    wilson = share_interval(5, 10, method="wilson")
    assert wilson.low == pytest.approx(GOLDEN_OF["wilson_95"]["x 5 n 10 lower"], rel=1e-9)
    assert wilson.high == pytest.approx(GOLDEN_OF["wilson_95"]["x 5 n 10 upper"], rel=1e-9)
    thirty = GOLDEN["x 0 n 30, one-sided 95 % upper = 1-0.05^(1/30)"]
    assert 1 - share_interval(30, 30, one_sided=True).low == pytest.approx(thirty, rel=1e-9)


def test_capability_of_the_handbook_example() -> None:
    # NIST/SEMATECH e-Handbook 6.1.6: edges 8 and 20, mean 16, s 2.
    found = capability_of(16, 2, 50, 8, 20)
    example = "NIST 6.1.6: USL 20, LSL 8, mean 16, s 2: "
    assert found.pp == pytest.approx(GOLDEN[example + "Cp"])
    assert found.ppk == pytest.approx(GOLDEN[example + "Cpk"])
    assert capability_of(16, 2, 50, 8, None).ppk == pytest.approx(GOLDEN[example + "Cpl"])
    assert capability_of(16, 2, 50, None, 20).ppk == pytest.approx(GOLDEN[example + "Cpu"])
    assert found.share_outside == pytest.approx(GOLDEN["fraction out of limits, normal"], rel=1e-6)


@pytest.mark.parametrize("cooks, point", [(30, 1.30), (15, 1.48)])
def test_the_point_value_that_a_lower_bound_of_one_takes(cooks: int, point: float) -> None:
    # Bissell 1990, computed: 1.30 at 30 cooks, 1.48 at 15.
    assert capability_of(0.0, 1.0, cooks, -3 * point, None).ppk_low == pytest.approx(1.0, abs=0.005)
