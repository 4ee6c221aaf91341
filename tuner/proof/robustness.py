"""What a recipe minds, and the operating window that holds: from ten robustness cooks (or more) of one program.

Each response is a straight line in coded factors, +1 the harder side for the core, plus the interaction of start temperature
and load. Factors are coded by what was achieved, not by what was planned.

=========  ==========================================  ===========================
factor     0 means                                     +1 means
=========  ==========================================  ===========================
mass       the brief's mass                            the heaviest tried
start      the brief's start temperature               the coldest tried
load       half-way                                    the most portions tried (-1: one)
power      an oven between the two                     the weakest oven tried (-1: strongest)
hot        -                                           hot oven (-1: not hot)
=========  ==========================================  ===========================

References
----------
Box, Hunter and Hunter, Statistics for Experimenters (two-level fractions; prediction intervals of a linear model).
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from tuner.domain import Brief, InvalidDocument
from tuner.proof.response_lines import RESPONSES, ResponseLines, coded_levels, window_of
from tuner.proof.robustness_results import Observation, Ranges, Robustness
from tuner.proof.two_level import FACTORS


def robustness(brief: Brief, ranges: Ranges, observations: Sequence[Observation]) -> Robustness:
    """Effects, operating window and worst corners.

    Raises
    ------
    InvalidDocument
        If there are fewer cooks than factors + 4: nothing is ranked from so few.
    """
    usable = [
        seen for seen in observations if seen.cook.readings_c and seen.cook.mass_g and seen.cook.start_temperature_c is not None
    ]
    levels = np.array([coded_levels(ranges, seen) for seen in usable]).reshape(len(usable), len(FACTORS))
    varied = [index for index in range(len(FACTORS)) if np.ptp(levels[:, index]) > 0.2] if usable else []
    if len(usable) < len(varied) + 4 or not varied:
        raise InvalidDocument(
            [
                f"{len(usable)} measured cooks over {len(varied)} factors. What a recipe minds shows from as many cooks as "
                "factors + 4, with mass, start temperature and readings. Cook the rest of the plan."
            ]
        )
    model = ResponseLines(brief, ranges, usable, levels, varied)
    window = model.window()
    return Robustness(
        cooks=len(usable),
        spare=model.spare,
        effects=tuple(model.effects()),
        window=window,
        nominal_chance=model.chance_of_box(0.0, 0.0, 1, hot=True),
        widenings=tuple(model.widenings(window)),
        coldest_corner=model.corner("core_low_c", lowest=True),
        hottest_corner=model.corner("core_mean_c", lowest=False),
        left_out=tuple(
            name for name in RESPONSES if name not in model.fits and any(edge is not None for edge in window_of(brief, name))
        ),
    )
