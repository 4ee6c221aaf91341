"""Programs of a development that have been cooked: their counts by the simple rule and what is expected of them now."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from tuner.domain import Program, TestCook
from tuner.learning.acquisition import success
from tuner.learning.learned import Learned
from tuner.learning.outlook import Outlook
from tuner.learning.program_table import Array
from tuner.proof import Tally, counts, tally

ProgramKey = tuple[float, ...]


@dataclass(frozen=True, eq=False)
class Cooked:
    """Counting cooks' programs, each once in the order first cooked, with tallies and outlook (None where there are none)."""

    programs: tuple[Program, ...]
    tallies: tuple[Tally, ...]
    outlook: Outlook | None

    def passes_left(self, place: int) -> int:
        """Passing cooks the program still needs by the simple rule."""
        found = self.tallies[place]
        return max(found.needed - found.passing, 0)

    def has_passed(self, place: int) -> bool:
        """Whether the program ever passed a counting cook."""
        found = self.tallies[place]
        return found.passing > 0 or found.after_first_pass > 0

    def prospects(self) -> Array:
        """Chance-weighted worth of going on with each program, (programs,)."""
        if self.outlook is None:
            return np.zeros(0)
        return np.array(
            [success(self.outlook.chances, max(self.passes_left(k), 1))[k] for k in range(len(self.programs))], dtype=float
        )


def distinct_programs(cooks: Sequence[TestCook]) -> tuple[Program, ...]:
    """Programs that the ovens really did, each once, in the order first cooked."""
    found: dict[ProgramKey, Program] = {}
    for cook in cooks:
        program = cook.done_program
        if program is not None:
            found.setdefault(program.key, program)
    return tuple(found.values())


def cooked_programs(learned: Learned) -> Cooked:
    """Programs with counting cooks, inside the brief's duration window or not."""
    brief, oven = learned.brief, learned.oven
    counting = [cook for cook in learned.cooks if counts(brief, oven, cook)]
    programs = distinct_programs(counting)
    tallies = tuple(tally(brief, oven, learned.cooks, program) for program in programs)
    return Cooked(programs, tallies, learned.outlook(programs) if programs else None)
