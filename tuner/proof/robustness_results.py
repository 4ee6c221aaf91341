"""What robustness cooks are held against, and what they show."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from tuner.domain import TestCook


@dataclass(frozen=True, slots=True)
class Ranges:
    """What is varied, and how far.

    Attributes
    ----------
    mass_g, start_c
        Nominal values: the brief's.
    mass_reach_g, start_reach_c
        How far either way; 0 where the factor is not varied.
    greatest_load
        Most portions at once; 1 where load is not varied.
    """

    mass_g: float
    start_c: float
    mass_reach_g: float
    start_reach_c: float
    greatest_load: int


@dataclass(frozen=True, slots=True)
class Observation:
    """One cook with its oven's place between strongest (-1) and weakest (+1), and whether the oven was hot."""

    cook: TestCook
    power: float
    hot: bool


@dataclass(frozen=True, slots=True)
class Effect:
    """Change of one response from a factor's easy to its hard side, everything else in the middle.

    Attributes
    ----------
    response, factor
        Names; `core_low_c` is the lowest reading less the usable low edge.
    effect, low, high
        Estimate and 95 % interval, in the unit of the response (K, %, marks).
    """

    response: str
    factor: str
    effect: float
    low: float
    high: float

    @property
    def clear(self) -> bool:
        """Whether the interval leaves out zero."""
        return self.low > 0 or self.high < 0


@dataclass(frozen=True, slots=True)
class OperatingWindow:
    """Where the recipe holds: a box of portions, on the weakest and the strongest oven, cold and hot as tried.

    Attributes
    ----------
    mass_g, start_c
        (low, high), edges belong to the window.
    load
        Most portions at once.
    chance
        Lowest chance over the corners of the box.
    hot_oven
        Whether it holds on a hot oven.
    words
        For the card.
    """

    mass_g: tuple[float, float]
    start_c: tuple[float, float]
    load: int
    chance: float
    hot_oven: bool
    words: str


@dataclass(frozen=True, slots=True)
class Widening:
    """The chance that would be left if the window were wider."""

    words: str
    chance: float


@dataclass(frozen=True, slots=True)
class Robustness:
    """What the robustness cooks show.

    Attributes
    ----------
    cooks, spare
        Cooks used, and degrees of freedom left.
    effects
        Of every response and factor that was varied.
    window
        None where it holds nowhere, not even for the brief's own portion.
    nominal_chance
        Chance for the brief's own portion, one at a time, on the worst of ovens and heat tried.
    widenings
        What a wider window would cost.
    coldest_corner, hottest_corner
        Levels where the core is expected coldest, and hottest.
    left_out
        Responses with a window that some cook lacks: the operating window says nothing about them.
    method
        In words, for the record.
    """

    cooks: int
    spare: int
    effects: tuple[Effect, ...]
    window: OperatingWindow | None
    nominal_chance: float
    widenings: tuple[Widening, ...]
    coldest_corner: Mapping[str, float]
    hottest_corner: Mapping[str, float]
    left_out: tuple[str, ...]
    method: str = "least squares on achieved levels; prediction intervals, joint chance by Bonferroni"
