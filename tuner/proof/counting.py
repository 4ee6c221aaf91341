"""Which cooks count for a program, and how far its confirmation has come."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from tuner.domain import Brief, Oven, Program, TestCook
from tuner.domain.brief import EDGE
from tuner.proof.simple_rule import judge

DEFAULT_MASS_PCT = 10.0
"""Deviation from the brief's mass within which a cook counts [%]."""
DEFAULT_START_C = 5.0
"""Deviation from the brief's start temperature within which a cook counts [K]."""


def counts(brief: Brief, oven: Oven, cook: TestCook) -> bool:
    """Whether a cook counts for the program it was cooked with.

    It counts unless it is a benchmark, was not completed, ran on another oven, or was another portion: mass more than
    10 % or start temperature more than 5 K off the brief's (or the tolerances of its portion). What was not noted does not
    exclude it here; such a cook may fail, but `judge` does not let it pass. What does not count is still learned from.
    """
    if cook.purpose == "benchmark" or cook.completed is False or cook.done_program is None:
        return False
    if cook.oven_serial is not None and cook.oven_serial != oven.serial:
        return False
    tolerance = brief.portion.tolerance
    mass_pct = (tolerance.mass_pct if tolerance else None) or DEFAULT_MASS_PCT
    start_c = (tolerance.start_temperature_c if tolerance else None) or DEFAULT_START_C
    return _within(cook.mass_g, brief.portion.mass_g, brief.portion.mass_g * mass_pct / 100.0) and _within(
        cook.start_temperature_c, brief.portion.start_temperature_c, start_c
    )


def _within(value: float | None, wanted: float, tolerance: float) -> bool:
    return value is None or abs(value - wanted) <= tolerance + EDGE * max(1.0, abs(wanted))


@dataclass(frozen=True, slots=True)
class Tally:
    """How far the confirmation of one program has come.

    Attributes
    ----------
    passing
        Passing cooks in the current unbroken run, the first one included.
    needed
        Passing cooks the run needs: 1 + `confirmation_cooks`.
    failed_since
        Whether the latest counting cook that passed or failed was a failing one.
    pending
        Counting cooks since the last failing one that wait for a measurement.
    failing
        Counting cooks that failed, over all time.
    after_first_pass
        Counting cooks, pending ones included, after the first passing one.
    """

    passing: int
    needed: int
    failed_since: bool
    pending: int
    failing: int
    after_first_pass: int

    @property
    def met(self) -> bool:
        """Whether the simple rule is met."""
        return self.passing >= self.needed


def tally(brief: Brief, oven: Oven, cooks: Sequence[TestCook], program: Program) -> Tally:
    """Count the cooks of `program`, in the order in which they were cooked.

    A failing cook ends the run; a pending one neither ends nor lengthens it. A cook counts for the program that was keyed
    in (`program_set`) where that differs from the one ordered.
    """
    passing = pending = failing = after_first_pass = 0
    passed_once = failed_since = False
    for cook in cooks:
        if cook.done_program is None or cook.done_program.key != program.key or not counts(brief, oven, cook):
            continue
        after_first_pass += passed_once
        result = judge(brief, cook).result
        if result == "pass":
            passing, passed_once, failed_since = passing + 1, True, False
        elif result == "fail":
            passing, pending, failing, failed_since = 0, 0, failing + 1, True
        else:
            pending += 1
    return Tally(passing, 1 + brief.confirmation_cooks, failed_since, pending, failing, after_first_pass)
