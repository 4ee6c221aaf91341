"""The conventional oven and its methods: where a dish comes from, cooked by the same model without microwave."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from tuner.rehearsal.cavity import Cavity
from tuner.rehearsal.table import Array, ProgramTable

METHODS: dict[str, tuple[tuple[float, float], tuple[float, float]]] = {
    "fan oven": ((0.5, 1.0), (0.5, 1.0)),
    "still oven": ((0.5, 0.2), (0.5, 0.2)),
    "fan oven, under a lid for the first two thirds": ((0.67, 0.0), (0.33, 1.0)),
}
"""Methods a brief may name: two parts, each with its share of the time and the speed of the air as a part of the fan's."""

STEPS = 72
"""Time steps of a conventional cook, whatever it lasts: its changes are slow."""

CONVENTIONAL = Cavity(
    watts=0.0,
    competing_g=100.0,
    period_s=0.0,
    lag_s=0.0,
    fade=0.0,
    free_w_m2k=8.0,
    jet_w_m2k=110.0,
    half_speed_m_s=6.0,
    full_speed_m_s=2.0,
    air_offset_c=0.0,
    sag_c=35.0,
    recovery_s=150.0,
    droop_c=0.0,
    tray_s=240.0,
    unevenness=1.0,
    boiling_c=100.0,
)
"""A common oven, well kept."""


def conventional_table(air_temperature_c: Array, duration_s: Array, methods: Sequence[str]) -> ProgramTable:
    """Conventional cooks as a table.

    Parameters
    ----------
    air_temperature_c, duration_s
        Shape (n,).
    methods
        One of `METHODS` each.
    """
    parts = np.array([METHODS[method] for method in methods])
    return ProgramTable(air_temperature_c, duration_s, parts[:, :, 0], parts[:, :, 1], np.zeros((len(parts), 2)))


def conventional_grid() -> ProgramTable:
    """All that a cook book would write: every method, 140 to 230 °C in steps of 10, whole minutes."""
    minutes = np.unique(np.round(np.geomspace(4, 90, 22)))
    number, air, minute = np.meshgrid(np.arange(len(METHODS)), np.arange(140.0, 231.0, 10.0), minutes, indexing="ij")
    names = list(METHODS)
    return conventional_table(air.ravel(), 60.0 * minute.ravel(), [names[index] for index in number.ravel()])


def method_of(table: ProgramTable) -> str:
    """Name of the method in the first row of a conventional table."""
    here = np.stack([table.share[0], table.speed[0]], axis=1)
    return min(METHODS, key=lambda name: float(np.abs(np.array(METHODS[name]) - here).sum()))
