"""The food of a portion as the simulation needs it: a few numbers from its make-up."""

from __future__ import annotations

from dataclasses import dataclass

from tuner.domain import Portion
from tuner.physics import freezing
from tuner.physics.choi_okos import mixture_conductivity, mixture_density, mixture_specific_heat

GENERIC_MAKE_UP = {"water": 0.66, "protein": 0.14, "fat": 0.10, "carbohydrate": 0.08, "ash": 0.02}
"""What the part of a portion that nobody described is taken to be (assumption: a mixed savoury dish)."""

_COOKING_C = 45.0
"""Middle of chilled to done [°C]: unfrozen properties are taken there, they vary by 3 % from 4 to 90 °C."""

_DEEP_FROZEN_C = -20.0


@dataclass(frozen=True)
class Food:
    """Properties of the food, constant while unfrozen.

    Attributes
    ----------
    make_up
        Mass fractions that add up to 1: what the portion says, filled up with `GENERIC_MAKE_UP`.
    density
        Unfrozen density [kg/m3].
    specific_heat, conductivity
        Unfrozen [J/(kg K)], [W/(m K)].
    freezing_point_c, freezable, solids
        Initial freezing point [°C], freezable water and solids [kg/kg].
    frozen_conductivity_ratio
        Conductivity with all freezable water frozen over unfrozen.
    """

    make_up: dict[str, float]
    density: float
    specific_heat: float
    conductivity: float
    freezing_point_c: float
    freezable: float
    solids: float
    frozen_conductivity_ratio: float

    @property
    def water(self) -> float:
        """Water [kg/kg]."""
        return self.make_up["water"]

    @property
    def protein(self) -> float:
        """Protein [kg/kg]."""
        return self.make_up["protein"]

    def enthalpy(self, temperature_c: float) -> float:
        """Enthalpy above that at the freezing point [J/kg], boiling left out."""
        if temperature_c >= self.freezing_point_c:
            return self.specific_heat * (temperature_c - self.freezing_point_c)
        return freezing.frozen_enthalpy(self.freezable, self.solids, self.freezing_point_c, temperature_c)


def filled_make_up(portion: Portion) -> dict[str, float]:
    """Mass fractions of the portion that add up to 1.

    More than 1 is scaled down; what is missing to 1 is filled with `GENERIC_MAKE_UP`, so that any legal portion, even one
    that tells nothing, has properties.
    """
    told = {name: getattr(portion, name) for name in ("water", "protein", "fat", "carbohydrate", "ash")}
    told["fibre"] = portion.fibre or 0.0
    total = sum(told.values())
    if total >= 1.0:
        return {name: value / total for name, value in told.items()}
    return {name: value + (1.0 - total) * GENERIC_MAKE_UP.get(name, 0.0) for name, value in told.items()}


def _conductivity(fractions: dict[str, float], temperature_c: float) -> float:
    """Geometric mean of the two bounds: between parallel and series, where unfrozen foods are found."""
    parallel, series = mixture_conductivity(fractions, temperature_c)
    return float((parallel * series) ** 0.5)


def _frozen_conductivity_ratio(make_up: dict[str, float], freezable: float) -> float:
    """Conductivity with all freezable water frozen over unfrozen, both with the components side by side.

    Ice is the continuous phase of frozen food, so the parallel bound is the near one. Water that never freezes is counted
    with the protein that binds it: the polynomials of water end at 0 °C.
    """
    frozen = {name: value for name, value in make_up.items() if name != "water"} | {"ice": freezable}
    frozen["protein"] += make_up["water"] - freezable
    ratio = mixture_conductivity(frozen, _DEEP_FROZEN_C)[0] / mixture_conductivity(make_up, _COOKING_C)[0]
    return max(ratio, 1.0)


def food_of(portion: Portion) -> Food:
    """Properties of a portion's food."""
    make_up = filled_make_up(portion)
    water = make_up["water"]
    freezing_point = freezing.initial_freezing_point_c(water)
    freezable = freezing.freezable_water(water, make_up["protein"])
    return Food(
        make_up=make_up,
        density=mixture_density(make_up, _COOKING_C),
        specific_heat=mixture_specific_heat(make_up, _COOKING_C),
        conductivity=_conductivity(make_up, _COOKING_C),
        freezing_point_c=freezing_point,
        freezable=freezable,
        solids=1.0 - water,
        frozen_conductivity_ratio=_frozen_conductivity_ratio(make_up, freezable),
    )
