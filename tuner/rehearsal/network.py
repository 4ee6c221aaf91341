"""Heat in a portion as a hub with five spokes.

| row | compartment | stands for |
| --- | --- | --- |
| 0 | base | what lies on the tray |
| 1 | pocket | the place where the microwave pattern is strongest |
| 2 | skin | the top millimetres, dried by the air |
| 3 | rim | edges and corners, heated from two sides |
| 4 | heart | the part furthest from everything |
| 5 | mantle | the rest, the hub that all others touch |

Each compartment has one temperature. One step is implicit over the whole star (the spokes are eliminated first), so any step
length is stable; heat is booked as enthalpy, so none is lost at thawing.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from tuner.domain import Portion
from tuner.rehearsal.nature import Body
from tuner.rehearsal.portions import Portions
from tuner.rehearsal.table import Array

BASE, POCKET, SKIN, RIM, HEART, MANTLE = range(6)

_ICE_J_KG = 334_000.0
_THAWED_AT_C = -1.2
_THAWING_SPAN_C = 5.0
"""Range below the thawing point over which the ice melts [K]."""


@dataclass(frozen=True, slots=True)
class Heat:
    """Enthalpy against temperature of n portions, zero at the thawing point.

    Attributes
    ----------
    thawed, frozen
        Specific heats [J/(kg K)], shape (n,).
    melting
        Heat to melt the ice [J/kg], shape (n,).
    icy
        Whether any portion starts below the thawing point; without ice the curve is a straight line.
    """

    thawed: Array
    frozen: Array
    melting: Array
    icy: bool

    def enthalpy(self, temperature_c: Array) -> Array:
        """Enthalpy [J/kg]."""
        above = temperature_c - _THAWED_AT_C
        if not self.icy:
            return self.thawed * above
        part = np.minimum(np.maximum(above / _THAWING_SPAN_C, -1.0), 0.0)
        cold = self.frozen * np.minimum(above + _THAWING_SPAN_C, 0.0)
        return self.thawed * np.maximum(above, 0.0) + part * self.melting + cold

    def temperature(self, enthalpy: Array) -> Array:
        """Temperature [°C] of an enthalpy [J/kg]."""
        if not self.icy:
            return _THAWED_AT_C + enthalpy / self.thawed
        melted = np.minimum(np.maximum(enthalpy, -self.melting), 0.0) * (_THAWING_SPAN_C / self.melting)
        cold = np.minimum(enthalpy + self.melting, 0.0) / self.frozen
        return _THAWED_AT_C + np.maximum(enthalpy, 0.0) / self.thawed + melted + cold

    def capacity(self, enthalpy: Array) -> Array:
        """Slope of enthalpy on temperature [J/(kg K)]."""
        if not self.icy:
            return self.thawed
        cold = np.where(enthalpy > -self.melting, self.melting / _THAWING_SPAN_C, self.frozen)
        return np.where(enthalpy >= 0, self.thawed, cold)

    def thawed_share(self, enthalpy: Array) -> Array:
        """Share of the ice that is gone, 0 to 1, where there was any."""
        return 1.0 + np.minimum(np.maximum(enthalpy, -self.melting), 0.0) / self.melting


def heat_of(portion: Portion, water: Array, start_c: Array) -> Heat:
    """Specific heats and ice of portions with these water fractions and start temperatures."""
    dry = 1.0 - water
    ice = np.maximum(water - 0.30 * portion.protein - 0.12 * portion.carbohydrate, 0.02)
    thawed, frozen = 4180.0 * water + 1650.0 * dry, 2050.0 * water + 1450.0 * dry
    return Heat(thawed, frozen, _ICE_J_KG * ice, bool((start_c < _THAWED_AT_C).any()))


@dataclass(frozen=True, slots=True)
class Network:
    """Compartments of n portions.

    Attributes
    ----------
    mass_kg
        Shape (6, n).
    link_w_k
        Conductance of each spoke to the hub when thawed, shape (5, n).
    top_m2, rim_m2, base_m2
        Areas, shape (n,).
    heat
        Enthalpy curve.
    """

    mass_kg: Array
    link_w_k: Array
    top_m2: Array
    rim_m2: Array
    base_m2: Array
    heat: Heat


_LINK = np.array([3.0, 6.0, 3.6, 1.6, 3.2])
"""Conductance of each spoke as a multiple of conductivity * volume / thickness^2: shape factors of a flat piece, judged."""


def network_of(portion: Portion, body: Body, portions: Portions) -> Network:
    """Compartments, areas and conductances of these portions."""
    mass = portions.mass_g / 1000
    thick = portions.thickness_mm / 1000
    volume = mass / body.density_kg_m3
    face = volume / thick
    shares = np.array([body.base, body.pocket, body.skin, body.rim, body.heart])
    shares = np.append(shares, 1.0 - shares.sum())
    conductivity = (0.16 + 0.40 * portions.water) * body.conduction * min(body.density_kg_m3 / 1000.0, 1.0)
    # a small spoke touches the hub over a smaller area: the pocket and rim scale with their share of the mass
    touch = np.array([1.0, 4.0 * body.pocket, 1.0, 4.0 * body.rim, 1.0])
    link = (_LINK * touch)[:, None] * (conductivity * face / thick)
    return Network(
        mass_kg=shares[:, None] * mass,
        link_w_k=link,
        top_m2=face * body.exposed,
        rim_m2=face * body.rim_area,
        base_m2=face * 0.8,
        heat=heat_of(portion, portions.water, portions.start_c),
    )


_ONES = {count: np.ones(count) for count in (3, 5, 6)}


def total(rows: Array) -> Array:
    """Sum over the rows of (rows, n), shape (n,); a product with ones is quicker than a reduction of few long rows."""
    added: Array = _ONES[len(rows)] @ rows
    return added


def step(
    network: Network, enthalpy: Array, temperature: Array, source_w: Array, outer_w_k: Array, outer_c: Array, step_s: Array
) -> Array:
    """Enthalpies [J/kg] after one step.

    Parameters
    ----------
    network
        The compartments.
    enthalpy, temperature
        State at the beginning, shape (6, n).
    source_w
        Heat put into each compartment [W], shape (6, n).
    outer_w_k, outer_c
        Conductance to the outside and its temperature, spokes only, shape (5, n).
    step_s
        Length of the step [s], shape (n,).
    """
    mass, heat = network.mass_kg, network.heat
    stiff = mass * (heat.capacity(enthalpy) / step_s)
    link = network.link_w_k
    if heat.icy:
        # ice conducts better: the link follows the hub's state
        link = link * (2.4 - 1.4 * heat.thawed_share(enthalpy)[MANTLE])
    loaded = stiff[:MANTLE] * temperature[:MANTLE] + source_w[:MANTLE] + outer_w_k * outer_c
    ratio = link / (stiff[:MANTLE] + link + outer_w_k)
    hub = stiff[MANTLE] * temperature[MANTLE] + source_w[MANTLE] + total(ratio * loaded)
    hub = hub / (stiff[MANTLE] + total(link * (1.0 - ratio)))
    spokes = ratio * (loaded / link + hub)
    flow = link * (hub - spokes)
    gain = source_w.copy()
    gain[:MANTLE] += flow + outer_w_k * (outer_c - spokes)
    gain[MANTLE] -= total(flow)
    moved: Array = enthalpy + gain * (step_s / mass)
    return moved
