"""Who waits for whom."""

from __future__ import annotations

import pytest
from sqlalchemy import event

from tests.services.invented import ANN, BEN, VALE, YES, Clock, brief, by_eye, cook, oven, started
from tuner.domain import Assessment
from tuner.services import (
    Actor,
    DevelopmentSummary,
    Workspace,
    add_oven,
    add_scores,
    close_development,
    decide_proposal,
    list_developments,
    log_cook,
    next_proposals,
    start_development,
    view_development,
)
from tuner.services.loading import load
from tuner.services.waiting import next_step


def line(space: Workspace, who: Actor = ANN) -> DevelopmentSummary:
    [one] = list_developments(space, who)
    return one


def test_the_next_step_follows_what_was_done(space, clock: Clock):
    view = started(space)
    assert (line(space).waits_for, line(space).my_turn) == ("you: ask for the next program", True)
    [record] = next_proposals(space, ANN, development_id=view.id)
    assert line(space).waits_for == "you: decide on the proposal for cook 1"
    decide_proposal(space, ANN, proposal_id=record.id, decision="accept", reason="go")
    assert line(space).waits_for == "you: log cook 1"
    document = {"program": record.program.model_dump(), "scores": by_eye()}
    kept = log_cook(space, ANN, development_id=view.id, cook=cook(**document))
    assert line(space).waits_for == "you: add what cook 1 lacks (texture, moisture)"
    marks = [{"taster": "A", "texture": 4, "moisture": 3}]
    from tuner.domain import Score

    add_scores(space, ANN, development_id=view.id, cook_id=kept.id, scores=[Score.model_validate(marks[0])], may_taste=YES)
    assert line(space).waits_for == "you: ask for the next program"
    assert (line(space).cook_count, line(space).status) == (1, "gathering")
    close_development(space, ANN, development_id=view.id, reason="x")
    assert (line(space).waits_for, line(space).my_turn, line(space).status) == ("nobody", False, "closed")


def test_what_can_not_be_added_any_more_is_not_waited_for(space):
    view = started(space)
    log_cook(space, ANN, development_id=view.id, cook=cook(scores=by_eye(), completed=None, rest_covered=False))
    assert "texture" not in line(space).waits_for


def test_a_limit_that_nobody_approved_comes_first(space):
    started(space, critical_limit=None)
    assert line(space).waits_for == "you: have the critical limit approved, until then nobody may taste"


def test_it_is_the_turn_of_whose_kitchen_cooks(space):
    view = started(space, customer="Vale")
    assert line(space, VALE).waits_for == "the house: ask for the next program"
    assert not line(space, VALE).my_turn
    log_cook(space, VALE, development_id=view.id, cook=cook(), may_taste=YES)
    [record] = next_proposals(space, ANN, development_id=view.id)
    decide_proposal(space, ANN, proposal_id=record.id, decision="accept", reason="go")
    assert (line(space, ANN).waits_for, line(space, ANN).my_turn) == ("Vale: log cook 2", False)
    assert (line(space, VALE).waits_for, line(space, VALE).my_turn) == ("you: log cook 2", True)


@pytest.mark.parametrize(
    ("status", "what"),
    [
        ("proven", "hand the recipe over and close"),
        ("stalled", "relax the brief or close"),
        ("confirming", "ask for the next program"),
    ],
)
def test_the_assessment_decides_when_nothing_else_waits(space, status, what):
    view = started(space)
    assessment = Assessment.model_validate(
        {
            "status": status,
            "best_program": None,
            "confirmations": {"passed": 0, "needed": 3},
            "chance_reliable": 0.5,
            "advice": (),
        }
    )
    step = next_step(load(space, ANN, view.id), assessment)
    assert step is not None
    assert step.what == what


def test_idle_days_count_from_the_last_write_and_the_longest_waiting_comes_first(space, clock: Clock):
    older = started(space)
    clock.forward(days=3, hours=1)
    newer = started(space, dish="Newer")
    clock.forward(days=1)
    close_development(space, ANN, development_id=started(space, dish="Done").id, reason="x")
    clock.forward(hours=5)
    assert [(one.id, one.idle_days) for one in list_developments(space, BEN)][:2] == [(older.id, 4), (newer.id, 1)]
    log_cook(space, ANN, development_id=older.id, cook=cook(scores=None))
    assert list_developments(space, BEN)[0].id == newer.id


def test_a_list_and_a_view_agree(space):
    view = started(space)
    log_cook(space, ANN, development_id=view.id, cook=cook(), may_taste=YES)
    seen, one = view_development(space, ANN, development_id=view.id), line(space)
    assert (one.status, one.best_program, one.chance_reliable, one.token, one.moved_at) == (
        seen.assessment.status,
        seen.assessment.best_program,
        seen.assessment.chance_reliable,
        seen.token,
        seen.moved_at,
    )


def test_assessments_are_kept_for_the_next_start_of_the_tool(space, template, clock):
    from dataclasses import replace

    from tuner.services.memory import Memory

    view = started(space)
    fresh = replace(space, assessments=Memory(8), learned=Memory(2))
    expected = view_development(fresh, ANN, development_id=view.id).assessment
    restarted = replace(space, assessments=Memory(8), learned=NothingToLearn())
    assert [one.status for one in list_developments(restarted, ANN)] == [expected.status]


class NothingToLearn:
    """A memory that refuses to compute anything."""

    def get(self, key, make):
        raise AssertionError("the kept assessment should have been enough")


def test_a_list_takes_few_queries_for_each_development(space):
    record = add_oven(space, ANN, oven=oven())
    for index in range(4):
        start_development(space, ANN, brief=brief(dish=f"Dish {index}"), oven_id=record.id)
    list_developments(space, ANN)
    count = 0

    def counted(*_: object) -> None:
        nonlocal count
        count += 1

    event.listen(space.store._engine, "before_cursor_execute", counted)
    list_developments(space, ANN)
    event.remove(space.store._engine, "before_cursor_execute", counted)
    assert count <= 12 + 4 * 6
