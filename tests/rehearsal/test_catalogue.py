"""Finding kitchens: names, seeds, and the same kitchen every time."""

import numpy as np
import pytest

from tuner.domain import Brief, NotFound, Oven, TestCook
from tuner.rehearsal import Kitchen, kitchen, names
from tuner.rehearsal.catalogue import _furnished
from tuner.rehearsal.invented import invented_plan
from tuner.rehearsal.named import NAMED

BANNED = (
    "pastry",
    "chateaubriand",
    "turned",
    "asparagus",
    "souffl",
    "alaska",
    "pasta",
    "mushroom",
    "whole chicken",
    "shrimp",
    "toast",
)


def test_at_least_eight_named_kitchens_cook_unlike_dishes_at_unlike_ovens():
    plans = list(NAMED.values())
    assert names() == [plan.name for plan in plans]
    assert len(plans) >= 8
    assert len({plan.dish for plan in plans}) == len(plans)
    assert {plan.food_class for plan in plans} >= {
        "poultry", "ground_meat", "whole_muscle", "fish", "egg", "stuffed", "reheated", "plant", "bakery",
    }  # fmt: skip
    assert {plan.portion.start_state for plan in plans} == {"frozen", "chilled", "ambient"}
    ovens = {plan.oven.name: plan.oven for plan in plans}.values()
    assert len(ovens) >= 6
    assert sum(oven.air_temperature_c.count == 1 for oven in ovens) == 1
    for trait in ("microwave_rated_w", "air_speed_max_m_s", "max_stages", "share_step_pct"):
        assert len({getattr(oven, trait) for oven in ovens}) >= 3, trait


def test_no_kitchen_cooks_a_dish_that_is_not_ours():
    dishes = [plan.dish for plan in NAMED.values()] + [invented_plan(seed).dish for seed in range(200)]
    assert not [dish for dish in dishes for word in BANNED if word in dish.lower()]


def test_an_unknown_name_is_answered_with_the_nearest_known_one():
    with pytest.raises(NotFound, match="Did you mean 'pork-cutlet'"):
        kitchen("pork-cutlett")
    with pytest.raises(NotFound, match="Known: pork-cutlet"):
        kitchen("zzz")


def test_a_seed_may_be_written_as_text_and_numpy_counts_as_a_whole_number():
    assert kitchen("7") is kitchen(7) is kitchen(np.int64(7))


def test_a_fraction_is_no_seed():
    with pytest.raises(TypeError):
        kitchen(2.5)


@pytest.mark.parametrize("seed", [-1, 10**30])
def test_any_whole_number_is_a_seed(seed):
    here = kitchen(seed)
    assert isinstance(here, Kitchen)
    assert here.name == f"seed-{seed}"
    assert here.inside(here.good_program, np.random.default_rng(1), 400) >= 0.95


def test_kitchens_are_the_same_whenever_they_are_built():
    for plan in (NAMED["lamb-kofta"], invented_plan(7)):
        one, other = _furnished(plan), _furnished(plan)
        assert one == other
        assert one.brief.model_dump_json() == other.brief.model_dump_json()


def test_building_one_kitchen_leaves_the_global_random_state_alone():
    np.random.seed(5)
    before = np.random.get_state()[1].tolist()
    _furnished(NAMED["lamb-kofta"])
    assert np.random.get_state()[1].tolist() == before


def test_different_seeds_give_different_kitchens():
    briefs = {kitchen(seed).brief.model_dump_json() for seed in (7, 8, 9)}
    assert len(briefs) == 3


@pytest.mark.parametrize("name", names())
def test_documents_of_a_kitchen_are_read_back_unchanged(name):
    here = kitchen(name)
    cook = here.cook(here.good_program, np.random.default_rng(1))
    for model, document in ((Brief, here.brief), (Oven, here.oven), (TestCook, cook)):
        written = document.model_dump(mode="json", exclude_unset=True)
        assert model.model_validate(written).model_dump(mode="json", exclude_unset=True) == written
