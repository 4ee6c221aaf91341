"""The tuner with one of its parts taken out, to see what the part is worth in cooks."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass
from unittest.mock import patch

import numpy as np

from tuner.domain import Brief, Oven
from tuner.learning.goals import goals_of
from tuner.learning.memo import Memo
from tuner.learning.program_table import Array, ProgramTable
from tuner.learning.residual import Residual
from tuner.learning.scores import unclipped_latent
from tuner.learning.simulator import Conditions, Expansion, Simulator, simulator_for

_FLAT_SD = np.array([12.0, 1.4, 1.2, 1.2, 4.0])
"""What a Gaussian process must span where no physics tells it anything."""


@dataclass(frozen=True, eq=False)
class _NoPhysics(Simulator):
    """Says the same of every program, the middle of the windows, and knows no derivatives."""

    level: Array

    def states(self, table: ProgramTable, at: Conditions, theta: Array) -> Array:
        del at, theta
        return np.tile(self.level, (len(table), 1))

    def expanded(self, table: ProgramTable, at: Conditions, theta: Array, scale: Array) -> Expansion:
        del scale
        count = len(table)
        return Expansion(self.states(table, at, theta), np.zeros((count, 5, len(theta))), np.zeros((count, 5, 2)))


def _flat_simulator(brief: Brief, oven: Oven) -> Simulator:
    whole = simulator_for(brief, oven)
    level = goals_of(brief).centre
    level[1:4] = unclipped_latent(level[1:4])
    return _NoPhysics(whole.model, whole.start_step_c, level)


def _no_residual() -> Residual:
    usual = Residual()
    return Residual(usual.length, 0.1 * usual.sd)


def _flat_residual() -> Residual:
    return Residual(Residual().length, _FLAT_SD)


ABLATIONS = {
    "no-physics": {"simulator_for": _flat_simulator, "Residual": _flat_residual},
    "no-residual": {"Residual": _no_residual},
}
"""What is put in the place of which name of `tuner.learning.learned`."""


@contextmanager
def ablated(method: str) -> Iterator[None]:
    """Play with a part of the tuner taken out: methods `tuner-<ablation>`; every other method is played as it is."""
    name = method.removeprefix("tuner-") if method.startswith("tuner-") else None
    if name is not None and name not in ABLATIONS:
        raise SystemExit(f"{method!r} is no method. Ablations are {', '.join(ABLATIONS)}. Choose one of these")
    with ExitStack() as stack:
        for target, instead in (ABLATIONS[name] if name else {}).items():
            stack.enter_context(patch(f"tuner.learning.learned.{target}", instead))
        if name:  # what is remembered was learned by the whole tuner
            stack.enter_context(patch("tuner.learning.calls._LEARNED", Memo(8)))
        yield
