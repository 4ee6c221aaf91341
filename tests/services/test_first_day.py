"""The first day's plan: spread on the oven's steps, the first program twice, one extreme each way, drawn order."""

from __future__ import annotations

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from tests.services.invented import ANN, YES, brief, cook, oven, program, started
from tuner.domain import InvalidDocument, Program
from tuner.services import decide_proposal, first_day_plan, log_cook, next_proposals, view_development
from tuner.services.spread_programs import CHANGES, is_legal, variants

FIXED = {"low": 250, "high": 250}


class TestPlan:
    @pytest.mark.parametrize("count", [6, 7, 8])
    def test_it_holds_the_first_guess_twice_and_both_extremes(self, space, count):
        view = started(space)
        day = first_day_plan(space, ANN, development_id=view.id, count=count)
        assert len(day) == count
        keys = [record.program.key for record in day]
        assert keys[0] == keys[-1]
        assert len(set(keys)) == count - 1
        words = " ".join(reason for record in day for reason in record.proposal.reasons)
        assert "Deliberately too much" in words
        assert "Deliberately too little" in words
        assert [record.kind for record in day] == ["first_day"] * count
        assert [record.proposal.purpose for record in day] == ["first_guess", *["search"] * (count - 1)]
        assert all(is_legal(record.program, brief(), oven()) for record in day)

    def test_the_extremes_are_hotter_and_colder_than_the_first_guess(self, space):
        view = started(space)
        core = {
            record.proposal.reasons[0].split(",")[0]: record.proposal.forecast.attributes["core_temperature_c"].mean
            for record in first_day_plan(space, ANN, development_id=view.id)
        }
        first = core["The first guess"]
        assert core["Deliberately too little heat"] < first - 8
        assert core["Deliberately too much heat"] > first + 3  # the window allows no longer program here

    def test_what_may_stay_below_the_limit_says_so(self, space):
        view = started(space)
        for record in first_day_plan(space, ANN, development_id=view.id):
            said = any("below the critical limit" in reason for reason in record.proposal.reasons)
            assert said == (record.proposal.forecast.chance_safe < 0.9)

    def test_asked_again_it_is_the_same_plan(self, space, other_space):
        view, other = started(space), started(other_space)
        day = first_day_plan(space, ANN, development_id=view.id)
        assert first_day_plan(space, ANN, development_id=view.id) == day
        again = first_day_plan(other_space, ANN, development_id=other.id)
        assert [record.proposal for record in again] == [record.proposal for record in day]

    def test_its_sheets_stay_open_while_the_day_goes_on_and_are_given_before_new_ones(self, space):
        view = started(space)
        day = first_day_plan(space, ANN, development_id=view.id)
        decide_proposal(space, ANN, proposal_id=day[0].id, decision="accept", reason="start")
        document = {"program": day[0].program.model_dump()}
        log_cook(space, ANN, development_id=view.id, cook=cook(**document), may_taste=YES)
        now = view_development(space, ANN, development_id=view.id).proposals
        assert [record.state for record in now] == ["cooked", *["open"] * 5]
        assert next_proposals(space, ANN, development_id=view.id)[0].id == day[1].id

    def test_once_somebody_asks_for_more_than_the_plan_holds_it_is_over(self, space):
        view = started(space)
        first_day_plan(space, ANN, development_id=view.id)
        assert len(next_proposals(space, ANN, development_id=view.id, count=7)) == 7
        states = [record.state for record in view_development(space, ANN, development_id=view.id).proposals]
        assert states == ["overtaken"] * 6 + ["open"]

    @pytest.mark.parametrize("count", [5, 9])
    def test_a_count_out_of_range_is_refused(self, space, count):
        view = started(space)
        with pytest.raises(InvalidDocument, match=f"count is {count}"):
            first_day_plan(space, ANN, development_id=view.id, count=count)

    def test_an_oven_with_few_settings_gets_what_it_can_do(self, space):
        from tuner.services import add_oven, start_development

        narrow = oven(
            air_temperature_c=FIXED,
            air_speed_pct={"low": 100, "high": 100},
            microwave_pct={"low": 100, "high": 100},
            duration_s={"low": 100, "high": 120, "step": 10},
            max_stages=1,
        )
        record = add_oven(space, ANN, oven=narrow)
        view = start_development(space, ANN, brief=brief(), oven_id=record.id)
        day = first_day_plan(space, ANN, development_id=view.id)
        assert len({record.program.key for record in day}) == 3
        assert len(day) == 4


@st.composite
def settings_of(draw, low: float, high: float) -> dict[str, float]:
    first = draw(st.integers(int(low), int(high)))
    last = draw(st.integers(first, int(high)))
    return {"low": first, "high": last, "step": draw(st.sampled_from([1, 5, 7, 20]))}


@st.composite
def ovens_and_programs(draw):
    made = oven(
        air_temperature_c=draw(settings_of(150, 300)),
        air_speed_pct=draw(settings_of(0, 100)),
        microwave_pct=draw(settings_of(0, 100)),
        duration_s=draw(settings_of(20, 600)),
        share_step_pct=draw(st.sampled_from([1, 5, 10, 50, 100])),
        max_stages=draw(st.integers(1, 5)),
        min_stage_s=draw(st.sampled_from([None, 5, 30])),
    )
    stages = draw(st.integers(1, min(made.max_stages, made.share_parts, 3)))
    parts = [made.share_parts // stages] * stages
    parts[0] += made.share_parts - sum(parts)

    def pick(setting):
        return setting.at(draw(st.integers(0, setting.count - 1)))

    document = {
        "air_temperature_c": pick(made.air_temperature_c),
        "duration_s": pick(made.duration_s),
        "stages": [
            {
                "share_pct": part * made.share_step_pct,
                "air_speed_pct": pick(made.air_speed_pct),
                "microwave_pct": pick(made.microwave_pct),
            }
            for part in parts
        ],
    }
    return made, Program.model_validate(document)


@settings(deadline=None, max_examples=100)
@given(ovens_and_programs())
def test_spread_programs_are_legal_distinct_and_do_what_they_say(made):
    on, guess = made
    wanted = brief(targets={"duration_s": {"high": 400}})
    assume(is_legal(guess, wanted, on))
    for change in CHANGES:
        found = list(variants(guess, change, wanted, on))
        assert len({guess.key, *(one.key for one in found)}) == len(found) + 1
        for one in found:
            assert is_legal(one, wanted, on)
            late = one.stages[-1].air_speed_pct - guess.stages[-1].air_speed_pct
            assert late > 0 or not change.words.startswith("More late air")
            assert late < 0 or not change.words.startswith("Less late air")
            assert one.duration_s > guess.duration_s or not change.words.startswith("Slower")
            assert one.duration_s < guess.duration_s or not change.words.startswith("Faster")


def test_a_program_off_the_steps_or_out_of_the_window_is_not_legal():
    assert is_legal(program(), brief(), oven())
    assert not is_legal(program(duration_s=212), brief(), oven())
    assert not is_legal(program(duration_s=305), brief(), oven())
    assert not is_legal(program(air_temperature_c=275), brief(), oven())
    assert not is_legal(program(), brief(), oven(max_stages=1))
    assert not is_legal(program(), brief(), oven(share_step_pct=25))
    assert not is_legal(program(), brief(), oven(min_stage_s=100))
