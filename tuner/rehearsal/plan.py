"""What a kitchen is made from, before its windows are found."""

from __future__ import annotations

from dataclasses import dataclass

from tuner.domain import CriticalLimit, FoodClass, Oven, Portion


@dataclass(frozen=True, slots=True)
class KitchenPlan:
    """Dish, oven and frame of a brief.

    Attributes
    ----------
    name, dish, food_class, allergens, ingredients
        What it is.
    portion, oven, limit
        What goes in, where, and what must be reached.
    core_low_c, core_high_c
        Core window; the limit with its guard may lie above the low edge.
    longest_s
        Upper edge of the duration window.
    rest_s, covered
        Rest that the brief asks for.
    tasters, taster_sd, places, confirmation_cooks
        Panel and thermometer.
    order
        How strongly the order of stages is to matter, at first: 0 where it is not meant to decide, else about 0.3 to 1.2.
    seed
        Fixes everything hidden.
    """

    name: str
    dish: str
    food_class: FoodClass
    allergens: tuple[str, ...]
    ingredients: tuple[str, ...]
    portion: Portion
    oven: Oven
    limit: CriticalLimit
    core_low_c: float
    core_high_c: float
    longest_s: float
    rest_s: float
    covered: bool
    tasters: int
    taster_sd: float
    places: int
    confirmation_cooks: int
    order: float
    seed: tuple[int, ...]

    @property
    def usable_low_c(self) -> float:
        """The higher of the window's low edge and limit + guard."""
        limit = self.limit
        return (
            self.core_low_c
            if limit.core_temperature_c is None
            else max(self.core_low_c, limit.core_temperature_c + limit.guard_c)
        )
