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
from tuner.rehearsal.network import BASE, HEART, MANTLE, POCKET, RIM, SKIN, Network, network_of, step
from tuner.rehearsal.portions import Portions
from tuner.rehearsal.schedule import Schedule, rest_schedule, schedule_of
from tuner.rehearsal.table import Array, ProgramTable

_STEAM_J_KG = 2.257e6
_REST_STEPS = 6
_FIRST_STEPS, _LONGEST_STEP_S = 36, 9.0
_CRUST_LAG_S = 7.0


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
        Water dried off over a cold inside [kg/m2].
    steamed
        Share of the mass that left the inside as steam.
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
    pressed: Array
    loss_pct: Array


def _share(x: Array) -> Array:
    """Rise from 0 to 1 around x = 0, without the cost of an exponential."""
    return 0.5 + 0.5 * x / np.sqrt(1 + x * x)


class _Pass:
    """State of one pass; every attribute is an array over the n portions (last axis)."""

    def __init__(self, portion: Portion, nature: Nature, cavity: Cavity, portions: Portions) -> None:
        count = len(portions)
        self.nature, self.cavity = nature, cavity
        self.network: Network = network_of(portion, nature.body, portions)
        self.enthalpy = self.network.heat.enthalpy(np.tile(portions.start_c, (6, 1)))
        self.temperature = self.network.heat.temperature(self.enthalpy)
        self.boiling = self.network.heat.enthalpy(np.full(count, cavity.boiling_c))
        self.dried = np.zeros(count)
        self.crust_c = portions.start_c.copy()
        self.intermediate, self.pigment, self.precursor = np.zeros(count), np.zeros(count), np.ones(count)
        self.native, self.set = np.ones((3, count)), np.zeros((3, count))
        self.skin, self.steamed, self.pressed, self.lost = (np.zeros(count) for _ in range(4))
        self.first_per_s = nature.browning.first_per_s * portions.surface
        self.mass = self.network.mass_kg.sum(axis=0)
        self.reach = self._takes(portions) * self.network.mass_kg

    def _takes(self, portions: Portions) -> Array:
        """Microwave each compartment takes per mass, against the mantle, shape (6, n)."""
        absorb, uneven = self.nature.absorption, self.cavity.unevenness
        depth = portions.thickness_mm / 2 / absorb.half_depth_mm
        takes = np.ones((6, len(portions)))
        takes[BASE] = 0.9
        takes[POCKET] = 1 + (absorb.pocket_excess - 1) * uneven
        takes[RIM] = 1 + (absorb.rim_excess - 1) * uneven
        takes[HEART] = 1 / (1 + depth**1.6)
        return takes * portions.pickup

    def microwave_w(self, duty: Array) -> Array:
        """Watts into each compartment; what the food does not take, the cavity does."""
        absorb = self.nature.absorption
        warm = (self.temperature - 5.0) / 80.0
        follow = 1.0 + absorb.warming * warm
        follow[POCKET] += absorb.runaway * np.maximum(warm[POCKET], 0.0)
        load = self.reach * np.maximum(follow, 0.2)
        if self.network.heat.icy:
            load = load * (absorb.frozen + (1 - absorb.frozen) * self.network.heat.thawed_share(self.enthalpy))
        return load * (self.cavity.watts * duty / (load.sum(axis=0) + self.cavity.competing_g / 1000))

    def advance(self, film: Array, duty: Array, air_c: Array, tray_c: Array, step_s: Array, soften_s: float) -> None:
        """One step of the oven, or of the rest."""
        arriving_w = self.microwave_w(duty)
        steaming_w = arriving_w * _share((self.temperature - self.nature.pressure.half_at_c) / self.nature.pressure.width_c)
        outer, outer_c, evaporated, rim_evaporated = self._surface(film, air_c, tray_c)
        self.enthalpy = step(self.network, self.enthalpy, self.temperature, arriving_w - steaming_w, outer, outer_c, step_s)
        steam = steaming_w.sum(axis=0) * step_s / _STEAM_J_KG + self._boiled()
        self.steamed = self.steamed + steam / self.mass
        self.temperature = self.network.heat.temperature(self.enthalpy)
        squeezed = self._set(step_s)
        self._front(evaporated, steam, squeezed, step_s, soften_s)
        self._colour(film, air_c, step_s)
        away = evaporated * self.network.top_m2 + rim_evaporated * self.network.rim_m2
        self.lost = self.lost + away * step_s + (1 - self.nature.crust.refill) * steam + 0.45 * squeezed

    def _surface(self, film: Array, air_c: Array, tray_c: Array) -> tuple[Array, Array, Array, Array]:
        """Conductances and temperatures outside, and the water leaving top and rim [kg/(m2 s)]."""
        crust = self.nature.crust
        barrier = np.maximum(self.dried, 0.0) / (crust.water_kg_m3 * crust.conductivity_w_mk)
        through = film / (1.0 + film * barrier)
        steams, rim_steams = _share((self.temperature[(SKIN, RIM), :] - crust.evaporation_at_c) / crust.evaporation_width_c)
        rim_steams = 0.7 * rim_steams
        outer = np.zeros_like(self.temperature[:MANTLE])
        outer_c = np.empty_like(outer)
        outer[SKIN] = through * (1 - steams) * self.network.top_m2
        outer[RIM] = 0.8 * film * (1 - rim_steams) * self.network.rim_m2
        outer[BASE] = 45.0 * self.network.base_m2
        outer_c[:] = air_c
        outer_c[BASE] = tray_c
        evaporated = np.maximum(through * steams * (air_c - self.temperature[SKIN]), 0.0) / _STEAM_J_KG
        rim_evaporated = np.maximum(0.8 * film * rim_steams * (air_c - self.temperature[RIM]), 0.0) / _STEAM_J_KG
        return outer, outer_c, evaporated, rim_evaporated

    def _boiled(self) -> Array:
        """Steam from what would be hotter than boiling [kg]; it takes its heat along."""
        boiled = np.maximum(self.enthalpy - self.boiling, 0.0)
        self.enthalpy -= boiled
        return (boiled * self.network.mass_kg).sum(axis=0) / _STEAM_J_KG

    def _set(self, step_s: Array) -> Array:
        """Change native to set to overdone; returns the liquid pressed out in this step [kg]."""
        setting = self.nature.states
        inner = self.temperature[RIM:]
        first = 0.03 * np.exp2(np.minimum((inner - setting.set_at_c) / setting.doubling_c, 6.0)) * step_s
        second = 0.006 * np.exp2(np.minimum((inner - setting.over_at_c) / setting.doubling_c, 6.0)) * step_s
        changed = self.native * (first / (1 + first))
        overdone = self.set * (second / (1 + second))
        self.native = self.native - changed
        self.set = self.set + changed - overdone
        squeezed = ((setting.drip[0] * changed + setting.drip[1] * overdone) * self.network.mass_kg[RIM:]).sum(axis=0)
        self.pressed = self.pressed + squeezed / self.mass
        return squeezed

    def _front(self, evaporated: Array, steam: Array, squeezed: Array, step_s: Array, soften_s: float) -> None:
        """Move the drying front: air dries it, steam and juice from inside wet it again."""
        crust = self.nature.crust
        cold = _share((crust.skin_below_c - self.temperature[MANTLE]) / 8.0)
        self.skin = self.skin + evaporated * step_s * cold
        arriving = (crust.refill * steam + 0.15 * squeezed) / (self.network.top_m2 + self.network.rim_m2)
        dried = self.dried + evaporated * step_s - arriving
        if np.isfinite(soften_s):
            dried = np.where(dried > 0, dried * np.exp(-step_s / soften_s), dried)
        self.dried = np.maximum(dried, -crust.film_kg_m2)

    def _colour(self, film: Array, air_c: Array, step_s: Array) -> None:
        """Crust temperature and the two steps to pigment."""
        crust, browning = self.nature.crust, self.nature.browning
        depth = np.maximum(self.dried, 0.0) / crust.water_kg_m3
        barrier = depth / crust.conductivity_w_mk
        front = self.temperature[SKIN]
        target = front + np.maximum(air_c - front, 0.0) * barrier / (barrier + 1.0 / film)
        self.crust_c = target + (self.crust_c - target) * np.exp(-step_s / _CRUST_LAG_S)
        dry = depth * 1000 / (depth * 1000 + browning.half_dry_mm)
        gate = dry * dry * (2.0 - dry)
        hot = self.crust_c - 150.0
        first = self.first_per_s * np.exp2(np.minimum(hot / browning.first_doubling_c, 6.0)) * gate * step_s
        second = browning.second_per_s * np.exp2(np.minimum(hot / browning.second_doubling_c, 6.0)) * step_s
        made = self.precursor * (first / (1 + first))
        turned = self.intermediate * (second / (1 + second))
        self.precursor = self.precursor - made
        self.intermediate = self.intermediate + made - turned
        self.pigment = self.pigment + turned

    def run(self, schedule: Schedule, soften_s: float = np.inf) -> None:
        """All steps of a schedule."""
        for index in range(len(schedule.duty)):
            self.advance(
                schedule.film_w_m2k[index],
                schedule.duty[index],
                schedule.air_c[index],
                schedule.tray_c[index],
                schedule.step_s,
                soften_s,
            )

    def result(self) -> Result:
        """Final state."""
        return Result(
            temperature_c=self.temperature,
            pigment=self.pigment,
            states=np.stack([self.native, self.set, 1.0 - self.native - self.set]),
            dry_mm=1000 * self.dried / self.nature.crust.water_kg_m3,
            skin=self.skin,
            steamed=self.steamed,
            pressed=self.pressed,
            loss_pct=100 * self.lost / self.mass,
        )


def _steps(duration_s: Array) -> Array:
    """Number of steps of each duration."""
    doublings = np.ceil(np.log2(np.maximum(duration_s / (_FIRST_STEPS * _LONGEST_STEP_S), 1.0)))
    return np.asarray(_FIRST_STEPS * 2.0 ** np.minimum(doublings, 4.0))


def _cooked(
    portion: Portion,
    nature: Nature,
    cavity: Cavity,
    table: ProgramTable,
    portions: Portions,
    steps: int,
    rest_s: float,
    covered: bool,
) -> Result:
    state = _Pass(portion, nature, cavity, portions)
    state.run(schedule_of(table, cavity, steps))
    if rest_s > 0:
        soften_s = nature.crust.softening_s * (0.4 if covered else 1.0)
        state.run(rest_schedule(rest_s, len(table), _REST_STEPS, covered=covered), soften_s)
    return state.result()


def cooked(
    portion: Portion,
    nature: Nature,
    cavity: Cavity,
    table: ProgramTable,
    portions: Portions,
    *,
    rest_s: float,
    covered: bool,
    steps: int | None = None,
) -> Result:
    """Cook program i on portion i and let it rest.

    Parameters
    ----------
    portion, nature
        The dish as the brief has it, and its hidden nature.
    cavity
        The oven's hidden traits.
    table, portions
        n programs and n portions.
    rest_s, covered
        The rest after the oven.
    steps
        Number of time steps; by default by duration alone, so that a program's result does not depend on its company.
    """
    if steps is not None:
        return _cooked(portion, nature, cavity, table, portions, steps, rest_s, covered)
    needed = _steps(table.duration_s)
    kinds = np.unique(needed)
    if len(kinds) == 1:
        return _cooked(portion, nature, cavity, table, portions, int(kinds[0]), rest_s, covered)
    parts, order = [], []
    for kind in kinds:
        index = np.flatnonzero(needed == kind)
        group = Portions(*(getattr(portions, name)[index] for name in portions.__slots__))
        parts.append(_cooked(portion, nature, cavity, table.take(index), group, int(kind), rest_s, covered))
        order.append(index)
    back = np.argsort(np.concatenate(order))
    fields = Result.__dataclass_fields__
    return Result(**{name: np.concatenate([getattr(part, name) for part in parts], axis=-1)[..., back] for name in fields})
