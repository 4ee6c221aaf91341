"""One dish at one oven, ready to cook tables of programs."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from tuner.domain import Portion
from tuner.rehearsal.cavity import Cavity
from tuner.rehearsal.nature import Nature
from tuner.rehearsal.portions import Portions, drawn, nominal
from tuner.rehearsal.senses import Impression, impression_of
from tuner.rehearsal.simulation import cooked
from tuner.rehearsal.table import Array, ProgramTable


@dataclass(frozen=True, slots=True)
class Bench:
    """Dish, oven and rest.

    Attributes
    ----------
    portion, nature
        The dish as written and as it is.
    cavity
        The oven as it is.
    places
        How each place mixes the compartments, one row of six weights a place.
    rest_s, covered
        The rest before probing and tasting.
    """

    portion: Portion
    nature: Nature
    cavity: Cavity
    places: tuple[tuple[float, ...], ...]
    rest_s: float
    covered: bool

    def cook(self, table: ProgramTable, portions: Portions, *, steps: int | None = None) -> Impression:
        """Cook program i on portion i."""
        result = cooked(
            self.portion, self.nature, self.cavity, table, portions, rest_s=self.rest_s, covered=self.covered, steps=steps
        )
        return impression_of(result, self.nature, np.asarray(self.places))

    def cook_nominal(self, table: ProgramTable, *, steps: int | None = None) -> Impression:
        """Cook every program on a portion exactly as written."""
        return self.cook(table, nominal(self.portion, len(table)), steps=steps)

    def natural(self, rng: np.random.Generator, count: int) -> Portions:
        """Natural portions."""
        return drawn(self.portion, self.nature.variation, rng, count)

    def cook_all_on(self, table: ProgramTable, portions: Portions) -> Impression:
        """Cook every program on every portion; the last axis runs over portions fastest."""
        return self.cook(table.repeated(len(portions)), portions.tiled(len(table)))


def shares_of(inside: Array | np.ndarray[tuple[int, ...], np.dtype[np.bool_]], programs: int) -> Array:
    """Mean over portions of each program, from a result of `cook_all_on`."""
    return np.asarray(inside, dtype=float).reshape(programs, -1).mean(axis=1)
