"""One pass of n programs over n portions: heat, drying front, colour, setting, losses; then the rest.

Nothing here is shared with the physics of the proposals: heat lives in six compartments instead of a conduction grid, the crust
is a front that recedes and is wetted again, colour needs two steps, texture is a sequence of states.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from tuner.domain import Portion
from tuner.rehearsal.cavity import Cavity
from tuner.rehearsal.nature import Nature
from tuner.rehearsal.network import BASE, HEART, MANTLE, POCKET, RIM, SKIN, Network, network_of, step, total
from tuner.rehearsal.portions import Portions
from tuner.rehearsal.schedule import Schedule, rest_schedule, schedule_of
from tuner.rehearsal.table import Array, ProgramTable

_STEAM_J_KG = 2.257e6
_REST_STEPS = 6
_FIRST_STEPS, _LONGEST_STEP_S, _MOST_DOUBLINGS = 36, 12.0, 4
_CRUST_LAG_S = 7.0
_SKIN_WIDTH_C = 8.0
_PUSHED_FROM_C = 55.0
"""Mantle temperature from which microwave power drives free water outward."""
_TRAY_W_M2K = 24.0
_RIM_AIR, _RIM_STEAM = 0.8, 0.7
"""Part of the air's heat transfer that reaches the rim, and of the evaporation that it shows."""
_JUICE_TO_CRUST, _JUICE_LOST = 0.15, 0.45
"""Parts of the juice pressed out that wet the crust, and that leave the portion."""


_FAST_DRYING = 6e-3
"""Drying at which a cold inside no longer keeps the surface moist and a skin forms [kg/(m2 s)]; slow drying leaves little."""


@dataclass(frozen=True, slots=True)
class Result:
    """What became of n portions.

    Attributes
    ----------
    temperature_c
        Of the six compartments after the rest, shape (6, n).
    pigment
        Colour formed, 0 to 1.
    states
        Shares native, set, overdone of rim, heart and mantle, shape (3, 3, n).
    dry_mm
        Dried depth after the rest (negative: wet).
    skin
        Water dried off fast over a cold inside [kg/m2].
    steamed
        Share of the mass that left the inside as steam.
    edge
        Share of the rim's mass that left it as steam.
    pressed
        Share of the mass pressed out of the inside as liquid.
    loss_pct
        Cook loss [%].
    """

    temperature_c: Array
    pigment: Array
    states: Array
    dry_mm: Array
    skin: Array
    steamed: Array
    edge: Array
    pressed: Array
    loss_pct: Array


def _rise(x: Array) -> Array:
    """Rise from 0 to 1 around x = 0, without the cost of an exponential."""
    risen: Array = 0.5 + 0.5 * x / np.sqrt(1.0 + x * x)
    return risen


@dataclass(frozen=True, slots=True)
class _Shares:
    """Shares that follow a temperature through a smooth rise: steaming, evaporating, a cold inside, a warm inside."""

    middle: Array
    width: Array

    @classmethod
    def of(cls, nature: Nature) -> _Shares:
        """Middles and widths, one row each: six compartments steaming, skin and rim evaporating, a cold and a warm mantle."""
        pressure, crust = nature.pressure, nature.crust
        middle = [pressure.half_at_c] * 6 + [crust.evaporation_at_c] * 2 + [crust.skin_below_c, _PUSHED_FROM_C]
        width = [pressure.width_c] * 6 + [crust.evaporation_width_c] * 2 + [-_SKIN_WIDTH_C, _SKIN_WIDTH_C]
        return cls(np.array(middle)[:, None], np.array(width)[:, None])

    def at(self, temperature: Array) -> Array:
        """Shares at the compartments' temperatures, shape (10, n)."""
        rows = np.concatenate([temperature, temperature[SKIN:HEART], temperature[MANTLE:], temperature[MANTLE:]])
        return _rise((rows - self.middle) / self.width)


def _reach(nature: Nature, cavity: Cavity, portions: Portions) -> Array:
    """Microwave each compartment takes per mass, against the mantle, shape (6, n)."""
    absorb, uneven = nature.absorption, cavity.unevenness
    depth = portions.thickness_mm / 2 / absorb.half_depth_mm
    takes = np.ones((6, len(portions)))
    takes[BASE] = 0.9
    takes[POCKET] = 1 + (absorb.pocket_excess * portions.pattern - 1) * uneven
    takes[RIM] = 1 + (absorb.rim_excess - 1) * uneven
    takes[HEART] = 1 / (1 + depth**1.6)
    return takes * portions.pickup


class _Pass:
    """State of one pass; every attribute is an array over the n portions (last axis)."""

    def __init__(self, portion: Portion, nature: Nature, cavity: Cavity, portions: Portions) -> None:
        count = len(portions)
        self.nature, self.watts, self.competing_kg = nature, cavity.watts, cavity.competing_g / 1000
        self.network: Network = network_of(portion, nature.body, portions)
        self.shares = _Shares.of(nature)
        self.enthalpy = self.network.heat.enthalpy(np.tile(portions.start_c, (6, 1)))
        self.temperature = self.network.heat.temperature(self.enthalpy)
        self.boiling = self.network.heat.enthalpy(np.full(count, cavity.boiling_c))
        self.load = _reach(nature, cavity, portions) * self.network.mass_kg
        # no more can leave than the water there is
        self.most_lost = np.minimum(0.95 * portions.water, 0.85)
        self.push_per_j = nature.crust.push_kg_m2 / 1000 / total(self.network.mass_kg)
        self.outer, self.outer_c = np.zeros((5, count)), np.zeros((5, count))
        self.outer[BASE] = _TRAY_W_M2K * self.network.base_m2
        self.first_per_s = nature.browning.first_per_s * portions.surface
        self.crust_c = portions.start_c.copy()
        self.dried, self.skin, self.lost, self.steamed_kg, self.edge_kg, self.pressed_kg = np.zeros((6, count))
        self.precursor, self.intermediate, self.pigment = np.ones(count), np.zeros(count), np.zeros(count)
        self.native, self.set = np.ones((3, count)), np.zeros((3, count))
        states = nature.states
        self.changes_at = np.array([states.set_at_c, states.over_at_c])[:, None, None]
        self.changes_per_s = np.array([0.03, 0.006])[:, None, None]

    def run(self, schedule: Schedule, soften_s: float = np.inf) -> None:
        """All steps of a schedule; `soften_s` is how fast a dry crust takes up moisture again."""
        step_s = schedule.step_s
        lag, soft = np.exp(-step_s / _CRUST_LAG_S), np.exp(-step_s / soften_s)
        for film, duty, air_c, tray_c in zip(schedule.film_w_m2k, schedule.duty, schedule.air_c, schedule.tray_c, strict=True):
            self._advance(film, duty, air_c, tray_c, step_s, lag, soft)

    def _advance(self, film: Array, duty: Array, air_c: Array, tray_c: Array, step_s: Array, lag: Array, soft: Array) -> None:
        """One step of the oven, or of the rest."""
        network, crust = self.network, self.nature.crust
        shares = self.shares.at(self.temperature)
        arriving_w = self._microwave_w(duty)
        steaming_w = arriving_w * shares[:6]
        barrier = np.maximum(self.dried, 0.0) / (crust.water_kg_m3 * crust.conductivity_w_mk)
        evaporated, rim_evaporated = self._surface(film, air_c, tray_c, barrier, shares)
        self.enthalpy = step(
            network, self.enthalpy, self.temperature, arriving_w - steaming_w, self.outer, self.outer_c, step_s
        )
        boiled = self._boiled()
        steam = total(steaming_w) * (step_s / _STEAM_J_KG) + total(boiled)
        self.edge_kg = self.edge_kg + steaming_w[RIM] * (step_s / _STEAM_J_KG) + boiled[RIM]
        self.temperature = network.heat.temperature(self.enthalpy)
        squeezed = self._change(step_s)
        self._colour(film, air_c, barrier, step_s, lag)
        pushed = total(arriving_w) * (shares[9] * step_s * self.push_per_j)
        wetted = pushed + (crust.refill * steam + _JUICE_TO_CRUST * squeezed) / (network.top_m2 + network.rim_m2)
        dried = self.dried + evaporated * step_s - wetted
        self.dried = (
            np.maximum(np.minimum(dried, dried * soft), -crust.film_kg_m2)
            if soft[0] < 1
            else np.maximum(dried, -crust.film_kg_m2)
        )
        self.skin = self.skin + evaporated * step_s * shares[8] * (evaporated * (1 / _FAST_DRYING)) ** 2
        self.steamed_kg = self.steamed_kg + steam
        self.pressed_kg = self.pressed_kg + squeezed
        away = (evaporated * network.top_m2 + rim_evaporated * network.rim_m2) * step_s
        self.lost = self.lost + away + (1 - crust.refill) * steam + _JUICE_LOST * squeezed

    def _microwave_w(self, duty: Array) -> Array:
        """Watts into each compartment; what the food does not take, the cavity does."""
        absorb = self.nature.absorption
        warm = (self.temperature - 5.0) * (1 / 80.0)
        follow = 1.0 + absorb.warming * warm
        follow[POCKET] += absorb.runaway * np.maximum(warm[POCKET], 0.0)
        load = self.load * follow
        if self.network.heat.icy:
            load = load * (absorb.frozen + (1 - absorb.frozen) * self.network.heat.thawed_share(self.enthalpy))
        return load * (self.watts * duty / (total(load) + self.competing_kg))

    def _surface(self, film: Array, air_c: Array, tray_c: Array, barrier: Array, shares: Array) -> tuple[Array, Array]:
        """Set what the outside does to the spokes; returns the water leaving top and rim [kg/(m2 s)]."""
        through = film / (1.0 + film * barrier)
        at_rim = _RIM_AIR * film
        steams, rim_steams = shares[6], _RIM_STEAM * shares[7]
        self.outer[SKIN] = through * (1.0 - steams) * self.network.top_m2
        self.outer[RIM] = at_rim * (1.0 - rim_steams) * self.network.rim_m2
        self.outer_c[:] = air_c
        self.outer_c[BASE] = tray_c
        warmer = np.maximum(air_c - self.temperature[SKIN:HEART], 0.0) * (1 / _STEAM_J_KG)
        return through * steams * warmer[0], at_rim * rim_steams * warmer[1]

    def _boiled(self) -> Array:
        """Steam from what would be hotter than boiling [kg], of each compartment; it takes its heat along."""
        boiled = np.maximum(self.enthalpy - self.boiling, 0.0)
        self.enthalpy -= boiled
        return boiled * (self.network.mass_kg * (1 / _STEAM_J_KG))

    def _change(self, step_s: Array) -> Array:
        """Change native to set to overdone; returns the liquid pressed out in this step [kg]."""
        states = self.nature.states
        doublings = np.minimum((self.temperature[RIM:] - self.changes_at) * (1 / states.doubling_c), 6.0)
        rate = self.changes_per_s * np.exp2(doublings) * step_s
        part = rate / (1.0 + rate)
        changed, overdone = self.native * part[0], self.set * part[1]
        self.native = self.native - changed
        self.set = self.set + changed - overdone
        return total((states.drip[0] * changed + states.drip[1] * overdone) * self.network.mass_kg[RIM:])

    def _colour(self, film: Array, air_c: Array, barrier: Array, step_s: Array, lag: Array) -> None:
        """Crust temperature and the two steps to pigment."""
        browning = self.nature.browning
        front, resists = self.temperature[SKIN], film * barrier
        target = front + np.maximum(air_c - front, 0.0) * (resists / (1.0 + resists))
        self.crust_c = target + (self.crust_c - target) * lag
        half = browning.half_dry_mm / 1000 / self.nature.crust.conductivity_w_mk
        dry = barrier / (barrier + half)
        hot = self.crust_c - 150.0
        first = (
            self.first_per_s * np.exp2(np.minimum(hot / browning.first_doubling_c, 6.0)) * (dry * dry * (2.0 - dry) * step_s)
        )
        second = browning.second_per_s * np.exp2(np.minimum(hot / browning.second_doubling_c, 6.0)) * step_s
        made = self.precursor * (first / (1.0 + first))
        turned = self.intermediate * (second / (1.0 + second))
        self.precursor = self.precursor - made
        self.intermediate = self.intermediate + made - turned
        self.pigment = self.pigment + turned

    def result(self) -> Result:
        """Final state."""
        mass = total(self.network.mass_kg)
        return Result(
            temperature_c=self.temperature,
            pigment=self.pigment,
            states=np.stack([self.native, self.set, 1.0 - self.native - self.set]),
            dry_mm=1000 * self.dried / self.nature.crust.water_kg_m3,
            skin=self.skin,
            steamed=self.steamed_kg / mass,
            edge=self.edge_kg / self.network.mass_kg[RIM],
            pressed=self.pressed_kg / mass,
            loss_pct=100 * np.minimum(self.lost / mass, self.most_lost),
        )


def _steps(duration_s: Array) -> Array:
    """Number of steps of each duration."""
    doublings = np.ceil(np.log2(np.maximum(duration_s / (_FIRST_STEPS * _LONGEST_STEP_S), 1.0)))
    counts: Array = _FIRST_STEPS * 2.0 ** np.minimum(doublings, _MOST_DOUBLINGS)
    return counts


@dataclass(frozen=True, slots=True)
class Setup:
    """What all cooks of a kitchen have in common.

    Attributes
    ----------
    portion, nature
        The dish as the brief has it, and its hidden nature.
    cavity
        The oven's hidden traits.
    rest_s, covered
        The rest after the oven.
    """

    portion: Portion
    nature: Nature
    cavity: Cavity
    rest_s: float
    covered: bool


def _cooked(setup: Setup, table: ProgramTable, portions: Portions, steps: int) -> Result:
    state = _Pass(setup.portion, setup.nature, setup.cavity, portions)
    state.run(schedule_of(table, setup.cavity, steps))
    if setup.rest_s > 0:
        soften_s = setup.nature.crust.softening_s * (0.4 if setup.covered else 1.0)
        state.run(rest_schedule(setup.rest_s, len(table), _REST_STEPS, covered=setup.covered), soften_s)
    return state.result()


def cooked(setup: Setup, table: ProgramTable, portions: Portions, *, steps: int | None = None) -> Result:
    """Cook program i on portion i and let it rest.

    Parameters
    ----------
    setup
        Dish, oven and rest.
    table, portions
        n programs and n portions.
    steps
        Number of time steps; by default by duration alone, so that a program's result does not depend on its company.
    """
    needed = np.full(len(table), steps) if steps is not None else _steps(table.duration_s)
    kinds = np.unique(needed)
    if len(kinds) == 1:
        return _cooked(setup, table, portions, int(kinds[0]))
    groups = [np.flatnonzero(needed == kind) for kind in kinds]
    parts = [
        _cooked(setup, table.take(group), portions.take(group), int(kind)) for kind, group in zip(kinds, groups, strict=True)
    ]
    back = np.argsort(np.concatenate(groups))
    fields = Result.__dataclass_fields__
    return Result(**{name: np.concatenate([getattr(part, name) for part in parts], axis=-1)[..., back] for name in fields})
