"""How long the calls of learning take on this machine, one core, by number of cooks and state of the portion.

    OMP_NUM_THREADS=1 python -m benchmarks.answer_time

Times are processor seconds; the first answer of a process, which loads the rooms, is left out.
"""

from __future__ import annotations

import time
from collections.abc import Callable

import numpy as np
from rich.console import Console
from rich.table import Table

from tuner.learning import first_guess, learn
from tuner.learning.learned import learned_from
from tuner.rehearsal import Kitchen, kitchen

KITCHENS = ("pork-cutlet", "aubergine-bake")
COOKS = (0, 5, 15, 20)
REPEATS = 3


def timed(work: Callable[[], object]) -> float:
    """Processor seconds of one call."""
    began = time.process_time()
    work()
    return time.process_time() - began


def cooked(where: Kitchen, count: int) -> list:
    """Cooks of a development that follows the proposals."""
    rng, cooks = np.random.default_rng(5), []
    for _ in range(count):
        [proposal] = learn(where.brief, where.oven, cooks).propose()
        cooks.append(where.cook(proposal.program, rng))
    return cooks


def once(where: Kitchen, cooks: list, seed: int) -> list[float]:
    """Seconds of proposing, assessing, one forecast, a thousand forecasts."""
    fresh = []

    def propose() -> None:
        fresh.append(learned_from(where.brief, where.oven, cooks))
        fresh[0].propose(seed=seed)

    first = timed(propose)
    learned = fresh[0]
    programs = learned.grid.programs(learned.pool(seed).codes)
    thousand = (programs * (1000 // len(programs) + 1))[:1000]
    return [
        first,
        timed(learned.assess),
        timed(lambda: learned.forecast(programs[:1])),
        timed(lambda: learned.forecast(thousand)),
    ]


def row(where: Kitchen, cooks: list) -> list[float]:
    """Medians of a few runs."""
    return [float(value) for value in np.median([once(where, cooks, 0) for _ in range(REPEATS)], axis=0)]


def main() -> None:
    """Print the table."""
    table = Table("kitchen", "start", "cooks", "propose s", "assess s", "one forecast s", "1 000 forecasts s")
    for name in KITCHENS:
        where = kitchen(name)
        first_guess(where.brief, where.oven)
        cooks = cooked(where, max(COOKS))
        for count in COOKS:
            cells = [f"{value:.3f}" for value in row(where, cooks[:count])]
            table.add_row(name, where.brief.portion.start_state, str(count), *cells)
    Console().print(table)


if __name__ == "__main__":
    main()
