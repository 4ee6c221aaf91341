"""A program's levers in a chef's words, and what differs between two programs."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from tuner.domain import Program
from tuner.learning.program_table import ProgramTable

THIRD = 1.0 / 3.0


@dataclass(frozen=True)
class Lever:
    """A quantity of a program that a chef can turn, with its unit and how finely it is told."""

    name: str
    words: str
    unit: str
    digits: int
    unit_step: float


LEVERS = (
    Lever("duration_s", "the duration", "s", 0, 15.0),
    Lever("air_temperature_c", "the air temperature", "°C", 0, 12.0),
    Lever("early_microwave_pct", "the microwave in the first third", "points", 0, 10.0),
    Lever("middle_microwave_pct", "the microwave in the middle third", "points", 0, 10.0),
    Lever("late_microwave_pct", "the microwave in the last third", "points", 0, 10.0),
    Lever("early_air_pct", "the air speed in the first half", "points", 0, 15.0),
    Lever("late_air_pct", "the air speed in the last quarter", "points", 0, 12.0),
)
"""`unit_step` is the change of each lever that a chef would call one step; it ranks levers of different units."""


def lever_values(program: Program) -> dict[str, float]:
    """Value of every lever of a program, by name; levels are means over that part of the time."""
    table = ProgramTable.of([program])
    air, micro = table.air, table.micro
    return {
        "duration_s": program.duration_s,
        "air_temperature_c": program.air_temperature_c,
        "early_microwave_pct": 100 * float(table.mean_over(micro, 0.0, THIRD)[0]),
        "middle_microwave_pct": 100 * float(table.mean_over(micro, THIRD, 2 * THIRD)[0]),
        "late_microwave_pct": 100 * float(table.mean_over(micro, 2 * THIRD, 1.0)[0]),
        "early_air_pct": 100 * float(table.mean_over(air, 0.0, 0.5)[0]),
        "late_air_pct": 100 * float(table.mean_over(air, 0.75, 1.0)[0]),
    }


def moved_levers(new: Program, old: Program) -> list[tuple[Lever, float]]:
    """Levers that differ, the most moved first, with new less old."""
    now, before = lever_values(new), lever_values(old)
    moved = [(lever, now[lever.name] - before[lever.name]) for lever in LEVERS]
    moved = [(lever, change) for lever, change in moved if abs(round(change, lever.digits)) > 0]
    order = np.argsort([-abs(change) / lever.unit_step for lever, change in moved], kind="stable")
    return [moved[place] for place in order]
