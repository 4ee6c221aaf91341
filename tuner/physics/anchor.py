"""What the conventional method did to the dish: where its scores read about 3.

The conventional oven is simulated with the same physics. Its heat transfer coefficient is the one that best explains that
the core reached the middle of its window, because the recipe is known to work, weighed against what ovens have: where only
an impossible oven could do it (steam inside bread, a stirred filling), the coefficient stays possible. The doses and the
crust it leaves are the anchor of the scores. They shift with the parameters, linearly, so that an uncertain number which
acts on both methods alike cancels.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tuner.domain import Brief, Conventional
from tuner.physics.cooking import Rest, rest_segment
from tuner.physics.kinetics import bread_half_colour_s, heat_dose_rate
from tuner.physics.parameters import INDEX, PARAMETERS, natural
from tuner.physics.reading import core_reading, loss_pct
from tuner.physics.simulation import Body, Outcome, Segment, Simulation
from tuner.physics.skin import CAVITY_VAPOUR_PA

Array = NDArray[np.float64]

_H_GRID = np.geomspace(5.0, 250.0, 14)
"""From still air to a fryer [W/(m2 K)]."""

_FINE = 131
"""Points between which the likeliest coefficient is sought, ten to each step of the grid."""

_H_USUAL, _H_SPREAD_LOG = 30.0, 0.5
"""Conventional ovens [W/(m2 K)]: still 5-15, with a fan 15-50 (general texts), 33.4 in a published roasting model."""

_CORE_SPREAD_K, _CORE_DOUBT = 5.0, 16.0
"""How closely the model's core should meet the window's middle, and the penalty at which it is taken to have another
reason than h (assumption)."""

_MOVING = (
    "conductivity_factor",
    "reading_share",
    "browning_energy",
    "drying_capacity",
    "refill_time",
    "evaporation_factor",
    "pumped_share",
    "drip_factor",
)
"""Parameters that act on the conventional method too."""

_NUDGE = 0.5
"""Step of the central differences [theta]."""

_STEP_S, _FEWEST_STEPS, _MOST_STEPS = 20.0, 40, 120

LEAST_BROWNING_DOSE_S = 0.06 * bread_half_colour_s(180.0)
"""Added to the conventional browning dose [s at 180 °C]: about 20 s, so that a dish that was steamed or simmered, whose
surface never browned, still has a finite dose for score 3 (assumption)."""

_LARGEST_BROWNING_DOSE_S = 2e4

DEFAULT_OVEN_C, DEFAULT_DURATION_S, DEFAULT_THICKNESS_MM = 180.0, 1500.0, 28.0
"""Conventional recipe taken where the brief has none: 180 °C, 25 min for 28 mm, rising with the thickness to the power
of 1.5, 1.6 times as long from frozen (assumption)."""

ALLOWED_LOSS_SHARE = 0.8
"""The conventional dish loses this share of the largest allowed loss (assumption)."""

_HELD_AT_TARGET_S = 60.0
"""The conventional dish was at least this long at its core target: keeps the heat dose right where the model stays below."""

_DEFAULT_TARGET_C = 76.0
_OPEN_HALF_WIDTH_K = 5.0


@dataclass(frozen=True, eq=False)
class Anchor:
    """Where the scores read about 3, for any parameters.

    Attributes
    ----------
    h_w_m2k
        Coefficient of the conventional oven that explains the recipe.
    core_c, loss_pct
        Core reading [°C] and loss [%] of the conventional recipe in the model.
    base : ndarray (3,)
        Logarithm of the browning dose, log(1 + heat dose) and square root of the crust water.
    gradient : ndarray (3, P)
        Their change per unit of theta.
    origin : ndarray (P,)
        Theta at the base.
    largest_loss_pct
        Largest allowed loss [%].
    """

    h_w_m2k: float
    core_c: float
    loss_pct: float
    base: Array
    gradient: Array
    origin: Array
    largest_loss_pct: float

    def at(self, theta: Array) -> Array:
        """Anchor values for parameters, (n, P) -> (3, n)."""
        moved: Array = self.base[:, None] + self.gradient @ (theta - self.origin).T
        return moved


def conventional_of(brief: Brief) -> Conventional:
    """The brief's conventional method, or the documented default."""
    if brief.conventional is not None:
        return brief.conventional
    portion = brief.portion
    duration = DEFAULT_DURATION_S * (portion.thickness_mm / DEFAULT_THICKNESS_MM) ** 1.5
    if portion.start_state == "frozen":
        duration *= 1.6
    return Conventional(method="oven", oven_temperature_c=DEFAULT_OVEN_C, duration_s=float(np.clip(duration, 120.0, 86400.0)))


def core_target_c(brief: Brief) -> float:
    """Core temperature the conventional recipe is taken to reach [°C]: the middle of the window, or 5 K inside an open one."""
    window = brief.targets.core_temperature_c
    limit = brief.critical_limit
    safe = limit.core_temperature_c + limit.guard_c if limit and limit.core_temperature_c is not None else None
    low, high = (window.low, window.high) if window else (None, None)
    low = safe if low is None else max(low, safe if safe is not None else low)
    if low is not None and high is not None:
        return 0.5 * (low + high)
    if low is not None:
        return low + _OPEN_HALF_WIDTH_K
    return _DEFAULT_TARGET_C if high is None else high - _OPEN_HALF_WIDTH_K


def _simulate(body: Body, method: Conventional, values: Array, h: Array, start_c: float, rest: Rest) -> Outcome:
    """The conventional recipe for n pairs of parameters (P, n) and coefficients (n,)."""
    steps = int(np.clip(np.ceil(method.duration_s / _STEP_S), _FEWEST_STEPS, _MOST_STEPS))
    runs = h.shape[0]
    simulation = Simulation(body, values, np.full(runs, start_c))
    oven = Segment(
        dt=np.full(runs, method.duration_s / steps),
        air_c=np.full(runs, method.oven_temperature_c),
        h=np.broadcast_to(h, (steps, runs)),
        vapour_pa=CAVITY_VAPOUR_PA,
        evaporation=values[INDEX["evaporation_factor"]],
    )
    simulation.advance(oven)
    if rest.seconds.any():
        simulation.advance(rest_segment(rest, values))
    return simulation.outcome()


def _likely_h(core: Array, target: float) -> Array:
    """Position on the grid of h of the likeliest coefficient for each column of cores (grid, n).

    Squares of ln h from the usual and of the core from its target, the latter bent so that it never outweighs an impossible
    oven; cores between grid points are interpolated, and the minimum is read from a parabola.
    """
    fine = np.linspace(0.0, _H_GRID.shape[0] - 1.0, _FINE)
    cores = np.array([np.interp(fine, np.arange(_H_GRID.shape[0]), column) for column in core.T]).T
    logs = np.interp(fine, np.arange(_H_GRID.shape[0]), np.log(_H_GRID / _H_USUAL))
    miss = ((cores - target) / _CORE_SPREAD_K) ** 2
    penalty = ((logs / _H_SPREAD_LOG) ** 2)[:, None] + miss / (1.0 + miss / _CORE_DOUBT)
    best = np.clip(np.argmin(penalty, axis=0), 1, _FINE - 2)
    index = np.arange(core.shape[1])
    left, here, right = penalty[best - 1, index], penalty[best, index], penalty[best + 1, index]
    bend = np.maximum(left - 2 * here + right, 1e-9)
    position: Array = (best + np.clip(0.5 * (left - right) / bend, -1.0, 1.0)) * (fine[1] - fine[0])
    return position


def _at(position: Array, columns: Array) -> Array:
    """Columns (grid, n) read at positions (n,) between grid points."""
    low = np.clip(position.astype(int), 0, columns.shape[0] - 2)
    part = position - low
    index = np.arange(columns.shape[1])
    read: Array = columns[low, index] * (1 - part) + columns[low + 1, index] * part
    return read


def anchor_for(brief: Brief, body: Body, origin: Array, rest_s: float, *, covered: bool) -> Anchor:
    """Simulate the conventional recipe and read the anchor off it.

    Parameters
    ----------
    brief
        The brief.
    body
        Its portion.
    origin : ndarray (P,)
        Theta around which the anchor is computed: the prior mean.
    rest_s, covered
        The rest after the conventional oven.
    """
    moving = np.array([INDEX[name] for name in _MOVING])
    thetas = np.repeat(origin[None, :], 1 + 2 * len(moving), axis=0)
    for row, position in enumerate(moving):
        thetas[1 + 2 * row, position] += _NUDGE
        thetas[2 + 2 * row, position] -= _NUDGE
    grid, cases = _H_GRID.shape[0], thetas.shape[0]
    values = np.ascontiguousarray(natural(np.tile(thetas, (grid, 1))).T)
    rest = Rest(np.full(grid * cases, rest_s), covered)
    method = conventional_of(brief)
    outcome = _simulate(body, method, values, np.repeat(_H_GRID, cases), brief.portion.start_temperature_c, rest)
    core = core_reading(outcome, values, body.boiling_c).reshape(grid, cases)
    highest = values[INDEX["reading_cap"], 0] + (body.boiling_c - 100.0) - 3.0
    target = min(core_target_c(brief), float(highest))
    position = _likely_h(core, target)
    dose = np.log(np.minimum(outcome.browning_dose + LEAST_BROWNING_DOSE_S, _LARGEST_BROWNING_DOSE_S))
    held = _HELD_AT_TARGET_S * float(heat_dose_rate(np.array(target)))
    parts = (dose, np.log1p(outcome.heat_dose + held), np.sqrt(outcome.crust))
    read = np.array([_at(position, part.reshape(grid, cases)) for part in parts])
    gradient = np.zeros((3, len(PARAMETERS)))
    gradient[:, moving] = (read[:, 1::2] - read[:, 2::2]) / (2 * _NUDGE)
    loss = float(_at(position, loss_pct(body, outcome).reshape(grid, cases))[0])
    return Anchor(
        h_w_m2k=float(np.exp(np.interp(position[0], np.arange(grid), np.log(_H_GRID)))),
        core_c=float(_at(position, core)[0]),
        loss_pct=loss,
        base=read[:, 0],
        gradient=gradient,
        origin=origin,
        largest_loss_pct=_largest_loss(brief, loss),
    )


def _largest_loss(brief: Brief, conventional_pct: float) -> float:
    """Largest allowed loss [%], or what makes the conventional one 80 % of it.

    At least 5, or moisture would swing with every tenth of a percent.
    """
    window = brief.targets.cook_loss_pct
    high = window.high if window and window.high is not None else conventional_pct / ALLOWED_LOSS_SHARE
    return max(high, 5.0)
