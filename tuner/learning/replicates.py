"""Spread from cook to cook of one program that mass and start temperature do not explain, from repeated cooks."""

from __future__ import annotations

from collections import defaultdict

import numpy as np

from tuner.learning.calibration import Calibration
from tuner.learning.program_table import Array
from tuner.learning.simulator import Conditions

_DOF = 10.0


def extra_spread(calibration: Calibration, prior_sd: Array) -> Array:
    """Pooled standard deviation of repeats after taking out the model's effect of mass and start, (5,).

    The measuring noise of each cook is subtracted; the prior counts ten degrees of freedom.
    """
    seen = calibration.observations
    groups: dict[tuple[float, ...], list[int]] = defaultdict(list)
    for row, program in enumerate(seen.programs):
        groups[program.key].append(row)
    repeated = [rows for rows in groups.values() if len(rows) >= 2]
    if not repeated:
        return prior_sd
    states = calibration.simulator.states(seen.table, Conditions(seen.mass_g, seen.start_c, seen.rest_s), calibration.theta)
    left, usable = seen.y - states, seen.seen & (seen.side == 0)
    squares, dof = _DOF * prior_sd**2, np.full(5, _DOF)
    for rows in repeated:
        for column in range(5):
            used = [row for row in rows if usable[row, column]]
            if len(used) >= 2:
                values, noise = left[used, column], seen.var[used, column]
                excess = float(((values - values.mean()) ** 2).sum() - (len(used) - 1) * noise.mean())
                squares[column] += max(excess, 0.0)
                dof[column] += len(used) - 1
    return np.asarray(np.sqrt(squares / dof))
