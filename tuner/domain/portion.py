"""What goes into the oven."""

from __future__ import annotations

from typing import Literal, Self

from pydantic import Field, model_validator

from tuner.domain.model import Flag, Model, Number

Shape = Literal["slab", "cylinder", "sphere", "loose"]
StartState = Literal["frozen", "tempered", "chilled", "ambient"]

START_RANGES_C: dict[StartState, tuple[float, float]] = {
    "frozen": (-40.0, -0.5),
    "tempered": (-10.0, -0.5),
    "chilled": (-2.0, 10.0),
    "ambient": (8.0, 60.0),
}
"""Start temperatures that are possible for each state [°C]; edges belong to the range."""

FRACTIONS = ("water", "fat", "protein", "carbohydrate", "ash")


class Tolerance(Model):
    """How far a portion may differ from the brief and still count."""

    mass_pct: Number | None = Field(default=None, gt=0, le=50)
    start_temperature_c: Number | None = Field(default=None, gt=0, le=30)


class Portion(Model):
    """Mass, shape, make-up (mass fractions), and state and temperature at the start."""

    mass_g: Number = Field(ge=1, le=20000)
    shape: Shape
    thickness_mm: Number = Field(ge=1, le=250)
    water: Number = Field(ge=0, le=1)
    fat: Number = Field(ge=0, le=1)
    protein: Number = Field(ge=0, le=1)
    carbohydrate: Number = Field(ge=0, le=1)
    ash: Number = Field(ge=0, le=1)
    fibre: Number | None = Field(default=None, ge=0, le=1)
    salt: Number | None = Field(default=None, ge=0, le=0.3)
    start_state: StartState
    start_temperature_c: Number = Field(ge=-40, le=60)
    intact: Flag | None = None
    covered: Flag | None = None
    tolerance: Tolerance | None = None

    @model_validator(mode="after")
    def _possible(self) -> Self:
        total = sum(getattr(self, name) for name in FRACTIONS) + (self.fibre or 0.0)
        if total > 1.02:
            raise ValueError(
                f"water, fat, protein, carbohydrate, ash and fibre add up to {total:.3g}. "
                "Mass fractions must not add up to more than 1.02. Give fractions of the mass, 70 % water as 0.70"
            )
        low, high = START_RANGES_C[self.start_state]
        if not low <= self.start_temperature_c <= high:
            raise ValueError(
                f"start_temperature_c is {self.start_temperature_c:g} °C. A {self.start_state} portion starts at "
                f"{low:g} to {high:g} °C. Correct the temperature or the start_state"
            )
        return self
