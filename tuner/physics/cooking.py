"""From programs to what happened in the portion: segments of the simulation for an oven, and for the rest."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tuner.domain import Brief, Oven
from tuner.domain.plausibility import boiling_point_c
from tuner.physics.cells import cells_for
from tuner.physics.convection import DEFAULT_TOP_SPEED_M_S, REFERENCE_SPEED_M_S
from tuner.physics.food import food_of
from tuner.physics.microwave import DEFAULT_RATED_W
from tuner.physics.parameters import INDEX
from tuner.physics.programs import ProgramArrays, step_means
from tuner.physics.simulation import Body, Outcome, Segment, Simulation
from tuner.physics.skin import CAVITY_VAPOUR_PA

Array = NDArray[np.float64]

STEPS_THAWED, STEPS_FROZEN = 20, 40
"""Steps of a program, a multiple of 20 so that shares in steps of 5 % begin and end with a step."""

REST_STEPS = 10
"""Steps of the rest, the same for all, so that portions which end alike read alike."""

ROOM_C, ROOM_VAPOUR_PA = 24.0, 1400.0
"""Kitchen air during the rest (assumption)."""

H_REST_OPEN, H_REST_COVERED = 10.0, 4.0
"""Still air on a resting portion, free and under a cover [W/(m2 K)] (natural convection 5-15, general texts)."""

RESTING_WETNESS = 0.5
"""Wetness of a resting skin, whatever it was before: moisture comes back from inside (assumption)."""

COVER_AIR, COVER_EVAPORATION = 0.5, 0.15
"""What a cover leaves of convection and evaporation during the cook, and of evaporation in the rest (assumption)."""


@dataclass(frozen=True)
class Cavity:
    """What of an oven matters to a portion.

    Attributes
    ----------
    rated_w, top_speed_m_s
        Rated microwave power [W] and full air speed [m/s]; defaults where the oven does not tell them.
    """

    rated_w: float
    top_speed_m_s: float

    @property
    def relative_speed(self) -> float:
        """Full air speed over the one at which the jets' heat transfer is stated."""
        return self.top_speed_m_s / REFERENCE_SPEED_M_S

    @staticmethod
    def of(oven: Oven) -> Cavity:
        """Of an oven."""
        return Cavity(oven.microwave_rated_w or DEFAULT_RATED_W, oven.air_speed_max_m_s or DEFAULT_TOP_SPEED_M_S)


def body_of(brief: Brief, oven: Oven, refine: int = 1) -> Body:
    """The portion of a brief as the simulation sees it; `refine` times as many cells for checks of convergence."""
    portion = brief.portion
    half = 0.5e-3 * portion.thickness_mm
    return Body(
        food=food_of(portion),
        cells=cells_for(portion.shape, half, refine),
        half_thickness_m=half,
        boiling_c=boiling_point_c(oven.altitude_m),
    )


@dataclass(frozen=True, eq=False)
class Rest:
    """The rest after the end: seconds (n,), and whether covered."""

    seconds: Array
    covered: bool


def program_segment(cavity: Cavity, programs: ProgramArrays, values: Array, mass_g: Array, steps: int, *, lid: bool) -> Segment:
    """The program as one segment.

    Parameters
    ----------
    values : ndarray (P, n)
        Natural values of the parameters.
    mass_g : ndarray (n,)
        Mass of each portion [g].
    steps
        Number of steps.
    lid
        Whether the portion is covered while it cooks.
    """
    speed = programs.air_speed * cavity.relative_speed
    h = speed ** np.maximum(values[INDEX["h_exponent"]], 0.05)
    h *= values[INDEX["h_jet"]]
    h += values[INDEX["h_still"]]
    evaporation = values[INDEX["evaporation_factor"]]
    if lid:
        h *= COVER_AIR
        evaporation = evaporation * COVER_EVAPORATION
    watts_per_kg = programs.microwave * (values[INDEX["coupled_share"]] * cavity.rated_w / (1e-3 * mass_g))
    return Segment(
        dt=programs.duration_s / steps,
        air_c=programs.air_temperature_c + values[INDEX["air_offset"]],
        h=step_means(programs.share, h, steps),
        vapour_pa=CAVITY_VAPOUR_PA,
        evaporation=evaporation,
        watts_per_kg=step_means(programs.share, watts_per_kg, steps),
        mass_g=mass_g,
    )


def rest_segment(rest: Rest, values: Array, steps: int = REST_STEPS) -> Segment:
    """The rest as one segment: kitchen air, open or under a cover."""
    runs = rest.seconds.shape[0]
    factor = values[INDEX["evaporation_factor"]]
    return Segment(
        dt=rest.seconds / steps,
        air_c=np.full(runs, ROOM_C),
        h=np.full((steps, runs), H_REST_COVERED if rest.covered else H_REST_OPEN),
        vapour_pa=ROOM_VAPOUR_PA,
        evaporation=factor * COVER_EVAPORATION if rest.covered else factor,
        wetness=RESTING_WETNESS,
    )


def cook(
    body: Body,
    cavity: Cavity,
    programs: ProgramArrays,
    values: Array,
    *,
    mass_g: Array,
    start_c: Array,
    rest: Rest,
    lid: bool = False,
    steps: int | None = None,
) -> tuple[Outcome, Simulation]:
    """Cook n portions by n programs and let them rest.

    Parameters
    ----------
    body, cavity
        Portion and oven.
    programs
        n programs.
    values : ndarray (P, n)
        Natural values of the parameters.
    mass_g, start_c : ndarray (n,)
        Mass [g] and start temperature [°C].
    rest
        The rest.
    lid
        Whether the portion is covered while it cooks.
    steps
        Steps of the program; by default 20, or 40 where anything starts with ice.

    Returns
    -------
    Outcome, Simulation
        What happened, and the final state with its energy ledger.
    """
    if steps is None:
        steps = STEPS_FROZEN if body.starts_icy(start_c) else STEPS_THAWED
    simulation = Simulation(body, values, start_c)
    simulation.advance(program_segment(cavity, programs, values, mass_g, steps, lid=lid))
    if rest.seconds.any():
        simulation.advance(rest_segment(rest, values))
    return simulation.outcome(), simulation
