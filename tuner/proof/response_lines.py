"""Straight lines through the responses of robustness cooks, and what they say about a box of portions.

Symbols and factors as in `robustness`. Levels have shape (n, 5), one column a factor, in the order of `two_level.FACTORS`.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from tuner.domain import SCORES, Brief, InvalidDocument, TestCook
from tuner.proof.robustness_results import Effect, Observation, OperatingWindow, Ranges, Widening
from tuner.proof.two_level import FACTORS
from tuner.proof.window_margins import edges

if TYPE_CHECKING:
    from numpy.typing import NDArray

CHANCE = 0.95
"""Chance with which the operating window must hold."""
_STEPS = 10
RESPONSES = ("core_low_c", "core_mean_c", "cook_loss_pct", *SCORES)
_INTERACTION = "start x load"


@dataclass(frozen=True, slots=True)
class _Fit:
    """One response: coefficients, residual sd, degrees of freedom, (X'X)^-1."""

    coefficients: NDArray[np.float64]
    sd: float
    free: int
    inverse: NDArray[np.float64]

    def at(self, rows: NDArray[np.float64]) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
        """(mean, standard error of the mean, standard deviation of one further cook) for rows of shape (n, p)."""
        error = self.sd * np.sqrt(np.einsum("ij,jk,ik->i", rows, self.inverse, rows))
        return rows @ self.coefficients, error, np.hypot(error, self.sd)


def coded_levels(ranges: Ranges, seen: Observation) -> list[float]:
    """Levels of one cook as achieved, in the order of `two_level.FACTORS`."""
    cook = seen.cook
    mass, start = cook.mass_g or ranges.mass_g, cook.start_temperature_c
    cold = ranges.start_c - (ranges.start_c if start is None else start)
    load = 2.0 * ((cook.load or 1) - 1) / (ranges.greatest_load - 1) - 1.0 if ranges.greatest_load > 1 else -1.0
    return [
        (mass - ranges.mass_g) / ranges.mass_reach_g if ranges.mass_reach_g > 0 else 0.0,
        cold / ranges.start_reach_c if ranges.start_reach_c > 0 else 0.0,
        load,
        seen.power,
        1.0 if seen.hot else -1.0,
    ]


class ResponseLines:
    """Straight lines for every response that was measured in all cooks."""

    def __init__(
        self,
        brief: Brief,
        ranges: Ranges,
        seen: Sequence[Observation],
        levels: NDArray[np.float64],
        varied: Sequence[int],
    ) -> None:
        self.brief, self.ranges, self.varied = brief, ranges, list(varied)
        self.held = np.where(np.isin(np.arange(len(FACTORS)), self.varied), np.nan, levels.mean(axis=0))
        self.both = {1, 2} <= set(varied)
        table = self._rows(levels)
        if self.both and np.linalg.matrix_rank(table) < table.shape[1]:
            self.both = False
            table = self._rows(levels)
        if np.linalg.matrix_rank(table) < table.shape[1]:
            raise InvalidDocument(
                ["The cooks don't tell the factors apart: two of them always moved together. Cook the rest of the plan."]
            )
        inverse: NDArray[np.float64] = np.asarray(np.linalg.pinv(table.T @ table), np.float64)
        self.spare = len(seen) - int(np.linalg.matrix_rank(table))
        self.fits: dict[str, _Fit] = {}
        for name in RESPONSES:
            values = [_response(brief, name, one.cook) for one in seen]
            known = [value for value in values if value is not None]
            if len(known) == len(seen):
                y = np.array(known)
                coefficients: NDArray[np.float64] = np.asarray(inverse @ table.T @ y, np.float64)
                rest = float(((y - table @ coefficients) ** 2).sum())
                self.fits[name] = _Fit(coefficients, math.sqrt(rest / self.spare), self.spare, inverse)

    def _rows(self, levels: NDArray[np.float64]) -> NDArray[np.float64]:
        """Rows of the linear model for levels of shape (n, 5)."""
        columns = [np.ones(len(levels)), *(levels[:, index] for index in self.varied)]
        return np.column_stack([*columns, levels[:, 1] * levels[:, 2]] if self.both else columns)

    def effects(self) -> list[Effect]:
        """Effects of every response, in the order of factors."""
        from scipy.stats import t

        names = [FACTORS[index] for index in self.varied] + ([_INTERACTION] if self.both else [])
        found = []
        for response, fit in self.fits.items():
            for place, name in enumerate(names, 1):
                effect = 2.0 * float(fit.coefficients[place])
                reach = 2.0 * float(t.ppf(0.975, fit.free)) * fit.sd * math.sqrt(float(fit.inverse[place, place]))
                found.append(Effect(response, name, effect, effect - reach, effect + reach))
        return found

    def _chances(self, levels: NDArray[np.float64]) -> NDArray[np.float64]:
        """Chance that one further cook at each of n levels is inside: core and loss as measured, scores as true means."""
        from scipy.special import stdtr

        missed = np.zeros(len(levels))
        rows = self._rows(levels)
        for name, fit in self.fits.items():
            low, high = window_of(self.brief, name)
            mean, error, sd = fit.at(rows)
            spread = np.maximum(error if name in SCORES else sd, 1e-9)
            for edge, sign in ((low, -1.0), (high, 1.0)):
                if edge is not None:
                    missed += stdtr(fit.free, -sign * (edge - mean) / spread)
        return np.maximum(0.0, 1.0 - missed)

    def chance_of_box(self, mass: float, start: float, load: int, *, hot: bool) -> float:
        """Lowest chance over the corners of a box: mass and start within +/- so many reaches, all loads up to `load`."""
        greatest = 2.0 * (load - 1) / (self.ranges.greatest_load - 1) - 1.0 if self.ranges.greatest_load > 1 else -1.0
        sides = [{-mass, mass}, {-start, start}, {-1.0, greatest}, {-1.0, 1.0}, {-1.0, 1.0} if hot else {-1.0}]
        return float(self._chances(self._filled(itertools.product(*sides))).min())

    def _filled(self, corners: Iterable[Sequence[float]]) -> NDArray[np.float64]:
        """Levels, shape (n, 5), with what was not varied left as it was."""
        return np.where(np.isnan(self.held), np.array(list(corners), float), self.held)

    def window(self) -> OperatingWindow | None:
        """The largest box that holds: first on a hot oven as well, then the most portions, then mass and start."""
        for hot in (True, False):
            for load in range(self.ranges.greatest_load, 0, -1):
                if self.chance_of_box(0.0, 0.0, load, hot=hot) >= CHANCE:
                    return self._largest(load, hot)
        return None

    def _largest(self, load: int, hot: bool) -> OperatingWindow:
        grid = [step / _STEPS for step in range(_STEPS + 1)]
        masses = grid if 0 in self.varied else [0.0]
        starts = grid if 1 in self.varied else [0.0]
        best = (-1.0, 0.0, 0.0, 0.0)
        for mass in masses:
            for start in starts:
                chance = self.chance_of_box(mass, start, load, hot=hot)
                if chance < CHANCE:
                    break  # a colder start only lowers it further
                best = max(best, ((0.05 + mass) * (0.05 + start), mass, start, chance))
        _, mass, start, chance = best
        half_g, half_c = mass * self.ranges.mass_reach_g, start * self.ranges.start_reach_c
        ends = (_up(self.ranges.mass_g - half_g), _down(self.ranges.mass_g + half_g))
        starts_c = (_up(self.ranges.start_c - half_c, 10), _down(self.ranges.start_c + half_c, 10))
        return OperatingWindow(ends, starts_c, load, chance, hot, _in_words(self.ranges, ends, starts_c, load, hot))

    def widenings(self, window: OperatingWindow | None) -> list[Widening]:
        """The whole tried range of one factor at a time, with the rest of the window as it is."""
        if window is None:
            return []
        mass = (window.mass_g[1] - self.ranges.mass_g) / self.ranges.mass_reach_g if self.ranges.mass_reach_g > 0 else 0.0
        start = (window.start_c[1] - self.ranges.start_c) / self.ranges.start_reach_c if self.ranges.start_reach_c > 0 else 0.0
        asked = []
        if 0 in self.varied and mass < 1:
            asked.append((f"mass +/- {self.ranges.mass_reach_g:g} g", (1.0, start, window.load, window.hot_oven)))
        if 1 in self.varied and start < 1:
            asked.append((f"start +/- {self.ranges.start_reach_c:g} °C", (mass, 1.0, window.load, window.hot_oven)))
        if window.load < self.ranges.greatest_load:
            asked.append(
                (f"up to {self.ranges.greatest_load} at a time", (mass, start, self.ranges.greatest_load, window.hot_oven))
            )
        if not window.hot_oven:
            asked.append(("on a hot oven", (mass, start, window.load, True)))
        return [Widening(words, self.chance_of_box(*box[:3], hot=box[3])) for words, box in asked]

    def corner(self, response: str, *, lowest: bool) -> dict[str, float]:
        """Corner of what was tried where a response is expected lowest or highest."""
        if response not in self.fits:
            return {}
        corners = self._filled(itertools.product((-1.0, 1.0), repeat=len(FACTORS)))
        means = self.fits[response].at(self._rows(corners))[0]
        chosen = corners[int(np.argmin(means) if lowest else np.argmax(means))]
        return {FACTORS[index]: float(chosen[index]) for index in self.varied}


def _response(brief: Brief, name: str, cook: TestCook) -> float | None:
    if name == "core_low_c":
        low = edges(brief, "core_temperature_c")[0]
        return None if low is None else min(cook.readings_c) - low
    if name == "core_mean_c":
        return sum(cook.readings_c) / len(cook.readings_c)
    return cook.cook_loss_pct if name == "cook_loss_pct" else cook.panel_mean(name)


def window_of(brief: Brief, name: str) -> tuple[float | None, float | None]:
    """(low, high) that a response must keep to, None where open."""
    if name == "core_low_c":
        return (None if edges(brief, "core_temperature_c")[0] is None else 0.0), None
    if name == "core_mean_c":
        return None, edges(brief, "core_temperature_c")[1]
    return edges(brief, name)


def _up(value: float, parts: int = 1) -> float:
    return math.ceil(value * parts - 1e-6) / parts


def _down(value: float, parts: int = 1) -> float:
    return math.floor(value * parts + 1e-6) / parts


def _in_words(ranges: Ranges, mass_g: tuple[float, float], start_c: tuple[float, float], load: int, hot: bool) -> str:
    half = min(mass_g[1] - ranges.mass_g, ranges.mass_g - mass_g[0])
    start = f"from {start_c[0]:g} to {start_c[1]:g} °C" if start_c[1] > start_c[0] else f"at {start_c[0]:g} °C"
    many = "one at a time" if load == 1 else f"up to {load} at a time"
    words = f"{ranges.mass_g:g} g +/- {max(half, 0):g} g, {start}, {many}"
    return words if hot else f"{words}, not on an oven that has just been cooking"
