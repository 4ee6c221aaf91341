"""The conventional oven and its methods: where a dish comes from, cooked by the same model without microwave."""

from __future__ import annotations

import numpy as np

from tuner.rehearsal.cavity import Cavity
from tuner.rehearsal.table import Array, ProgramTable

METHODS = {"fan oven": 1.0, "still oven": 0.2}
"""Methods a brief may name, with the speed of the air as a part of the fan's."""

STEPS = 96
"""Time steps of a conventional cook, whatever it lasts: its changes are slow."""

CONVENTIONAL = Cavity(
    watts=0.0,
    competing_g=100.0,
    period_s=0.0,
    lag_s=0.0,
    free_w_m2k=14.0,
    jet_w_m2k=90.0,
    half_speed_m_s=6.0,
    full_speed_m_s=2.0,
    air_offset_c=0.0,
    sag_c=35.0,
    recovery_s=150.0,
    tray_s=240.0,
    unevenness=1.0,
    boiling_c=100.0,
)
"""A common oven, well kept."""


def conventional_table(air_temperature_c: Array, duration_s: Array, speed: Array) -> ProgramTable:
    """Conventional cooks as a table; all arguments of shape (n,), speed as in `METHODS`."""
    ones = np.ones((len(duration_s), 1))
    return ProgramTable(air_temperature_c, duration_s, ones, speed[:, None] * ones, 0.0 * ones)


def conventional_grid() -> ProgramTable:
    """All methods a cook book would write: 140 to 230 °C in steps of 10, whole minutes, in order."""
    air, minutes, speed = np.meshgrid(
        np.arange(140.0, 231.0, 10.0), np.unique(np.round(np.geomspace(4, 90, 36))), list(METHODS.values()), indexing="ij"
    )
    return conventional_table(air.ravel(), 60.0 * minutes.ravel(), speed.ravel())


def method_of(speed: float) -> str:
    """Name of the method with this speed."""
    return min(METHODS, key=lambda name: abs(METHODS[name] - speed))
