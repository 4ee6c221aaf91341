"""What earlier developments teach, and how far they are trusted."""

import numpy as np
import pytest

import tuner
from tests.learning import cases
from tuner.learning import Prior, prior
from tuner.learning.calibration import ParameterPrior
from tuner.learning.priors import blended, likeness, oven_key, pooled
from tuner.physics import PARAMETERS

SIZE = len(PARAMETERS)


def _development(core=70.0, dish="Earlier dish", oven=None, **portion):
    brief = cases.brief(dish=dish, portion={**cases.PLAIN_BRIEF["portion"], **portion})
    programs = [cases.program(), cases.program(235, 180, [(50, 40, 70), (50, 100, 10)]), cases.program(260, 240)]
    cooks = [cases.cook(p, core=core - 4 * k, marks=(2 + 0.5 * k, 3, 3)) for k, p in enumerate(programs)]
    return brief, oven or cases.oven(), cooks


def test_a_prior_survives_json_and_gives_the_same_answers():
    made = prior([_development(), _development(60)])
    kept = Prior.model_validate_json(made.model_dump_json())
    assert kept == made
    assert prior(made) is made
    asked = [cases.program()]
    direct = tuner.forecast(cases.brief(), cases.oven(), [], asked, earlier=[_development(), _development(60)])
    assert tuner.forecast(cases.brief(), cases.oven(), [], asked, earlier=kept) == direct


def test_nothing_earlier_and_a_development_without_cooks_change_nothing():
    asked = [cases.program()]
    plain = tuner.forecast(cases.brief(), cases.oven(), [], asked)
    assert tuner.forecast(cases.brief(), cases.oven(), [], asked, earlier=Prior()) == plain
    empty = [(cases.brief(), cases.oven(), [])]
    assert tuner.forecast(cases.brief(), cases.oven(), [], asked, earlier=empty) == plain


def test_earlier_cooks_move_the_first_forecast_towards_what_was_seen():
    [plain] = tuner.forecast(cases.brief(), cases.oven(), [], [cases.program()])
    cold = prior([_development(50, dish=f"dish {k}") for k in range(4)])
    [moved] = tuner.forecast(cases.brief(), cases.oven(), [], [cases.program()], earlier=cold)
    core = "core_temperature_c"
    assert moved.attributes[core].mean < plain.attributes[core].mean - 5
    assert moved.attributes[core].spread < plain.attributes[core].spread


def test_earlier_developments_that_the_present_cooks_contradict_lose_their_pull():
    cold = prior([_development(50, dish=f"dish {k}") for k in range(4)])
    hot = [cases.cook(cases.program(), core=94), cases.cook(cases.program(235, 180, [(50, 40, 70), (50, 100, 10)]), core=93)]
    other = cases.program(240, 200, [(50, 40, 60), (50, 80, 20)])
    core = "core_temperature_c"
    [alone] = tuner.forecast(cases.brief(), cases.oven(), hot, [other])
    [pulled] = tuner.forecast(cases.brief(), cases.oven(), hot, [other], earlier=cold)
    assert pulled.attributes[core].mean == pytest.approx(alone.attributes[core].mean, abs=6)


def test_spreads_stay_wide_however_much_was_cooked_before():
    base = np.ones(SIZE)
    made = prior([_development(dish=f"dish {k}") for k in range(6)])
    found = pooled(made, cases.brief(), cases.oven(name="another"), base)
    assert (found.sd >= 0.55 - 1e-9).all()
    assert (found.sd <= 1.2 + 1e-9).all()


def test_the_same_oven_is_known_better_than_another():
    made = prior([_development(dish=f"dish {k}", oven=cases.oven(serial="S1")) for k in range(4)])
    of_oven = np.array([parameter.group == "oven" for parameter in PARAMETERS])
    same = pooled(made, cases.brief(), cases.oven(serial="S1"), np.ones(SIZE))
    other = pooled(made, cases.brief(), cases.oven(serial="S2"), np.ones(SIZE))
    assert (same.sd[of_oven] <= other.sd[of_oven]).all()
    assert same.sd[of_oven].min() < other.sd[of_oven].min()
    assert oven_key(cases.oven(serial="S1")) != oven_key(cases.oven())


def test_likeness_is_of_physics_not_of_names():
    [evidence] = prior([_development(dish="quite another name")]).developments
    assert likeness(evidence, cases.brief()) == pytest.approx(1)
    thick = cases.brief(portion={**cases.PLAIN_BRIEF["portion"], "thickness_mm": 70})
    frozen = cases.brief(portion={**cases.PLAIN_BRIEF["portion"], "start_state": "frozen", "start_temperature_c": -18})
    assert likeness(evidence, thick) < 0.5
    assert likeness(evidence, frozen) < 0.85


def test_trust_runs_from_the_base_to_the_pooled_prior():
    base = ParameterPrior(np.zeros(SIZE), np.ones(SIZE))
    found = pooled(prior([_development()]), cases.brief(), cases.oven(), base.sd)
    assert np.allclose(blended(base, found, 0.0).sd, base.sd)
    assert np.allclose(blended(base, found, 1.0).centre, found.shift)


def test_a_prior_of_other_parameters_is_not_used():
    strange = Prior(parameters=("a",), developments=prior([_development()]).developments)
    assert pooled(strange, cases.brief(), cases.oven(), np.ones(SIZE)) is None
