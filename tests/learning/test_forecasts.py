"""Forecasts: complete, from the joint distribution, honest about what has been cooked."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import tuner
from tests.learning import cases
from tuner.domain import ATTRIBUTES

NAMES = set(ATTRIBUTES)


def _one(brief=None, cooks=(), program=None, **more):
    [found] = tuner.forecast(brief or cases.brief(), cases.oven(), list(cooks), [program or cases.program()], **more)
    return found


def test_all_five_attributes_are_forecast_even_without_any_target():
    found = _one(cases.brief(targets={}))
    assert set(found.attributes) == NAMES
    assert all(a.chance_inside is None and a.chance_true_inside is None for a in found.attributes.values())
    assert found.chance_all_inside == pytest.approx(found.chance_safe)


def test_chances_exist_exactly_where_there_are_windows():
    brief = cases.brief(targets={"browning": {"low": 2.5}, "cook_loss_pct": {"high": 20}})
    found = _one(brief)
    with_window = {name for name, a in found.attributes.items() if a.chance_inside is not None}
    assert with_window == {"browning", "cook_loss_pct"}


@settings(max_examples=25, deadline=None)
@given(seed=st.integers(0, 10_000))
def test_all_together_is_never_likelier_than_the_least_likely(seed):
    rng = np.random.default_rng(seed)
    brief, oven = cases.random_brief(rng), cases.random_oven(rng)
    cooks = [cases.random_cook(rng, oven, brief) for _ in range(int(rng.integers(0, 3)))]
    for found in tuner.forecast(brief, oven, cooks, [cases.random_program(rng, oven, steps) for steps in (True, False)]):
        singles = [a.chance_inside for a in found.attributes.values() if a.chance_inside is not None]
        assert found.chance_all_inside <= min(singles, default=1.0)
        assert 0 <= found.chance_safe <= 1
        assert all(np.isfinite([a.mean, a.spread]).all() and a.spread > 0 for a in found.attributes.values())
        assert all(1 <= found.attributes[name].mean <= 5 for name in ("browning", "texture", "moisture"))


def test_a_program_cooked_ten_times_is_forecast_close_to_its_mean():
    cooks = [cases.cook(cases.program(), core=77 + 0.2 * k, loss=14.0, marks=(2.0, 3.5, 3.0)) for k in range(10)]
    found = _one(cooks=cooks)
    lowest = np.mean([min(cook.readings_c) for cook in cooks])
    means = {name: np.mean([cook.panel_mean(name) for cook in cooks]) for name in ("browning", "texture", "moisture")}
    assert found.attributes["core_temperature_c"].mean == pytest.approx(lowest, abs=0.7)
    assert found.attributes["cook_loss_pct"].mean == pytest.approx(14.0, abs=0.4)
    for name, mean in means.items():
        assert found.attributes[name].mean == pytest.approx(mean, abs=0.08)


def test_more_cooks_leave_less_doubt():
    spreads = []
    for count in (0, 1, 4, 12):
        found = _one(cooks=[cases.cook(cases.program())] * count)
        spreads.append([found.attributes[name].spread for name in ATTRIBUTES])
    assert (np.diff(np.array(spreads), axis=0) < 0).all()


def test_a_known_portion_takes_its_mass_and_start_as_known():
    cooks = [cases.cook(cases.program())] * 3
    plain = _one(cooks=cooks)
    same = _one(cooks=cooks, portion=cases.brief().portion)
    heavy = _one(
        cooks=cooks,
        portion=tuner.Brief.model_validate(
            {**cases.PLAIN_BRIEF, "portion": {**cases.PLAIN_BRIEF["portion"], "mass_g": 205}}
        ).portion,
    )
    core = "core_temperature_c"
    assert same.attributes[core].spread < plain.attributes[core].spread
    assert heavy.attributes[core].mean < same.attributes[core].mean - 1


def test_core_is_the_lowest_of_the_places():
    few, many = (_one(cases.brief(places=n)).attributes["core_temperature_c"].mean for n in (1, 9))
    assert few > many


def test_more_tasters_scatter_less():
    few, many = (_one(cases.brief(tasters=n)).attributes["browning"].spread for n in (1, 12))
    assert few > many


def test_an_approved_nothing_to_kill_is_always_safe_enough():
    brief = cases.brief(food_class="bakery", critical_limit={"none": True, "rule": "baked before", "approved_by": "AB"})
    assert _one(brief).chance_safe == 1.0


def test_no_programs_no_forecasts():
    assert tuner.forecast(cases.brief(), cases.oven(), [], []) == []


def test_chances_agree_with_a_simulation_of_the_stated_model():
    """A second way: draw states, portions, readings and panels one by one and count."""
    learned = tuner.learn(
        cases.brief(), cases.oven(), [cases.cook(cases.program(), core=76), cases.cook(cases.program(240, 240))]
    )
    outlook, rng, n = learned.outlook([cases.program()]), np.random.default_rng(3), 200_000
    goals, noise = learned.goals, learned.view.noise
    state = rng.multivariate_normal(outlook.prediction.mean[0], outlook.prediction.cov[0], size=n)
    natural = np.sqrt(learned.view.natural.variance(outlook.prediction.sensitivity))[0]
    portion = state + natural * rng.standard_normal((n, 5))
    readings = portion[:, :1] + noise.probe.reading_sd * rng.standard_normal((n, noise.probe.places))
    panel = 3 + 2 * np.tanh(portion[:, 1:4] / 2) + noise.panel_sd * rng.standard_normal((n, 3))
    loss = portion[:, 4] + noise.loss_sd * rng.standard_normal(n)
    wider = 0.25 / noise.tasters
    core_in = (readings.min(axis=1) >= goals.low[0]) & (readings.mean(axis=1) <= goals.high[0])
    scores_in = ((panel >= goals.low[1:4] - wider) & (panel <= goals.high[1:4] + wider)).all(axis=1)
    loss_in = (loss >= goals.low[4]) & (loss <= goals.high[4])
    found = _one(cooks=learned.cooks)
    assert found.attributes["core_temperature_c"].mean == pytest.approx(readings.min(axis=1).mean(), abs=0.2)
    assert found.attributes["core_temperature_c"].spread == pytest.approx(readings.min(axis=1).std(), rel=0.05)
    assert found.attributes["core_temperature_c"].chance_inside == pytest.approx(core_in.mean(), abs=0.03)
    assert found.chance_safe == pytest.approx((readings.min(axis=1) >= goals.pass_line_c).mean(), abs=0.03)
    assert found.chance_all_inside == pytest.approx((core_in & scores_in & loss_in).mean(), abs=0.04)
    for k, name in enumerate(("browning", "texture", "moisture")):
        assert found.attributes[name].mean == pytest.approx(panel[:, k].mean(), abs=0.03)
        assert found.attributes[name].spread == pytest.approx(panel[:, k].std(), rel=0.12)
