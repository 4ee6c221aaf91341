"""What is wanted: dish, portion, conventional method, target windows, critical limit."""

from __future__ import annotations

from typing import Literal, Self

from pydantic import Field, model_validator

from tuner.domain.model import Flag, Model, Number, Text, Whole
from tuner.domain.portion import Portion

FoodClass = Literal["poultry", "ground_meat", "whole_muscle", "fish", "egg", "stuffed", "reheated", "plant", "bakery"]

ATTRIBUTES = ("core_temperature_c", "browning", "texture", "moisture", "cook_loss_pct")
"""Everything that is forecast, in the order of reports."""

SCORES = ("browning", "texture", "moisture")
"""The just-about-right scores, 1 to 5 with 3 just right."""


EDGE = 1e-9
"""Rounding of binary arithmetic that never decides whether a value lies on an edge: 75.9 less 2 is meant to be 73.9."""


class Window(Model):
    """Lowest and highest acceptable value; one side may be open; edges belong to the window."""

    low: Number | None = None
    high: Number | None = None

    @model_validator(mode="after")
    def _ordered(self) -> Self:
        if self.low is None and self.high is None:
            raise ValueError(
                "low and high are both missing. A window needs at least one edge. Add one, or leave the window out"
            )
        if self.low is not None and self.high is not None and self.low > self.high:
            raise ValueError(f"low {self.low:g} is above high {self.high:g}. low must not exceed high. Swap or correct them")
        return self

    def holds(self, value: float) -> bool:
        """Whether `value` lies inside, edges included."""
        return (self.low is None or value >= self.low - EDGE) and (self.high is None or value <= self.high + EDGE)


_WINDOW_RANGES = {
    "core_temperature_c": (-40.0, 120.0, True),
    "browning": (1.0, 5.0, True),
    "texture": (1.0, 5.0, True),
    "moisture": (1.0, 5.0, True),
    "cook_loss_pct": (-10.0, 80.0, False),
    "duration_s": (0.0, 7200.0, False),
}


class Targets(Model):
    """The windows; every one is optional. `duration_s` limits programs, it is not measured."""

    core_temperature_c: Window | None = None
    browning: Window | None = None
    texture: Window | None = None
    moisture: Window | None = None
    cook_loss_pct: Window | None = None
    duration_s: Window | None = None

    @model_validator(mode="after")
    def _possible(self) -> Self:
        for field, (lowest, highest, needs_width) in _WINDOW_RANGES.items():
            window: Window | None = getattr(self, field)
            if window is None:
                continue
            for edge in ("low", "high"):
                value = getattr(window, edge)
                if value is not None and not lowest <= value <= highest:
                    raise ValueError(
                        f"{field}, {edge} is {value:g}. It must lie within {lowest:g} to {highest:g}. "
                        "Check the value and its unit, and type it again"
                    )
            if needs_width and window.low is not None and window.low == window.high:
                raise ValueError(
                    f"{field}: low and high are both {window.low:g}. low must be below high, or no cook could be told "
                    "to be inside. Widen the window"
                )
        return self

    def of(self, attribute: str) -> Window | None:
        """Window of an attribute, or None where there is none.

        Raises
        ------
        KeyError
            If there is no such attribute.
        """
        if attribute not in _WINDOW_RANGES:
            raise KeyError(f"no attribute {attribute!r}; known are {', '.join(_WINDOW_RANGES)}")
        window: Window | None = getattr(self, attribute)
        return window


class CriticalLimit(Model):
    """The food-safety temperature and time that every portion must reach, or an approved 'nothing to kill'.

    The model never compares with the defaults of the food class: safety does. `moved` says how "turned or stirred" of a
    microwave rule is met. `count_come_up` and `count_rest` set to false leave the time before the limit is first reached,
    or the time after the program, out of the equivalent minutes: some rules do not let them count.
    """

    none: Flag | None = None
    core_temperature_c: Number | None = Field(default=None, ge=0, le=120)
    hold_s: Number = Field(default=0.0, ge=0, le=7200)
    rest_s: Number = Field(default=0.0, ge=0, le=3600)
    covered: Flag = False
    guard_c: Number = Field(default=2.0, ge=0, le=6)
    z_c: Number | None = Field(default=None, gt=0, le=50)
    reference_c: Number | None = Field(default=None, ge=0, le=150)
    required_min: Number | None = Field(default=None, gt=0, le=1e5)
    moved: Literal["turning or stirring system", "stopped and turned", "accepted in writing"] | None = None
    count_come_up: Flag | None = None
    count_rest: Flag | None = None
    rule: Text | None = Field(default=None, max_length=500)
    market: Text | None = Field(default=None, max_length=100)
    edition: Text | None = Field(default=None, max_length=100)
    approved_by: Text | None = Field(default=None, max_length=200)

    @model_validator(mode="after")
    def _one_kind(self) -> Self:
        if self.none and self.core_temperature_c is not None:
            raise ValueError(
                "none is true and core_temperature_c is given as well. A limit is either a temperature or an approved "
                "'nothing to kill'. Remove one of them"
            )
        if not self.none and self.core_temperature_c is None:
            raise ValueError(
                "core_temperature_c is missing. A limit needs its temperature, or none = true with rule and approved_by. "
                "Add the temperature, or leave critical_limit out to take the default of the food class"
            )
        if self.required_min is not None and (self.z_c is None or self.reference_c is None):
            raise ValueError(
                f"required_min is {self.required_min:g} but z_c or reference_c is missing. Minutes mean nothing without "
                "both. Add z_c and reference_c of the rule"
            )
        return self


class Conventional(Model):
    """How the dish is cooked now, with a result everyone is content with."""

    method: Text = Field(min_length=1, max_length=200)
    oven_temperature_c: Number = Field(ge=40, le=400)
    duration_s: Number = Field(ge=30, le=86400)


class Ingredient(Model):
    """One ingredient of the dish."""

    name: Text = Field(min_length=1, max_length=200)
    amount_g: Number | None = Field(default=None, ge=0, le=1e6)
    allergens: tuple[Text, ...] | None = None
    may_contain: tuple[Text, ...] | None = None
    supplier: Text | None = Field(default=None, max_length=200)


class Brief(Model):
    """What is wanted of one dish. Missing allergens mean unknown; an empty list means none."""

    dish: Text = Field(min_length=1, max_length=300)
    customer: Text | None = Field(default=None, max_length=200)
    food_class: FoodClass
    allergens: tuple[Text, ...] | None = None
    portion: Portion
    conventional: Conventional | None = None
    targets: Targets = Targets()
    critical_limit: CriticalLimit | None = None
    rest_s: Number = Field(default=60.0, ge=0, le=3600)
    confirmation_cooks: Whole = Field(default=3, ge=1, le=20)
    market: Text | None = Field(default=None, max_length=100)
    places: Whole = Field(default=3, ge=1, le=50)
    tasters: Whole = Field(default=4, ge=1, le=50)
    taster_sd: Number = Field(default=0.5, ge=0, le=2)
    cook_sd: Number = Field(default=0.2, ge=0, le=2)
    eaters: Literal["general", "vulnerable"] = "general"
    ingredients: tuple[Text | Ingredient, ...] | None = None
    preparation: Text | tuple[Text, ...] | None = None
    budget_cooks: Whole | None = Field(default=None, ge=1, le=1000)
    texture_with_heat: Literal["firmer", "softer"] | None = None
    cook_before_eating: Flag | None = None
    confirmed: tuple[Text, ...] | None = None
