"""The same arguments give the same answer; pending and refused programs are respected."""

import numpy as np
import pytest

import tuner
from tests.learning import cases
from tuner.learning import calls
from tuner.learning.memo import Memo


def _forgotten():
    calls._LEARNED = Memo(8)


def test_the_same_arguments_give_the_same_answer_without_any_memo():
    cooks = [cases.cook(cases.program(), core=70, marks=(2, 3, 3.5)), cases.cook(cases.program(260, 240), marks=None)]
    once = tuner.propose(cases.brief(), cases.oven(), cooks, count=3, seed=5)
    _forgotten()
    assert tuner.propose(cases.brief(), cases.oven(), cooks, count=3, seed=5) == once


def test_proposals_do_not_depend_on_noise_in_the_last_digits(monkeypatch):
    from tuner.learning.simulator import Simulator

    cooks = [cases.cook(cases.program(), core=70, marks=(2, 3, 3.5)), cases.cook(cases.program(260, 240), core=81)]
    plain = [p.program for p in tuner.propose(cases.brief(), cases.oven(), cooks, count=2)]
    exact, rng = Simulator.states, np.random.default_rng(4)

    def shaken(self, *arguments):
        states = exact(self, *arguments)
        return states * (1 + 1e-12 * rng.standard_normal(states.shape))

    monkeypatch.setattr(Simulator, "states", shaken)
    _forgotten()
    assert [p.program for p in tuner.propose(cases.brief(), cases.oven(), cooks, count=2)] == plain
    _forgotten()


def test_a_seed_changes_only_the_search_and_stays_legal():
    for seed in (1, 2, 2**40, -3):
        [proposal] = tuner.propose(cases.brief(), cases.oven(), [], seed=seed)
        assert cases.problems_of(proposal.program, cases.brief(), cases.oven()) == []


def test_learned_answers_like_the_calls():
    cooks = [cases.cook(cases.program(), core=70, marks=(2, 3, 3.5))]
    learned = tuner.learn(cases.brief(), cases.oven(), cooks)
    asked = [cases.program(), cases.program(260, 240)]
    assert learned.propose(count=2) == tuner.propose(cases.brief(), cases.oven(), cooks, count=2)
    assert learned.assess() == tuner.assess(cases.brief(), cases.oven(), cooks)
    assert learned.forecast(asked) == tuner.forecast(cases.brief(), cases.oven(), cooks, asked)
    with pytest.raises(AttributeError):
        learned.brief = cases.brief()


def test_refused_programs_are_never_proposed():
    refused = []
    for _ in range(4):
        [proposal] = tuner.propose(cases.brief(), cases.oven(), [], refused=refused)
        assert proposal.program not in refused
        refused.append(proposal.program)


def test_a_pending_program_is_not_proposed_again_and_moves_the_next_one_away():
    [first] = tuner.propose(cases.brief(), cases.oven(), [])
    [second] = tuner.propose(cases.brief(), cases.oven(), [], pending=[first.program])
    assert second.program != first.program
    assert second.purpose == "search"


def test_a_running_candidate_that_is_pending_or_refused_is_not_confirmed():
    winner = cases.program()
    cooks = [cases.cook(winner) for _ in range(3)]
    brief, oven = cases.brief(), cases.oven()
    assert any(p.program == winner and p.purpose == "confirm" for p in tuner.propose(brief, oven, cooks))
    for how in ("pending", "refused"):
        assert all(p.program != winner for p in tuner.propose(brief, oven, cooks, count=3, **{how: [winner]}))


def test_a_failed_program_is_not_proposed_again_by_the_search():
    brief, oven, cooks = cases.brief(), cases.oven(), []
    tried = set()
    for number in range(5):
        [proposal] = tuner.propose(brief, oven, cooks)
        assert proposal.program.key not in tried
        tried.add(proposal.program.key)
        cooks.append(cases.cook(proposal.program, core=92 - number, marks=(4, 4, 2)))


def test_confirm_repeats_may_stand_side_by_side():
    winner = cases.program()
    proposed = tuner.propose(cases.brief(), cases.oven(), [cases.cook(winner), cases.cook(winner)], count=6)
    again = [p for p in proposed if p.purpose == "confirm"]
    assert {p.program.key for p in again} == {winner.key}
    assert 1 <= len(again) <= 3
