"""Every proposal can be set on the oven and keeps to the brief, whatever oven, brief and cooks."""

import numpy as np
import pytest

import tuner
from tests.learning import cases
from tuner.learning.proposer import MOST_AT_ONCE


def _answer(seed, cooks_done, count):
    rng = np.random.default_rng(seed)
    oven, brief = cases.random_oven(rng), cases.random_brief(rng)
    cooks = [cases.random_cook(rng, oven, brief) for _ in range(cooks_done)]
    return brief, oven, cooks, count


def _checked(brief, oven, cooks, count):
    try:
        proposed = tuner.propose(brief, oven, cooks, count=count)
    except tuner.NoLegalProgram:
        proposed = None
    if proposed is None:
        assert tuner.feasibility(brief, oven).possible == "no"
        assert tuner.assess(brief, oven, cooks).status == "stalled"
        return
    assert len(proposed) == count
    fresh = [proposal.program.key for proposal in proposed if proposal.purpose != "confirm"]
    assert len(set(fresh)) == len(fresh)
    for proposal in proposed:
        assert cases.problems_of(proposal.program, brief, oven) == []
        assert proposal.purpose != "confirm" or proposal.forecast.chance_safe >= 0.9
        assert 1 <= len(proposal.reasons) <= 4


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize("cooks_done", [0, 3, 12])
def test_random_ovens_briefs_and_cooks_get_legal_proposals(seed, cooks_done):
    _checked(*_answer(seed, cooks_done, 1 + seed % 3))


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(100, 125))
def test_many_more_random_ovens_briefs_and_cooks_get_legal_proposals(seed):
    for cooks_done in (0, 3, 12):
        _checked(*_answer(seed, cooks_done, 1 + seed % 5))


@pytest.mark.parametrize("share_step", [1, 2.5, 25, 50, 100])
def test_shares_are_multiples_of_the_ovens_step(share_step):
    oven = cases.oven(share_step_pct=share_step)
    for proposal in tuner.propose(cases.brief(), oven, [], count=5):
        assert cases.problems_of(proposal.program, cases.brief(), oven) == []


def test_an_oven_of_one_stage_gets_programs_of_one_stage():
    proposed = tuner.propose(cases.brief(), cases.oven(max_stages=1), [], count=4)
    assert all(len(proposal.program.stages) == 1 for proposal in proposed)


def test_stages_start_at_two_and_put_microwave_early_and_air_late():
    [first] = tuner.propose(cases.brief(), cases.oven(), [])
    stages = first.program.stages
    assert len(stages) in {2, 3}
    assert stages[0].microwave_pct > stages[-1].microwave_pct
    assert stages[-1].air_speed_pct >= stages[0].air_speed_pct


def test_a_shortest_stage_binds_every_stage():
    oven = cases.oven(min_stage_s=70)
    for proposal in tuner.propose(cases.brief(), oven, [], count=6):
        assert min(proposal.program.stage_seconds()) >= 70


def test_settings_that_are_fixed_stay_where_they_are():
    oven = cases.oven(air_temperature_c={"low": 233, "high": 233}, duration_s={"low": 95, "high": 95})
    for proposal in tuner.propose(cases.brief(), oven, [], count=3):
        assert (proposal.program.air_temperature_c, proposal.program.duration_s) == (233, 95)


def test_a_range_that_is_no_whole_number_of_steps_ends_at_its_last_step():
    oven = cases.oven(duration_s={"low": 33, "high": 140, "step": 40}, microwave_pct={"low": 3, "high": 96, "step": 7})
    for proposal in tuner.propose(cases.brief(), oven, [], count=8):
        assert cases.problems_of(proposal.program, cases.brief(), oven) == []


@pytest.mark.parametrize("count", [1, 7, MOST_AT_ONCE])
def test_exactly_as_many_proposals_as_asked_for_and_all_different(count):
    proposed = tuner.propose(cases.brief(), cases.oven(), [], count=count)
    assert len({proposal.program.key for proposal in proposed}) == count


@pytest.mark.parametrize("count", [0, 21, -1])
def test_other_counts_are_refused_in_words(count):
    with pytest.raises(tuner.InvalidDocument, match="1 to 20"):
        tuner.propose(cases.brief(), cases.oven(), [], count=count)


def test_no_step_in_the_duration_window_is_said_with_window_range_and_remedy():
    brief = cases.brief_with_targets(duration_s={"low": 301, "high": 304})
    for call in (lambda: tuner.propose(brief, cases.oven(), []), lambda: tuner.first_guess(brief, cases.oven())):
        with pytest.raises(tuner.NoLegalProgram, match=r"301 s to 304 s.*20 to 1200 s.*Widen the window"):
            call()
    assert tuner.feasibility(brief, cases.oven()).possible == "no"
    assert tuner.assess(brief, cases.oven(), []).status == "stalled"
    assert len(tuner.forecast(brief, cases.oven(), [], [cases.program()])) == 1


@pytest.mark.parametrize(
    "window, remedy",
    [({"high": 15}, "Raise the window's high to at least 20 s"), ({"low": 1300}, "Lower the window's low to at most 1200 s")],
)
def test_a_window_beside_the_ovens_range_names_the_edge_to_move(window, remedy):
    with pytest.raises(tuner.NoLegalProgram, match=remedy):
        tuner.first_guess(cases.brief_with_targets(duration_s=window), cases.oven())


def test_the_last_programs_of_a_tiny_oven_are_all_found_then_refused():
    oven = cases.oven(
        air_temperature_c={"low": 250, "high": 250}, air_speed_pct={"low": 50, "high": 50}, max_stages=1,
        microwave_pct={"low": 0, "high": 100, "step": 50}, duration_s={"low": 100, "high": 120, "step": 20},
    )  # fmt: skip
    assert len({p.program.key for p in tuner.propose(cases.brief(), oven, [], count=6)}) == 6
    with pytest.raises(tuner.NoLegalProgram, match="fewer proposals"):
        tuner.propose(cases.brief(), oven, [], count=7)
