"""Proposals: kept as issued for ever, decided on with a reason, in step with what was cooked."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from typing import get_args

import pytest

import tuner
from tests.services.invented import ANN, BEN, PROGRAM, YES, brief, cook, oven, program, started
from tuner.domain import Conflict, InvalidDocument, NoLegalProgram, NotAllowed
from tuner.services import (
    DevelopmentView,
    ProposalRecord,
    Workspace,
    decide_proposal,
    edit_brief,
    edit_oven,
    forecast_programs,
    log_cook,
    next_proposals,
    view_development,
    what_if,
)
from tuner.services.views import ProposalState


def now(space: Workspace, view: DevelopmentView) -> dict[int, ProposalRecord]:
    return {record.number: record for record in view_development(space, ANN, development_id=view.id).proposals}


def decide(space: Workspace, record: ProposalRecord, decision: str, **more) -> ProposalRecord:
    return decide_proposal(space, ANN, proposal_id=record.id, decision=decision, reason="because", **more)  # type: ignore[arg-type]


def cooked(space: Workspace, view: DevelopmentView, of: ProposalRecord, **changes) -> None:
    document = {"program": of.program.model_dump(), **changes}
    log_cook(space, ANN, development_id=view.id, cook=cook(**document), may_taste=YES)


class CooksMeanwhile:
    """A memory during whose work somebody logs a cook."""

    def __init__(self, space: Workspace, view: DevelopmentView, times: int) -> None:
        self.space, self.view, self.left = space, view, times

    def get(self, key, make):
        answer = make()
        if self.left:
            self.left -= 1
            log_cook(self.space, BEN, development_id=self.view.id, cook=cook(), may_taste=YES)
        return answer


class TestIssuing:
    def test_the_first_one_is_the_first_guess_with_all_that_made_it(self, space, clock):
        view = started(space)
        [record] = next_proposals(space, ANN, development_id=view.id)
        assert record.proposal == tuner.first_guess(brief(), oven())
        assert (record.number, record.kind, record.state, record.seed, record.decision) == (1, "next", "open", 0, None)
        assert record.tool_version == tuner.__version__
        assert {"numpy", "scipy", "python"} <= set(record.libraries)
        assert len(record.data_hash) == 64
        assert (record.issued_at, record.issued_by, record.program) == (clock.now, "Ann", record.proposal.program)

    def test_asked_again_the_open_one_is_given_and_none_is_added(self, space):
        view = started(space)
        first = next_proposals(space, ANN, development_id=view.id)
        assert next_proposals(space, BEN, development_id=view.id) == first
        assert len(now(space, view)) == 1

    def test_more_than_are_open_are_added_and_differ(self, space):
        view = started(space)
        [first] = next_proposals(space, ANN, development_id=view.id)
        three = next_proposals(space, ANN, development_id=view.id, count=3)
        assert three[0] == first
        assert len({record.program.key for record in three}) == 3
        assert [record.number for record in three] == [1, 2, 3]

    def test_another_workspace_proposes_the_same_for_the_same_data(self, space, other_space):
        found = []
        for place in (space, other_space):
            view = started(place)
            log_cook(place, ANN, development_id=view.id, cook=cook(), may_taste=YES, client_id="c")
            found.append(next_proposals(place, ANN, development_id=view.id, seed=3)[0])
        assert found[0].proposal == found[1].proposal
        assert (found[0].id, found[0].data_hash, found[0].seed) == (found[1].id, found[1].data_hash, 3)

    def test_it_is_what_the_call_gives_for_the_same_cooks_and_seed(self, space):
        view = started(space)
        log_cook(space, ANN, development_id=view.id, cook=cook(), may_taste=YES)
        [record] = next_proposals(space, ANN, development_id=view.id, seed=5)
        assert [record.proposal] == tuner.propose(brief(), oven(), [cook()], seed=5)

    def test_two_people_who_ask_at_the_same_time_get_the_same_one(self, space):
        view = started(space)
        with ThreadPoolExecutor(4) as pool:
            asked = [pool.submit(next_proposals, space, who, development_id=view.id) for who in (ANN, BEN) * 2]
            found = {record.id for one in asked for record in one.result()}
        assert len(found) == 1
        assert len(now(space, view)) == 1

    def test_cooks_that_come_in_meanwhile_are_counted_in(self, space):
        view = started(space)
        meanwhile = replace(space, learned=CooksMeanwhile(space, view, times=1))
        [record] = next_proposals(meanwhile, ANN, development_id=view.id)
        assert [record.proposal] == tuner.propose(brief(), oven(), [cook()])

    def test_if_they_never_stop_coming_in_it_says_so(self, space):
        view = started(space)
        meanwhile = replace(space, learned=CooksMeanwhile(space, view, times=9))
        with pytest.raises(Conflict, match="changed while the proposal was computed"):
            next_proposals(meanwhile, ANN, development_id=view.id)
        assert now(space, view) == {}

    @pytest.mark.parametrize("count", [0, 21])
    def test_a_count_out_of_range_is_refused(self, space, count):
        view = started(space)
        with pytest.raises(InvalidDocument, match=f"count is {count}"):
            next_proposals(space, ANN, development_id=view.id, count=count)

    def test_no_legal_program_is_said(self, space):
        windows = {**brief().targets.model_dump(exclude_none=True), "duration_s": {"high": 10}}
        view = started(space, targets=windows, confirmed=["targets.duration_s.high=10"])
        assert (view.assessment.status, view.feasibility.possible) == ("stalled", "no")
        with pytest.raises(NoLegalProgram):
            next_proposals(space, ANN, development_id=view.id)

    def test_it_stays_as_issued_whatever_happens_later(self, space):
        view = started(space)
        [record] = next_proposals(space, ANN, development_id=view.id)
        decide(space, record, "accept")
        edit_brief(space, ANN, development_id=view.id, brief=brief(dish="Renamed"))
        cooked(space, view, record)
        after = now(space, view)[1]
        assert (after.proposal, after.data_hash, after.brief_version) == (record.proposal, record.data_hash, 1)


class TestDeciding:
    def test_accepted_waits_then_is_cooked(self, space):
        view = started(space)
        [record] = next_proposals(space, ANN, development_id=view.id)
        accepted = decide(space, record, "accept")
        assert (accepted.state, accepted.decision and accepted.decision.reason) == ("accepted", "because")
        [other] = next_proposals(space, ANN, development_id=view.id)
        assert other.program != record.program  # the accepted one is to come, not proposed again
        cooked(space, view, record)
        states = {number: one.state for number, one in now(space, view).items()}
        assert states == {1: "cooked", 2: "overtaken"}

    def test_changed_is_cooked_as_changed(self, space):
        view = started(space)
        [record] = next_proposals(space, ANN, development_id=view.id)
        changed = decide(space, record, "change", program=program(duration_s=215))
        assert (changed.state, changed.program) == ("changed", program(duration_s=215))
        assert changed.proposal == record.proposal
        cooked(space, view, changed)
        assert now(space, view)[1].state == "cooked"

    def test_refused_is_never_proposed_again(self, space):
        view = started(space)
        [record] = next_proposals(space, ANN, development_id=view.id)
        assert decide(space, record, "refuse").state == "refused"
        fresh = next_proposals(space, ANN, development_id=view.id, count=5)
        assert record.program.key not in {one.program.key for one in fresh}

    def test_the_newest_decision_holds_and_all_are_kept(self, space):
        view = started(space)
        [record] = next_proposals(space, ANN, development_id=view.id)
        decide(space, record, "refuse")
        decide(space, record, "accept")
        after = view_development(space, ANN, development_id=view.id)
        assert after.proposals[0].state == "accepted"
        assert [one.decision for one in after.decisions] == ["refuse", "accept"]

    def test_one_cook_uses_up_one_of_two_equal_ones(self, space):
        view = started(space)
        first, second = next_proposals(space, ANN, development_id=view.id, count=2)
        decide(space, first, "accept")
        decide(space, second, "change", program=first.program)
        cooked(space, view, first)
        assert [one.state for one in now(space, view).values()] == ["cooked", "changed"]
        cooked(space, view, first)
        assert [one.state for one in now(space, view).values()] == ["cooked", "cooked"]

    def test_what_was_keyed_in_otherwise_is_still_the_cook_of_the_order(self, space):
        view = started(space)
        [record] = next_proposals(space, ANN, development_id=view.id)
        decide(space, record, "accept")
        cooked(space, view, record, program_set=PROGRAM)
        assert now(space, view)[1].state == "cooked"

    def test_new_cooks_overtake_what_nobody_decided(self, space):
        view = started(space)
        [record] = next_proposals(space, ANN, development_id=view.id)
        log_cook(space, ANN, development_id=view.id, cook=cook(), may_taste=YES)
        assert now(space, view)[1].state == "overtaken"
        with pytest.raises(NotAllowed, match="overtaken"):
            decide(space, record, "accept")
        [fresh] = next_proposals(space, ANN, development_id=view.id)
        assert fresh.number == 2

    @pytest.mark.parametrize("what", ["brief", "oven"])
    def test_another_brief_or_oven_overtakes_it(self, space, what):
        view = started(space)
        next_proposals(space, ANN, development_id=view.id)
        if what == "brief":
            edit_brief(space, ANN, development_id=view.id, brief=brief(rest_s=150))
        else:
            edit_oven(space, ANN, oven_id=view.oven_id, oven=oven(microwave_rated_w=1200))
        assert now(space, view)[1].state == "overtaken"

    def test_a_cooked_one_can_not_be_decided_again(self, space):
        view = started(space)
        [record] = next_proposals(space, ANN, development_id=view.id)
        cooked(space, view, record)
        with pytest.raises(NotAllowed, match="cooked already"):
            decide(space, record, "refuse")

    def test_sent_twice_it_is_one_decision_even_after_it_was_cooked(self, space):
        view = started(space)
        [record] = next_proposals(space, ANN, development_id=view.id)
        decide(space, record, "accept", client_id="d")
        cooked(space, view, record)
        assert decide(space, record, "accept", client_id="d").state == "cooked"
        assert len(view_development(space, ANN, development_id=view.id).decisions) == 1
        with pytest.raises(Conflict):
            decide(space, record, "refuse", client_id="d")

    def test_what_does_not_fit_is_refused(self, space):
        view = started(space)
        [record] = next_proposals(space, ANN, development_id=view.id)
        with pytest.raises(InvalidDocument, match="program is missing"):
            decide(space, record, "change")
        with pytest.raises(InvalidDocument, match="Only a change has a program"):
            decide(space, record, "accept", program=program())
        with pytest.raises(InvalidDocument, match="decision is 'maybe'"):
            decide(space, record, "maybe")
        with pytest.raises(InvalidDocument, match="reason"):
            decide_proposal(space, ANN, proposal_id=record.id, decision="accept", reason="")

    def test_states_are_the_words_that_views_promise(self):
        assert set(get_args(ProposalState)) == {"open", "accepted", "changed", "refused", "cooked", "overtaken"}


class TestForecasts:
    def test_any_program_can_be_asked_about_and_nothing_is_kept(self, space):
        view = started(space)
        log_cook(space, ANN, development_id=view.id, cook=cook(), may_taste=YES)
        token = view_development(space, ANN, development_id=view.id).token
        programs = [program(), program(duration_s=213.5)]
        several = forecast_programs(space, ANN, development_id=view.id, programs=programs)
        assert list(several) == tuner.forecast(brief(), oven(), [cook()], programs)
        assert what_if(space, ANN, development_id=view.id, program=programs[1]).program == programs[1]
        assert view_development(space, ANN, development_id=view.id).token == token

    def test_the_model_is_learned_once_for_the_same_data(self, space):
        from tuner.services.knowing import learned_of
        from tuner.services.loading import load

        view = started(space)
        first = learned_of(space, load(space, ANN, view.id))
        next_proposals(space, ANN, development_id=view.id)
        assert learned_of(space, load(space, ANN, view.id)) is first
        log_cook(space, ANN, development_id=view.id, cook=cook(), may_taste=YES)
        assert learned_of(space, load(space, ANN, view.id)) is not first
