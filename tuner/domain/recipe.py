"""The recipe around a program: ingredients, preparation, trayware, yield; its allergens; scaling.

A recipe may be kept while parts are missing; `missing_parts` says which, and a card is refused until none are.
"""

from __future__ import annotations

from dataclasses import dataclass

from pydantic import Field

from tuner.domain.errors import InvalidDocument
from tuner.domain.model import Model, Number, Text, Whole

Step = Text


class RecipeIngredient(Model):
    """One ingredient in order of use. Allergens left out are unknown; an empty list means none."""

    name: Text = Field(min_length=1, max_length=200)
    amount_g: Number | None = Field(default=None, gt=0, le=1e6)
    measure: Text | None = Field(default=None, max_length=100)
    form: Text | None = Field(default=None, max_length=200)
    allergens: tuple[Text, ...] | None = None
    may_contain: tuple[Text, ...] | None = None
    supplier: Text | None = Field(default=None, max_length=200)


class Recipe(Model):
    """What is done before, around and after the program.

    Attributes
    ----------
    ingredients
        In order of use, for `portions` portions.
    before, after
        Steps of work before the oven and after the rest; empty lists mean nothing is done.
    trayware, placement
        What the portion stands on, and where and how.
    portions, serving_g
        How many portions the amounts give, and what one served portion weighs [g].
    photo
        SHA-256 of the kept photo of the result.
    hold_s
        How long the served portion may be held hot [s]; 0: serve at once.
    fallback
        What to do when the oven is down.
    """

    ingredients: tuple[RecipeIngredient, ...] = ()
    before: tuple[Step, ...] | None = None
    after: tuple[Step, ...] | None = None
    trayware: Text | None = Field(default=None, max_length=300)
    placement: Text | None = Field(default=None, max_length=300)
    portions: Whole | None = Field(default=None, ge=1, le=100000)
    serving_g: Number | None = Field(default=None, gt=0, le=20000)
    serving_utensil: Text | None = Field(default=None, max_length=200)
    photo: Text | None = Field(default=None, min_length=64, max_length=64)
    hold_s: Number | None = Field(default=None, ge=0, le=86400)
    shelf: Text | None = Field(default=None, max_length=300)
    fallback: Text | None = Field(default=None, max_length=500)


_ASKED = (
    ("before", "the steps before cooking (an empty list where there are none)"),
    ("after", "the steps after the rest (an empty list where there are none)"),
    ("trayware", "the trayware"),
    ("placement", "where and how the portion is placed"),
    ("portions", "how many portions it yields"),
    ("serving_g", "what one served portion weighs"),
    ("photo", "a photo of the result"),
)


def missing_parts(recipe: Recipe) -> tuple[str, ...]:
    """What is missing before this is a recipe and not only a program; empty when it is whole."""
    missing = [] if recipe.ingredients else ["the ingredients with their amounts"]
    missing += [f"the amount of {one.name}" for one in recipe.ingredients if one.amount_g is None]
    missing += [words for field, words in _ASKED if getattr(recipe, field) is None]
    missing += [f"the allergens of {name}" for name in allergens_of(recipe).unknown]
    return tuple(missing)


@dataclass(frozen=True, slots=True)
class DeclaredAllergens:
    """What a dish contains and may contain; `unknown` names ingredients nobody has answered for: that is not none."""

    contains: tuple[str, ...]
    may_contain: tuple[str, ...]
    unknown: tuple[str, ...]

    @property
    def known(self) -> bool:
        """Whether every ingredient was answered for."""
        return not self.unknown

    def in_words(self) -> str:
        """One sentence for a card."""
        contains = f"Contains {', '.join(self.contains)}." if self.contains else "Contains none of the listed allergens."
        may = f" May contain {', '.join(self.may_contain)}." if self.may_contain else ""
        unknown = f" Not known for {', '.join(self.unknown)}: treat as containing allergens." if self.unknown else ""
        return (contains if self.known or self.contains else "") + may + unknown


def allergens_of(recipe: Recipe, *, stated: tuple[str, ...] | None = None) -> DeclaredAllergens:
    """Allergens of a recipe from its ingredients, together with those the brief states.

    Parameters
    ----------
    stated
        Allergens named elsewhere, which are never dropped.
    """
    contains = _each_once(stated or (), *(one.allergens or () for one in recipe.ingredients))
    may = _each_once(*(one.may_contain or () for one in recipe.ingredients))
    unknown = tuple(one.name for one in recipe.ingredients if one.allergens is None)
    had = {name.casefold() for name in contains}
    return DeclaredAllergens(contains, tuple(name for name in may if name.casefold() not in had), unknown)


def _each_once(*lists: tuple[str, ...]) -> tuple[str, ...]:
    found: dict[str, str] = {}
    for names in lists:
        for name in names:
            found.setdefault(name.strip().casefold(), name.strip())
    return tuple(found.values())


def scaled(recipe: Recipe, portions: int) -> Recipe:
    """The recipe for another number of portions: amounts by the adjustment factor, everything else as it was.

    Amounts in words (`measure`) can't be scaled and are left out. Cooking stays one load at a time: the program belongs to
    the portion, not to the batch.

    Raises
    ------
    InvalidDocument
        If the recipe has no yield yet, or the number is below 1.
    """
    if recipe.portions is None:
        raise InvalidDocument(["portions is missing. Scaling starts from a known yield. Say how many portions it gives."])
    if portions < 1:
        raise InvalidDocument([f"portions is {portions}. At least one portion is made. Give a whole number from 1 up."])
    factor = adjustment_factor(portions, recipe.portions)
    document = recipe.model_dump(exclude_unset=True)
    document["portions"] = portions
    document["ingredients"] = [_scaled(one, factor) for one in document.get("ingredients", ())]
    return Recipe.model_validate(document)


def _scaled(ingredient: dict[str, object], factor: float) -> dict[str, object]:
    amount = ingredient.get("amount_g")
    kept = {name: value for name, value in ingredient.items() if name != "measure" or factor == 1}
    return kept if not isinstance(amount, int | float) else {**kept, "amount_g": amount * factor}


def adjustment_factor(wanted: float, present: float) -> float:
    """Wanted yield / present yield (published guidance on standardised recipes)."""
    return wanted / present


def servings(total_yield: float, serving_size: float) -> float:
    """Number of servings of a total yield in the unit of the serving size."""
    return total_yield / serving_size


def edible_from_purchased(purchased: float, yield_share: float) -> float:
    """Edible portion of a purchased amount: EP = AP x yield."""
    return purchased * yield_share


def purchased_from_edible(edible: float, *yield_shares: float) -> float:
    """Amount to purchase for an edible amount; the yields of stages multiply: AP = EP / (y1 y2 ...)."""
    for share in yield_shares:
        edible /= share
    return edible
