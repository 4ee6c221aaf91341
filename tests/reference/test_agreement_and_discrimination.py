"""Panels and difference tests against published and recomputed values.

Sources: Shrout and Fleiss 1979 (table 2, six targets by four judges; data from memory, printed coefficients come out right);
Krippendorff 2011 (4 observers, 12 units, with gaps); ISO 4120 and ISO 10399 (critical numbers, compared with printed tables);
the sensR library's reference values of d' (10 of 15 right); Williams 1949; the crossed gauge example of the MSA manual
(10 parts, 3 appraisers, 3 trials). All were recomputed.
"""

from __future__ import annotations

import warnings
from itertools import pairwise

import numpy as np
import pytest

from tests.reference.reading import rows
from tuner.proof.agreement import agreement, krippendorff_alpha
from tuner.proof.discrimination import d_prime, fewest_right_for_different, psychometric
from tuner.proof.gauge import gauge_study, sums_of_squares
from tuner.proof.just_right import penalties
from tuner.proof.serving_order import williams_square

pytestmark = pytest.mark.reference
GOLDEN = {row["case"]: float(row["value"]) for row in rows("08_statistics_golden.csv")}
RATINGS = np.array([[float(row[f"judge_{j}"]) for j in range(1, 5)] for row in rows("08_shrout_fleiss_data.csv")])
OBSERVERS = np.array([[float(row[f"unit_{u}"] or "nan") for u in range(1, 13)] for row in rows("08_krippendorff_data.csv")]).T


def test_the_panel_coefficients_of_shrout_and_fleiss() -> None:
    found = agreement(RATINGS)
    assert found.icc_single == pytest.approx(GOLDEN["Shrout & Fleiss 1979: ICC(2,1)"], rel=1e-6)
    assert found.icc_mean == pytest.approx(GOLDEN["Shrout & Fleiss 1979: ICC(2,k)"], rel=1e-6)
    assert found.mean_square_cooks == pytest.approx(GOLDEN["Shrout & Fleiss 1979 mean square BMS"], rel=1e-6)
    assert found.mean_square_tasters == pytest.approx(GOLDEN["Shrout & Fleiss 1979 mean square JMS"], rel=1e-6)
    assert found.mean_square_error == pytest.approx(GOLDEN["Shrout & Fleiss 1979 mean square EMS"], rel=1e-6)


def test_alpha_with_gaps_is_krippendorffs() -> None:
    assert krippendorff_alpha(OBSERVERS) == pytest.approx(GOLDEN["4 observers x 12 units: interval"], rel=1e-6)


@pytest.mark.filterwarnings("ignore")
def test_independent_libraries_agree_on_random_panels() -> None:
    krippendorff = pytest.importorskip("krippendorff")
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        pingouin = pytest.importorskip("pingouin")
    pandas = pytest.importorskip("pandas")
    rng = np.random.default_rng(4)
    for _ in range(3):
        marks = rng.uniform(2, 4, (9, 1)) + rng.normal(0, 0.3, (1, 4)) + rng.normal(0, 0.4, (9, 4))
        found = agreement(marks, confidence=0.975)  # one side of the library's two-sided 95 %
        frame = pandas.DataFrame([{"cook": i, "taster": j, "mark": marks[i, j]} for i in range(9) for j in range(4)])
        table = pingouin.intraclass_corr(frame, targets="cook", raters="taster", ratings="mark").set_index("Type")
        assert found.icc_single == pytest.approx(table.loc["ICC(A,1)", "ICC"], abs=1e-9)
        assert found.icc_mean == pytest.approx(table.loc["ICC(A,k)", "ICC"], abs=1e-9)
        assert found.icc_mean_low == pytest.approx(table.loc["ICC(A,k)", "CI95"][0], abs=0.0051)  # printed with two digits
        gaps = np.where(rng.random(marks.shape) < 0.2, np.nan, marks)
        expected = krippendorff.alpha(reliability_data=gaps.T, level_of_measurement="interval")
        assert krippendorff_alpha(gaps) == pytest.approx(expected, rel=1e-9)


COLUMNS = {"triangle": "triangle_3afc_tetrad_alpha_", "duo-trio": "duotrio_2afc_alpha_"}


@pytest.mark.parametrize("method", ["triangle", "duo-trio"])
@pytest.mark.parametrize("alpha", ["0.20", "0.10", "0.05", "0.01", "0.001"])
def test_critical_numbers_are_those_of_the_standards(method, alpha) -> None:
    for row in rows("08_discrimination_critical_numbers.csv"):
        expected = row[COLUMNS[method] + alpha]
        found = fewest_right_for_different(method, int(row["n"]), float(alpha))
        assert found == (int(expected) if expected else None), row["n"]


@pytest.mark.parametrize("method, column", [("triangle", "pc_triangle"), ("duo-trio", "pc_duotrio")])
def test_psychometric_functions(method, column) -> None:
    for row in rows("08_psychometric_functions.csv"):
        assert psychometric(method, float(row["d_prime"])) == pytest.approx(float(row[column]), abs=1e-6)


@pytest.mark.parametrize("method, name", [("triangle", "triangle"), ("duo-trio", "duotrio")])
def test_d_prime_of_ten_right_of_fifteen(method, name) -> None:
    [row] = [row for row in rows("08_dprime_golden.csv") if row["method"] == name]
    assert d_prime(method, float(row["pc"])) == pytest.approx(float(row["d_prime"]), abs=1e-6)
    assert d_prime(method, float(row["pc"])) == pytest.approx(float(row["d_prime_printed"]), abs=1e-4)


@pytest.mark.parametrize("treatments", [3, 4, 5, 6])
def test_williams_squares(treatments) -> None:
    expected = [row["order"].split() for row in rows("08_williams_squares.csv") if int(row["n_treatments"]) == treatments]
    assert [["ABCDEF"[i] for i in order] for order in williams_square(treatments)] == expected


@pytest.mark.parametrize("treatments", range(2, 11))
def test_every_sample_stands_everywhere_and_follows_every_other_equally_often(treatments) -> None:
    orders = williams_square(treatments)
    for position in range(treatments):
        counted = np.bincount([order[position] for order in orders], minlength=treatments)
        assert set(counted) == {len(orders) // treatments}
    pairs = [pair for order in orders for pair in pairwise(order)]
    assert len(set(pairs)) == treatments * (treatments - 1)
    assert len({pairs.count(pair) for pair in set(pairs)}) == 1


def test_the_gauge_study() -> None:
    golden = {row["quantity"]: float(row["value"]) for row in rows("08_gauge_rr_golden.csv")}
    readings = np.empty((10, 3, 3))
    for row in rows("08_gauge_rr_data.csv"):
        readings[int(row["part"]) - 1, "ABC".index(row["appraiser"]), int(row["trial"]) - 1] = float(row["value"])
    part, person, both, error = sums_of_squares(readings)
    assert part == pytest.approx(golden["SS_part"], rel=1e-6)
    assert person == pytest.approx(golden["SS_appraiser"], rel=1e-6)
    assert both == pytest.approx(golden["SS_interaction"], rel=1e-6)
    assert error == pytest.approx(golden["SS_equipment"], rel=1e-6)
    found = gauge_study(readings)
    assert found.interaction_pooled
    assert found.repeatability == pytest.approx(golden["sigma_EV_anova_pooled"], rel=1e-6)
    assert found.reproducibility == pytest.approx(golden["sigma_AV_anova_pooled"], rel=1e-6)
    assert found.measuring == pytest.approx(golden["sigma_GRR_anova_pooled"], rel=1e-6)
    assert found.portions == pytest.approx(golden["sigma_PV_anova_pooled"], rel=1e-6)
    assert found.total == pytest.approx(golden["sigma_TV_anova_pooled"], rel=1e-6)
    assert found.distinct == pytest.approx(golden["ndc_anova"], rel=1e-6)


@pytest.mark.parametrize("row", rows("08_jar_penalty_golden.csv"), ids=lambda row: row["attribute"])
def test_penalties_of_just_about_right_marks(row) -> None:
    counts = [int(row["n_too_low"]), int(row["n_jar"]), int(row["n_too_high"])]
    liked = [float(row[f"mean_liking_{side}"]) for side in ("too_low", "jar", "too_high")]
    found = penalties(np.repeat([2.0, 3.0, 4.0], counts), np.repeat(liked, counts))
    for side, name in ((found.too_low, "too_low"), (found.too_high, "too_high")):
        assert 100 * side.share == pytest.approx(float(row[f"pct_{name}"]))
        assert side.drop == pytest.approx(float(row[f"drop_{name}"]))
        assert side.weighted == pytest.approx(float(row[f"weighted_penalty_{name}"]))
        assert side.act == (row[f"flag_{name}"] == "act")
    assert found.overall == pytest.approx(float(row["overall_penalty"]))
