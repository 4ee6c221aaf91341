"""Recipes: what is missing, allergens where unknown is not none, scaling."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from tuner.domain import InvalidDocument
from tuner.domain.recipe import Recipe, allergens_of, missing_parts, scaled

WHOLE = {
    "ingredients": [
        {"name": "chicken", "amount_g": 1800, "allergens": []},
        {
            "name": "crumb",
            "amount_g": 120,
            "measure": "2 cups",
            "allergens": ["Gluten", "milk"],
            "may_contain": ["sesame", "Milk"],
        },
    ],
    "before": [],
    "after": [],
    "trayware": "tray",
    "placement": "centred",
    "portions": 10,
    "serving_g": 160,
    "photo": "a" * 64,
}


def test_a_whole_recipe_lacks_nothing():
    assert missing_parts(Recipe.model_validate(WHOLE)) == ()


@pytest.mark.parametrize("field", ["ingredients", "before", "after", "trayware", "placement", "portions", "serving_g", "photo"])
def test_each_part_is_missed(field: str):
    recipe = Recipe.model_validate({name: value for name, value in WHOLE.items() if name != field})
    assert len(missing_parts(recipe)) == 1


def test_unknown_allergens_and_amounts_are_missed_by_the_ingredients_name():
    recipe = Recipe.model_validate({**WHOLE, "ingredients": [{"name": "glaze"}]})
    assert missing_parts(recipe) == ("the amount of glaze", "the allergens of glaze")


def test_what_is_contained_is_no_longer_only_possible_and_nothing_stated_is_dropped():
    found = allergens_of(Recipe.model_validate(WHOLE), stated=("celery",))
    assert (found.contains, found.may_contain, found.unknown) == (("celery", "Gluten", "milk"), ("sesame",), ())
    assert found.in_words() == "Contains celery, Gluten, milk. May contain sesame."


def test_unknown_is_never_told_as_none():
    found = allergens_of(Recipe.model_validate({"ingredients": [{"name": "glaze", "amount_g": 1}]}))
    assert not found.known
    assert "none" not in found.in_words()
    assert "Not known for glaze" in found.in_words()


def test_an_empty_list_is_none():
    found = allergens_of(Recipe.model_validate({"ingredients": [{"name": "water", "amount_g": 1, "allergens": []}]}))
    assert found.in_words() == "Contains none of the listed allergens."


@given(st.integers(1, 5000))
def test_amounts_for_one_portion_stay_the_same_whatever_the_yield(portions: int):
    recipe = Recipe.model_validate(WHOLE)
    made = scaled(recipe, portions)
    for before, after in zip(recipe.ingredients, made.ingredients, strict=True):
        assert after.amount_g == pytest.approx(before.amount_g * portions / 10, rel=1e-12)
        assert (after.allergens, after.may_contain) == (before.allergens, before.may_contain)
    assert (made.portions, made.serving_g, made.trayware) == (portions, 160, "tray")


def test_amounts_in_words_are_left_out_when_they_no_longer_fit():
    assert scaled(Recipe.model_validate(WHOLE), 20).ingredients[1].measure is None
    assert scaled(Recipe.model_validate(WHOLE), 10).ingredients[1].measure == "2 cups"


def test_scaling_needs_a_yield_and_a_portion():
    with pytest.raises(InvalidDocument, match="portions is missing"):
        scaled(Recipe.model_validate({"ingredients": []}), 5)
    with pytest.raises(InvalidDocument, match="At least one portion"):
        scaled(Recipe.model_validate(WHOLE), 0)


@pytest.mark.parametrize("change", [{"amount_g": 0}, {"amount_g": -1}, {"name": ""}, {"colour": "red"}])
def test_ingredients_that_can_not_be_are_refused(change: dict[str, object]):
    with pytest.raises(ValidationError):
        Recipe.model_validate({"ingredients": [{"name": "salt", "amount_g": 1, **change}]})
