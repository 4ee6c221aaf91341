"""Plans that can't be won are told apart from those that can."""

from dataclasses import replace

import pytest

from tuner.domain import Window
from tuner.rehearsal import catalogue, kitchen
from tuner.rehearsal.construction import UnwinnableError, build
from tuner.rehearsal.grid import duration_range
from tuner.rehearsal.invented import invented_plan
from tuner.rehearsal.named import NAMED


def too_short(plan):
    return replace(plan, longest_s=plan.oven.duration_s.low)


def test_a_plan_without_time_to_cook_is_refused():
    with pytest.raises(UnwinnableError, match="'hand-pie' can't be won"):
        build(too_short(NAMED["hand-pie"]))


def test_a_seed_whose_first_plan_fails_gets_another_dish(monkeypatch):
    usual = kitchen(7)

    def first_fails(seed, draw):
        return invented_plan(seed, draw) if draw else too_short(invented_plan(seed))

    monkeypatch.setattr(catalogue, "invented_plan", first_fails)
    other = catalogue._invented.__wrapped__(7)
    assert other.name == "seed-7"
    assert other.brief != usual.brief


def test_a_window_between_two_steps_of_the_oven_is_told():
    with pytest.raises(ValueError, match="has no duration step within 21 to 24 s"):
        duration_range(NAMED["pork-cutlet"].oven, Window(low=21, high=24))
