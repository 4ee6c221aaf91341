"""The order the trade cooks in: inside first with microwave, crust last with air.

Steam from inside wets the crust and only a dry crust browns, so late microwave and early air seldom lead to a recipe that
holds. The preference is soft: it decides between programs that the model thinks about equally good, and gives way where cooks
show that the other order works (common practice, no source).
"""

from __future__ import annotations

import numpy as np

from tuner.learning.program_table import Array, ProgramTable

_LATE_MICROWAVE = 0.35
_SOFTNESS = 0.25
_LEAST = 0.3


def disorder(table: ProgramTable) -> Array:
    """How far programs are from the trade's order, (n,); 0 where microwave falls to little and air does not fall."""
    third = 1.0 / 3.0
    early, late = table.mean_over(table.micro, 0.0, third), table.mean_over(table.micro, 1.0 - third, 1.0)
    air_early, air_late = table.mean_over(table.air, 0.0, 0.5), table.mean_over(table.air, 0.75, 1.0)
    faults = np.stack([late - early, late - _LATE_MICROWAVE, air_early - air_late])
    return np.asarray(0.5 * (np.clip(faults / _SOFTNESS, 0.0, None) ** 2).sum(axis=0))


def preference(table: ProgramTable) -> Array:
    """Factor on what a program is worth, (n,): 1 in the trade's order, not below 0.3 in any other."""
    return np.asarray(_LEAST + (1.0 - _LEAST) * np.exp(-disorder(table)))
