"""Eight runs over five two-level factors, and two centre runs: the plan that finds what a recipe minds.

The fraction 2^(5-2) with D = AB and E = AC, so I = ABD = ACE = BCDE. Start temperature is B and load is C: their interaction
BC is aliased with DE only, and can be read apart from every main effect.

References
----------
Box, Hunter and Hunter, Statistics for Experimenters, chapter on fractional designs at two levels.
"""

from __future__ import annotations

FACTORS = ("mass", "start", "load", "power", "hot")
"""A, B, C, D = AB, E = AC. +1 is the harder side for the core: heavier, colder, more at once, weaker oven, hot oven."""


def two_level_runs() -> tuple[dict[str, int], ...]:
    """Levels of the eight runs, then of the two centre runs (at 0; one of them on a hot oven, for hot has no middle)."""
    runs = []
    for c in (-1, 1):
        for b in (-1, 1):
            for a in (-1, 1):
                runs.append(dict(zip(FACTORS, (a, b, c, a * b, a * c), strict=True)))
    centre = dict.fromkeys(FACTORS, 0)
    return (*runs, {**centre, "hot": -1}, {**centre, "hot": 1})
