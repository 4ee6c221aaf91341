from __future__ import annotations

from collections import Counter

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import ValidationError

from tests.example import cook
from tuner.domain import PanelMarks
from tuner.proof.agreement import agreement
from tuner.proof.benchmark_cooks import benchmark_summary
from tuner.proof.just_right import sides
from tuner.proof.panel_results import Mark, SampleMean, attribute_result, drift, duplicate_sd
from tuner.proof.session_plan import SessionRequest, session


def request(**changes) -> SessionRequest:
    fields = {
        "cooks": ("c1", "c2", "c3"),
        "benchmark": "b1",
        "duplicate": None,
        "tasters": tuple("ABCDE"),
        "attributes": ("browning", "texture"),
        "seed": 1,
    }
    return SessionRequest(**{**fields, **changes})


@settings(deadline=None, max_examples=60)
@given(st.integers(1, 6), st.integers(2, 12), st.integers(0, 1000))
def test_a_session_hides_everything_and_serves_everybody_everything_once(cooks, tasters, seed) -> None:
    asked = request(cooks=tuple(f"c{i}" for i in range(cooks)), tasters=tuple(f"t{i}" for i in range(tasters)), seed=seed)
    plan = session(asked)
    codes = [sample.code for sample in plan.samples]
    assert len(set(codes)) == len(codes) == cooks + 2 <= 8
    assert all(len(code) == 3 and code.isdigit() for code in codes)
    assert Counter(sample.kind for sample in plan.samples) == {"cook": cooks, "benchmark": 1, "duplicate": 1}
    assert plan.sample(codes[-1]).cook_id == "c0"
    assert set(plan.orders) == set(asked.tasters)
    assert all(sorted(order) == sorted(codes) for order in plan.orders.values())
    assert session(asked) == plan


def test_with_whole_squares_every_sample_stands_at_every_place_equally_often() -> None:
    plan = session(request(cooks=("c1", "c2"), tasters=tuple("ABCD")))
    for place in range(4):
        assert len({order[place] for order in plan.orders.values()}) == 4


@pytest.mark.parametrize(
    "changes, words",
    [
        ({"cooks": tuple(f"c{i}" for i in range(7))}, "more than 8"),
        ({"cooks": ()}, "No cook"),
        ({"cooks": ("c1", "c1")}, "twice"),
        ({"cooks": ("b1", "c1")}, "twice"),
        ({"duplicate": "other"}, "not one of the cooks"),
        ({"tasters": ("A",)}, "at least 2"),
        ({"attributes": ()}, "Nothing"),
    ],
)
def test_sessions_that_nobody_could_judge_are_refused(changes, words) -> None:
    with pytest.raises(ValueError, match=words):
        session(request(**changes))


@pytest.mark.parametrize("marks", [{}, {"browning": 5.5}, {"browning": 0.5}, {"browning": 2.3}, {"liking": 9.5}])
def test_marks_that_are_none_are_refused(marks) -> None:
    with pytest.raises(ValidationError):
        PanelMarks.model_validate({"taster": "A", "code": "123", "marks": marks})


def table(values: dict[str, list[float | None]], start: int = 0) -> list[Mark]:
    """Marks by sample, one a taster; positions rotate."""
    found = []
    for row, (sample, marks) in enumerate(values.items()):
        for column, mark in enumerate(marks):
            if mark is not None:
                found.append(Mark(sample, f"t{column}", (row * (column + 1) + column + start) % len(values) + 1, mark))
    return found


def test_a_missing_strict_taster_does_not_move_the_corrected_mean() -> None:
    whole = {"x": [3.0, 3.0, 3.0, 2.0], "y": [3.5, 3.5, 3.5, 2.5], "z": [2.5, 2.5, 2.5, 1.5]}
    full = attribute_result("browning", table(whole))
    missing = attribute_result("browning", table({**whole, "x": [3.0, 3.0, 3.0, None]}))
    assert full.of("x").mean == pytest.approx(2.75)
    assert missing.of("x").plain_mean == pytest.approx(3.0)
    assert missing.of("x").mean == pytest.approx(2.75)
    assert missing.taster_effects["t3"] == pytest.approx(-0.75)


def test_standard_errors_are_those_of_repeated_sessions() -> None:
    rng = np.random.default_rng(3)
    means, errors = [], []
    for _ in range(300):
        base = {name: [2.5 + 0.3 * i + t * 0.2 + float(rng.normal(0, 0.4)) for t in range(5)] for i, name in enumerate("wxyz")}
        base["x"][4] = None
        found = attribute_result("texture", table(base)).of("x")
        means.append(found.mean)
        errors.append(found.standard_error)
    assert np.mean(means) == pytest.approx(2.8 + 0.4, abs=0.04)
    assert np.sqrt(np.mean(np.square(errors))) == pytest.approx(np.std(means), rel=0.12)


def test_a_split_is_shown_beside_its_mean() -> None:
    found = attribute_result("texture", table({"x": [2, 4, 2, 4], "y": [3, 3, 3, 3]}))
    assert found.of("x").mean == pytest.approx(found.of("y").mean, abs=0.6)
    assert found.of("x").sides.split
    assert any("camps" in remark for remark in found.remarks)
    assert not sides([2.5, 3, 3.5]).split
    assert not sides([]).split


def test_fatigue_is_the_trend_over_the_serving_order() -> None:
    rng = np.random.default_rng(2)
    plan = session(request(cooks=("c1", "c2", "c3", "c4"), tasters=tuple("ABCDEF")))
    level = {sample.code: 2.6 + 0.2 * i for i, sample in enumerate(plan.samples)}

    def marks(slope: float) -> list[Mark]:
        return [
            Mark(code, taster, place, level[code] + slope * place + float(rng.normal(0, 0.15)))
            for taster, order in plan.orders.items()
            for place, code in enumerate(order, 1)
        ]

    tired = attribute_result("texture", marks(-0.2))
    assert tired.fatigue.per_position == pytest.approx(-0.2, abs=0.06)
    assert tired.fatigue.shows
    assert any("fewer samples" in remark for remark in tired.remarks)
    for code, mean in level.items():
        assert tired.of(code).mean == pytest.approx(mean - 0.2 * 3.5, abs=0.25)
    assert abs(attribute_result("texture", marks(0.0)).fatigue.per_position) < 0.08


def test_agreement_says_little_on_samples_all_alike() -> None:
    rng = np.random.default_rng(4)
    alike = {f"s{i}": [3 + float(rng.normal(0, 0.4)) for _ in range(4)] for i in range(6)}
    assert any("say little" in remark for remark in attribute_result("texture", table(alike)).remarks)
    poor = {f"s{i}": [2 + 2 * i / 11 * (1 if t % 2 else -0.6) + float(rng.normal(0, 0.5)) for t in range(4)] for i in range(12)}
    spread = {name: [min(5.0, max(1.0, mark + 2.0 * (int(name[1:]) > 8))) for mark in marks] for name, marks in poor.items()}
    found = attribute_result("texture", table(spread))
    assert found.agreement.cooks == 12


def test_an_observed_085_over_ten_cooks_and_four_tasters_is_only_surely_about_066() -> None:
    """F form, one-sided 95 %: without differences between tasters the bound of ICC(2,k) is that of the F ratio, 0.66."""
    rng = np.random.default_rng(6)
    cooks = rng.normal(0, 1, (10, 1))
    rest = rng.normal(0, 1, (10, 4))
    rest -= rest.mean(axis=0) + rest.mean(axis=1, keepdims=True) - rest.mean()
    ems = (rest**2).sum() / 27
    between = 4 * ((cooks - cooks.mean()) ** 2).sum() / 9
    scale = np.sqrt(ems / 0.15 / between)  # so that 1 - EMS / BMS is 0.85
    column = rng.normal(0, 1, 4)
    column -= column.mean()
    column *= np.sqrt(ems * 3 / 10 / (column**2).sum())  # so that the tasters' mean square equals the error's
    found = agreement(scale * (cooks - cooks.mean()) + rest + column)
    assert found.icc_mean == pytest.approx(0.85, abs=1e-6)
    assert found.icc_mean_low == pytest.approx(0.66, abs=0.01)


@pytest.mark.parametrize("marks", [np.full((1, 4), 3.0), np.full((5, 4), 3.0), np.full((5, 1), 3.0)])
def test_agreement_that_cannot_be_told_is_refused(marks) -> None:
    with pytest.raises(ValueError, match="Agreement"):
        agreement(marks)


def test_blind_duplicates_and_drift() -> None:
    assert duplicate_sd([], []) is None
    rng = np.random.default_rng(1)
    truth = rng.normal(3, 0.5, 4000)
    found = duplicate_sd(list(truth + rng.normal(0, 0.4, 4000)), list(truth + rng.normal(0, 0.4, 4000)))
    assert found == pytest.approx(0.4, abs=0.02)

    def mean(value: float) -> SampleMean:
        return SampleMean("benchmark", value, 0.1, value, 4, sides([3]))

    assert drift(mean(3.0), []) is None
    assert not drift(mean(3.0), [mean(3.1), mean(2.95)]).shows
    assert drift(mean(3.5), [mean(3.0), mean(3.0)]).shows


def test_the_benchmark_has_a_mean_a_spread_and_its_serving_age() -> None:
    cooks = [cook(purpose="benchmark", mass_out_g=150 + i, serving_age_s=60 + 100 * i) for i in range(3)]
    found = benchmark_summary([*cooks, cook()])
    assert (found.cooks, found.serving_age_s) == (3, (60, 260))
    [loss] = [value for value in found.values if value.attribute == "cook_loss_pct"]
    assert loss.sd == pytest.approx(100 / 183)
    assert any("260 s" in remark for remark in found.remarks)
    assert "3 cooks" in benchmark_summary([cook(purpose="benchmark")]).remarks[0]
