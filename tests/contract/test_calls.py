"""The package's calls, from outside: random ovens, briefs and cooks in; only legal, repeatable, honest answers out."""

from __future__ import annotations

import numpy as np
import pytest

import tuner
from tests.contract import documents

QUICK = range(16)
LONG = range(1000, 1060)


def _pair(rng: np.random.Generator) -> tuple[tuner.Brief, tuner.Oven]:
    oven = tuner.Oven.model_validate(documents.oven(rng))
    return tuner.Brief.model_validate(documents.brief(rng)), oven


def _assert_on_the_ovens_steps(program: tuner.Program, oven: tuner.Oven, brief: tuner.Brief) -> None:
    assert 1 <= len(program.stages) <= oven.max_stages
    assert oven.air_temperature_c.holds(program.air_temperature_c)
    assert oven.duration_s.holds(program.duration_s)
    window = brief.targets.duration_s
    assert window is None or window.holds(program.duration_s)
    for stage in program.stages:
        assert oven.air_speed_pct.holds(stage.air_speed_pct)
        assert oven.microwave_pct.holds(stage.microwave_pct)
        steps = stage.share_pct / oven.share_step_pct
        assert steps == pytest.approx(round(steps))
        assert round(steps) >= 1
        assert stage.share_pct * program.duration_s / 100 >= (oven.min_stage_s or 0) - 1e-6


def _assert_honest(forecast: tuner.Forecast, brief: tuner.Brief) -> None:
    assert set(forecast.attributes) == {"core_temperature_c", "browning", "texture", "moisture", "cook_loss_pct"}
    singles = []
    for name, attribute in forecast.attributes.items():
        assert (attribute.chance_inside is None) == (brief.targets.of(name) is None)
        if attribute.chance_inside is not None:
            singles.append(attribute.chance_inside)
    assert not singles or forecast.chance_all_inside <= min(singles) + 1e-9


def _play(seed: int) -> None:
    rng = np.random.default_rng(seed)
    brief, oven = _pair(rng)
    cooks = [tuner.TestCook.model_validate(documents.cook(rng)) for _ in range(12)]
    try:
        guess = tuner.first_guess(brief, oven)
    except tuner.NoLegalProgram:
        assert tuner.feasibility(brief, oven).possible == "no"
        assert tuner.assess(brief, oven, cooks).status == "stalled"
        with pytest.raises(tuner.NoLegalProgram):
            tuner.propose(brief, oven, cooks)
        return
    assert guess.purpose == "first_guess"
    _assert_on_the_ovens_steps(guess.program, oven, brief)
    for number in (0, 3, 12):
        count = int(rng.integers(1, 4))
        proposals = tuner.propose(brief, oven, cooks[:number], count=count, seed=seed)
        assert len(proposals) == count
        searching = [proposal.program.key for proposal in proposals if proposal.purpose != "confirm"]
        assert len(set(searching)) == len(searching)
        for proposal in proposals:
            _assert_on_the_ovens_steps(proposal.program, oven, brief)
            _assert_honest(proposal.forecast, brief)
            assert proposal.purpose != "confirm" or proposal.forecast.chance_safe >= 0.9
    refused = [proposal.program for proposal in proposals]
    again = tuner.propose(brief, oven, cooks, seed=seed, refused=refused)
    assert again[0].program.key not in {program.key for program in refused}
    best = tuner.assess(brief, oven, cooks).best_program
    window = brief.targets.duration_s
    assert best is None or window is None or window.holds(best.duration_s)


@pytest.mark.parametrize("seed", QUICK)
def test_every_answer_is_legal_and_honest(seed: int) -> None:
    _play(seed)


@pytest.mark.slow
@pytest.mark.timeout(3600)
@pytest.mark.parametrize("block", range(10))
def test_every_answer_is_legal_and_honest_for_many_more(block: int) -> None:
    for seed in LONG[block::10]:
        _play(seed)


@pytest.mark.parametrize("seed", [3, 4, 5])
def test_the_same_arguments_give_the_same_answer_also_through_learn(seed: int) -> None:
    rng = np.random.default_rng(seed + 500)
    brief, oven = _pair(rng)
    cooks = [tuner.TestCook.model_validate(documents.cook(rng)) for _ in range(5)]
    try:
        first = tuner.propose(brief, oven, cooks, count=2, seed=seed)
    except tuner.NoLegalProgram:
        pytest.skip("this random oven has no step inside this random brief's duration window")
    learned = tuner.learn(brief, oven, cooks)
    assert tuner.propose(brief, oven, cooks, count=2, seed=seed) == first
    assert learned.propose(count=2, seed=seed) == first
    assert learned.assess() == tuner.assess(brief, oven, cooks)
    programs = [proposal.program for proposal in first]
    assert learned.forecast(programs) == tuner.forecast(brief, oven, cooks, programs)


def test_random_documents_are_read_and_written_back_unchanged() -> None:
    for seed in range(500):
        rng = np.random.default_rng(seed)
        for model, make in (
            (tuner.Oven, documents.oven),
            (tuner.Brief, documents.brief),
            (tuner.Program, documents.program),
            (tuner.TestCook, documents.cook),
        ):
            document = make(rng)
            assert model.model_validate(document).model_dump(mode="json", exclude_unset=True) == document
