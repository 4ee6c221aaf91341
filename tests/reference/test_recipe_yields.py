"""Arithmetic of standardised recipes.

Source: Measuring Success with Standardized Recipes, USDA and National Food Service Management Institute, 2002, and the
Institute of Child Nutrition's guide: yield % = 100 cooked/raw, cook loss % = 100 - yield, AP = EP/yield, yields of stages
multiply, adjustment factor = wanted yield / present yield, servings = total yield / serving size. Values are exact arithmetic;
tolerance 1e-9 relative.
"""

from __future__ import annotations

import pytest

from tuner.domain import TestCook
from tuner.domain.recipe import (
    Recipe,
    adjustment_factor,
    edible_from_purchased,
    purchased_from_edible,
    scaled,
    servings,
)

pytestmark = pytest.mark.reference


def test_number_of_servings():
    assert servings(16.0, 0.5) == pytest.approx(32.0, rel=1e-9)  # 1 US gallon is 16 cups, servings of half a cup


def test_adjustment_factor():
    assert adjustment_factor(150, 60) == pytest.approx(2.5, rel=1e-9)


def test_edible_and_purchased():
    assert edible_from_purchased(10, 0.81) == pytest.approx(8.1, rel=1e-9)
    assert purchased_from_edible(8.1, 0.81) == pytest.approx(10.0, rel=1e-9)


def test_cook_loss_of_the_cooking_yield():
    cook = TestCook.model_validate({"mass_g": 1800, "mass_out_g": 1404, "purpose": "benchmark"})
    assert cook.cook_loss_pct == pytest.approx(22.0, rel=1e-9)  # yield 78 %, and both make 100 %


def test_stages_multiply():
    assert edible_from_purchased(edible_from_purchased(1, 0.85), 0.78) == pytest.approx(0.663, rel=1e-9)
    assert purchased_from_edible(120 * 0.090, 0.85, 0.78) == pytest.approx(16.28959276, rel=1e-9)  # kg for 120 portions of 90 g


def test_a_scaled_recipe_uses_the_factor():
    recipe = Recipe.model_validate({"portions": 60, "ingredients": [{"name": "flour", "amount_g": 400}]})
    assert scaled(recipe, 150).ingredients[0].amount_g == pytest.approx(1000.0, rel=1e-9)  # baker's scale: factor 2.5
