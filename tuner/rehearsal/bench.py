"""One dish at one oven, ready to cook tables of programs."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from tuner.rehearsal.cavity import Cavity
from tuner.rehearsal.portions import Portions, drawn, nominal
from tuner.rehearsal.senses import Impression, impression_of
from tuner.rehearsal.simulation import Setup, cooked
from tuner.rehearsal.table import ProgramTable


@dataclass(frozen=True, slots=True)
class Bench:
    """Dish, oven and rest.

    Attributes
    ----------
    setup
        Dish, oven and rest as they are.
    places
        How each place mixes the compartments, one row of six weights a place.
    """

    setup: Setup
    places: tuple[tuple[float, ...], ...]

    def cook(self, table: ProgramTable, portions: Portions, *, steps: int | None = None) -> Impression:
        """Cook program i on portion i."""
        return impression_of(cooked(self.setup, table, portions, steps=steps), self.setup.nature, np.asarray(self.places))

    def in_cavity(self, cavity: Cavity) -> Bench:
        """The same dish in another oven."""
        return replace(self, setup=replace(self.setup, cavity=cavity))

    def cook_nominal(self, table: ProgramTable, *, steps: int | None = None) -> Impression:
        """Cook every program on a portion exactly as written."""
        return self.cook(table, nominal(self.setup.portion, len(table)), steps=steps)

    def natural(self, rng: np.random.Generator, count: int) -> Portions:
        """Natural portions."""
        return drawn(self.setup.portion, self.setup.nature.variation, rng, count)

    def cook_all_on(self, table: ProgramTable, portions: Portions) -> Impression:
        """Cook every program on every portion; the last axis runs over portions fastest."""
        return self.cook(table.repeated(len(portions)), portions.tiled(len(table)))
