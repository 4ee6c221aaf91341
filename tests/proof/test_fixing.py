from __future__ import annotations

from collections import Counter
from itertools import pairwise

import pytest

from tests.example import brief, program
from tests.proof.plan_cooking import FULL, LIGHT, OVENS, STANDARD, fixed
from tuner import proof
from tuner.domain import FixedPlan, PlanSetting
from tuner.proof.fixing import brief_hash, error_rates, fix

KINDS = [LIGHT, STANDARD, FULL]
IDS = ["light", "standard", "full"]


@pytest.mark.parametrize("kind", KINDS, ids=IDS)
def test_the_fixed_plan_has_the_cooks_of_the_default_one_part_by_part(kind) -> None:
    default, plan = proof.plan(brief(**kind)), fixed(kind)
    counted = Counter(slot.part for slot in plan.slots if not slot.contingent)
    assert {part.name: part.cooks for part in default.parts} == dict(counted)
    assert (plan.cooks, plan.days, plan.ovens, plan.strength) == (default.cooks, default.days, default.ovens, default.strength)


def test_error_rates_are_shown_for_every_part() -> None:
    chances = fixed().chance_to_accept
    assert chances["worst corner"][0.05] == pytest.approx(0.05)
    assert chances["over ovens"][0.05] < 0.05
    assert fixed(LIGHT).chance_to_accept["over ovens"][0.1] == pytest.approx(0.43, abs=0.005)


@pytest.mark.parametrize("kind", [STANDARD, FULL], ids=["standard", "full"])
def test_ovens_that_differ_let_more_bad_recipes_and_fewer_good_ones_through(kind) -> None:
    chances = fixed(kind).chance_to_accept
    alike, differing = chances["over ovens"], chances["over ovens that differ"]
    assert differing[0.2] > alike[0.2]
    assert differing[0.05] <= (0.05 if kind is FULL else 0.64)
    assert kind is STANDARD or differing[0.001] < alike[0.001]


def test_error_rates_are_said_in_words() -> None:
    said = error_rates(fixed())
    assert "worst corner accepts a recipe that fails 1 in 20: 5 %" in said
    assert len(said) == 12


def test_the_plan_is_bound_to_what_it_stands_on_and_to_nothing_else() -> None:
    assert brief_hash(brief()) == brief_hash(brief(dish="Renamed", preparation="Brush with oil"))
    assert brief_hash(brief()) != brief_hash(brief(rest_s=130))
    assert brief_hash(brief()) != brief_hash(brief(critical_limit__core_temperature_c=75))


@pytest.mark.parametrize("kind", KINDS, ids=IDS)
def test_the_order_is_drawn_by_the_seed_within_blocks_of_days_and_ovens(kind) -> None:
    one, same = fixed(kind), fixed(kind)
    other = fixed(kind, PlanSetting(ovens=OVENS, greatest_load=2, seed=4))
    assert one.hash == same.hash != other.hash
    sequence = [(slot.part, slot.oven, slot.mass_g, slot.load) for slot in one.slots]
    assert sequence != [(slot.part, slot.oven, slot.mass_g, slot.load) for slot in other.slots]
    assert [slot.day for slot in one.slots] == sorted(slot.day for slot in one.slots)
    assert [slot.number for slot in one.slots] == list(range(1, len(one.slots) + 1))
    blocks = [(slot.day, slot.oven) for slot in one.slots if slot.part != "map"]
    changes = sum(a != b for a, b in pairwise(blocks))
    assert changes == len(set(blocks)) - 1


def test_maps_come_first_and_the_worst_corner_is_the_hardest_allowed() -> None:
    plan = fixed()
    assert [slot.part for slot in plan.slots[:3]] == ["map"] * 3
    assert all(slot.places >= 9 for slot in plan.slots[:3])
    worst = [slot for slot in plan.slots if slot.part == "worst corner"]
    assert {(s.oven, s.hot, s.load) for s in worst} == {("A", True, 2)}
    assert all(s.start_temperature_c == 1 and s.mass_g == 189 for s in worst)
    first = [slot for slot in worst if not slot.contingent]
    assert len({slot.person for slot in first}) == len({slot.lot for slot in first}) == 2
    assert len({slot.day for slot in first}) == 3


def test_every_oven_cooks_as_often_and_on_every_day() -> None:
    over = [slot for slot in fixed().slots if slot.part == "over ovens"]
    assert set(Counter(slot.oven for slot in over).values()) == {5}
    assert len({(slot.oven, slot.day) for slot in over}) == 18


def test_a_brief_that_is_colder_or_heavier_than_its_worst_corner_is_refused() -> None:
    with pytest.raises(ValueError, match="warmer"):
        fix(brief(), program(), PlanSetting(coldest_c=6))
    with pytest.raises(ValueError, match="lighter"):
        fix(brief(), program(), PlanSetting(heaviest_g=170))
    with pytest.raises(ValueError, match="twice"):
        fix(brief(), program(), PlanSetting(ovens=("A", "A")))


def test_a_plan_may_be_stronger_than_its_class_asks_for_and_never_weaker() -> None:
    assert fixed(STANDARD, PlanSetting(strength="full")).strength == "full"
    with pytest.raises(ValueError, match="never weaker"):
        fixed(FULL, PlanSetting(strength="standard"))


def test_attempts_need_a_cause_get_stricter_and_end() -> None:
    with pytest.raises(ValueError, match="cause"):
        fixed(attempt=2)
    assert [fixed(attempt=n, cause="fan replaced").confidence for n in (1, 2, 3)] == pytest.approx([0.95, 0.975, 0.9875])
    with pytest.raises(ValueError, match="at most"):
        fixed(attempt=4, cause="again")
    for kind in (LIGHT, STANDARD):
        first, second = fixed(kind), fixed(kind, attempt=2, cause="fan replaced")
        assert second.cooks > first.cooks
        assert second.chance_to_accept["over ovens"][0.1] <= first.chance_to_accept["over ovens"][0.1] / 2


def test_three_ovens_are_the_same_test_and_said_to_be_weaker() -> None:
    plan = fixed(FULL, PlanSetting(ovens=("A", "B", "C"), three_ovens=True))
    assert (plan.ovens, plan.cooks_each, plan.cooks) == (3, 10, 58)
    assert any("weaker" in text for text in plan.remarks)
    assert plan.chance_to_accept["over ovens"][0.001] < fixed().chance_to_accept["over ovens"][0.001]


@pytest.mark.parametrize("kind", KINDS, ids=IDS)
def test_a_plan_and_its_hash_survive_their_json(kind) -> None:
    plan = fixed(kind)
    again = FixedPlan.model_validate_json(plan.model_dump_json())
    assert (again, again.hash) == (plan, plan.hash)
