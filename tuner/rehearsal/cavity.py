"""The hidden traits of an oven: what its rating plate does not tell."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass, replace

import numpy as np

from tuner.domain import Oven


@dataclass(frozen=True, slots=True)
class Cavity:
    """How an oven treats what stands in it.

    Attributes
    ----------
    watts
        Full microwave power before the cavity takes its part [W].
    competing_g
        Well-absorbing food that would take as much as the cavity's own losses [g].
    period_s, lag_s
        Microwave on/off period and the time it needs to come on in each period; period 0 means steady power.
    free_w_m2k, jet_w_m2k, half_speed_m_s, full_speed_m_s
        Heat transfer h = free + jet * v / (v + half_speed), v the air speed at the food.
    fade
        Part of the power that a warm magnetron has lost.
    air_offset_c, sag_c, recovery_s
        True air against setting; fall after the door was open; time constant of recovery.
    droop_c
        Fall of the air while full microwave takes the supply that the heater would need.
    tray_s
        Time constant with which the tray follows the air.
    unevenness
        Multiplies what hot pocket and rim take above the rest.
    boiling_c
        Boiling point at the oven's altitude.
    """

    watts: float
    competing_g: float
    period_s: float
    lag_s: float
    fade: float
    free_w_m2k: float
    jet_w_m2k: float
    half_speed_m_s: float
    full_speed_m_s: float
    air_offset_c: float
    sag_c: float
    recovery_s: float
    droop_c: float
    tray_s: float
    unevenness: float
    boiling_c: float


_USUAL_WATTS = 1500.0
_USUAL_SPEED_M_S = 18.0
_WATER_CHECK_G = 1000.0
"""Mass of water that an oven check heats [g]."""


def _seed_of(oven: Oven) -> int:
    """The same oven document has the same hidden traits everywhere; its checks do not change them."""
    text = oven.model_dump_json(exclude={"checks", "name"})
    return int.from_bytes(hashlib.sha256(f"{oven.serial or oven.name}|{text}".encode()).digest()[:8], "big")


def _hidden_period_s(rng: np.random.Generator) -> float:
    """Period where the document gives none: a third of ovens run steadily, the others switch every 8 to 16 s."""
    steady, period = rng.random(2)
    return 0.0 if steady < 0.33 else float(8.0 + 8.0 * period)


def _measured_watts(oven: Oven) -> float | None:
    checks = [check for check in oven.checks or () if check.watts_w is not None]
    cold = [check for check in checks if not check.hot] or checks
    return cold[-1].watts_w if cold else None


def watts_into_water(cavity: Cavity) -> float:
    """Watts that an oven check on 1000 g of water finds [W]."""
    return cavity.watts * _WATER_CHECK_G / (_WATER_CHECK_G + cavity.competing_g)


def cavity_of(oven: Oven) -> Cavity:
    """Hidden traits of an oven, drawn from its document; a cold oven check, where there is one, fixes its watts."""
    rng = np.random.default_rng([0x0FE4, _seed_of(oven)])
    normal = rng.standard_normal(13)
    rated = oven.microwave_rated_w or _USUAL_WATTS
    cavity = Cavity(
        watts=rated * 0.84 * float(np.exp(0.07 * normal[0])),
        competing_g=105.0 * float(np.exp(0.25 * normal[1])),
        period_s=oven.on_off_period_s if oven.on_off_period_s is not None else _hidden_period_s(rng),
        lag_s=0.6 * float(np.exp(0.3 * normal[2])),
        fade=0.12 * float(np.exp(0.3 * normal[11])),
        free_w_m2k=16.0 * float(np.exp(0.15 * normal[3])),
        jet_w_m2k=165.0 * float(np.exp(0.12 * normal[4])),
        half_speed_m_s=13.0 * float(np.exp(0.2 * normal[5])),
        full_speed_m_s=oven.air_speed_max_m_s or _USUAL_SPEED_M_S,
        air_offset_c=-6.0 + 6.0 * float(normal[6]),
        sag_c=28.0 * float(np.exp(0.3 * normal[7])),
        recovery_s=26.0 * float(np.exp(0.25 * normal[8])),
        droop_c=32.0 * float(np.exp(0.3 * normal[12])),
        tray_s=70.0 * float(np.exp(0.25 * normal[9])),
        unevenness=float(np.exp(0.2 * normal[10])),
        boiling_c=100.0 - 0.0034 * (oven.altitude_m or 0.0),
    )
    measured = _measured_watts(oven)
    if measured is None:
        return cavity
    return replace(cavity, watts=measured * (1.0 + cavity.competing_g / _WATER_CHECK_G))
