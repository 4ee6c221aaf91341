"""Which unknown matters most for a program, in a chef's words."""

from __future__ import annotations

import numpy as np

from tuner.domain import Program
from tuner.learning.goals import CORE
from tuner.learning.learned import Learned
from tuner.learning.program_table import ProgramTable
from tuner.physics import PARAMETERS

UNKNOWNS = {
    "coupled_share": "how much of the microwave's watts the portion takes",
    "coupling_loss": "how the portion's uptake of microwave changes as it warms",
    "penetration_depth": "how deep the microwave reaches into this food",
    "frozen_attenuation": "how the microwave passes the frozen part",
    "focusing": "how far the shape focuses microwave inside",
    "h_still": "how strongly slow air heats in this oven",
    "h_jet": "how strongly fast air heats in this oven",
    "h_exponent": "how the air's heating grows with its speed",
    "air_offset": "how hot the air at the food really is",
    "conductivity_factor": "how well this food conducts heat",
    "reading_share": "where between coldest point and whole the thermometer reads",
    "reading_cap": "what a thermometer reads near boiling",
}
"""Words for the parameters that move the core; others are named by their own name."""


def greatest_unknown(learned: Learned, program: Program) -> str:
    """The uncertain number that moves the core of a program most, in words."""
    slopes = learned.view.expanded(ProgramTable.of([program])).jacobian[0, CORE]
    spread = np.sqrt(np.clip(np.diag(learned.view.calibration.u_cov), 0.0, None))
    name = PARAMETERS[int(np.argmax(np.round(np.abs(slopes) * spread, 6)))].name
    return UNKNOWNS.get(name, name.replace("_", " "))
