"""Where a development stands, by the rules of the simple rule and the model's confidence."""

import pytest

import tuner
from tests.learning import cases
from tuner.learning import RELIABLE_AT

WINNER, OTHER = cases.program(), cases.program(235, 180, [(50, 40, 70), (50, 100, 10)])


def _assess(*cooks, brief=None, oven=None):
    return tuner.assess(brief or cases.brief(), oven or cases.oven(), list(cooks))


def good(**more):
    return cases.cook(WINNER, core=79, **more)


def bad(**more):
    return cases.cook(WINNER, core=79, marks=(5, 3, 3), **more)


def unscored(**more):
    return cases.cook(WINNER, core=79, marks=None, **more)


@pytest.mark.parametrize(
    "cooks, status",
    [
        ([], "gathering"),
        ([bad()], "gathering"),
        ([unscored()], "gathering"),
        ([good()], "candidate"),
        ([bad(), good()], "candidate"),
        ([good(), good()], "confirming"),
        ([good(), unscored()], "confirming"),
        ([good(), good(mass_g=230)], "candidate"),
        ([good(completed=False)], "gathering"),
        ([good(purpose="benchmark")], "gathering"),
        ([good(oven_serial="elsewhere")], "gathering"),
    ],
    ids=["none", "failed", "pending", "passed", "passed after failing", "twice", "second pending", "second another portion",
         "interrupted", "benchmark", "other oven"],
)  # fmt: skip
def test_the_status_follows_the_cooks_that_count(cooks, status):
    found = _assess(*cooks)
    assert found.status == status
    assert found.advice
    assert found.confirmations.needed == 3


def test_many_passing_cooks_prove_a_program():
    found = _assess(*[good()] * 9)
    assert (found.status, found.best_program) == ("proven", WINNER)
    assert found.chance_reliable >= RELIABLE_AT
    assert (found.confirmations.passed, found.confirmations.needed) == (8, 3)
    assert found.cooks_left_estimate == 0


def test_passing_cooks_at_the_edge_of_a_window_do_not_prove_it():
    found = _assess(*[cases.cook(WINNER, core=79, marks=(3.5, 3, 3))] * 4)
    assert found.confirmations.passed == 3
    assert found.status == "confirming"
    assert found.chance_reliable < RELIABLE_AT
    assert any("doubt" in sentence for sentence in found.advice)


def test_a_failing_cook_starts_the_count_again_and_another_program_does_not():
    assert _assess(good(), good(), bad(), good()).confirmations.passed == 0
    assert _assess(good(), good(), cases.cook(OTHER, core=60), good()).confirmations.passed == 2


def test_a_program_keyed_in_otherwise_is_a_cook_of_what_was_keyed_in():
    found = _assess(good(), good(program_set=OTHER))
    assert found.best_program in {WINNER, OTHER}
    assert found.confirmations.passed == 0


def test_the_best_program_is_never_outside_the_duration_window():
    long = cases.program(250, 400)
    found = _assess(*[cases.cook(long)] * 5)
    assert found.best_program is None
    assert found.status == "gathering"
    assert found.chance_reliable == 0
    mixed = _assess(*[cases.cook(long)] * 4, good())
    assert mixed.best_program == WINNER


def test_windows_that_contradict_the_limit_stall_at_once():
    brief = cases.brief_with_targets(core_temperature_c={"low": 60, "high": 70})
    found = _assess(brief=brief)
    assert found.status == "stalled"
    assert found.cooks_left_estimate is None
    assert "critical limit" in " ".join(found.advice)
    assert tuner.feasibility(brief, cases.oven()).possible == "no"


def test_a_spent_budget_stalls_but_does_not_hide_a_running_candidate():
    brief = cases.brief(budget_cooks=2)
    assert _assess(bad(), bad(), brief=brief).status == "stalled"
    assert "budget" in " ".join(_assess(bad(), bad(), brief=brief).advice)
    assert _assess(bad(), good(), brief=brief).status == "stalled"
    assert _assess(good(), good(), brief=brief).status == "confirming"
    assert _assess(bad(), brief=brief).status == "gathering"


def test_what_can_not_be_reached_in_time_stalls_and_is_named():
    portion = {
        **cases.PLAIN_BRIEF["portion"],
        "thickness_mm": 60,
        "mass_g": 900,
        "start_state": "frozen",
        "start_temperature_c": -20,
    }
    brief = cases.brief(portion=portion, targets={**cases.PLAIN_BRIEF["targets"], "duration_s": {"high": 40}})
    found = _assess(brief=brief)
    assert found.status == "stalled"
    assert "colder" in " ".join(found.advice)
    possible = tuner.feasibility(brief, cases.oven())
    assert possible.possible == "no"
    assert possible.obstacles
    assert possible.relaxations
    [proposal] = tuner.propose(brief, cases.oven(), [])
    assert proposal.purpose == "search"
    assert "colder" in proposal.reasons[0]


def test_cooks_left_are_estimated_inside_their_range():
    for cooks in ([], [bad()], [good()], [good(), good()]):
        found = _assess(*cooks)
        low, high = found.cooks_left_range
        assert low <= found.cooks_left_estimate <= high


def test_more_confirmations_can_be_asked_for():
    found = _assess(*[good()] * 6, brief=cases.brief(confirmation_cooks=6))
    assert found.confirmations.model_dump() == {"passed": 5, "needed": 6}
    assert found.status == "confirming"
