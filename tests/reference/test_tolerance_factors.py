"""Tolerance factors, success runs and intervals against published and recomputed tables.

Sources: NIST/SEMATECH e-Handbook of Statistical Methods 7.2.6.3; ISO 16269-6. Printed factors are from memory; all were
recomputed from the non-central t and a double integral.
"""

from __future__ import annotations

import pytest

from tests.reference.reading import rows
from tuner import proof

pytestmark = pytest.mark.reference
FACTORS = rows("08_tolerance_factors.csv")


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
