"""How near the first guess comes before any cook: `python -m benchmarks.first_guess --first 1000 --count 60`.

For rehearsal kitchens: the true core of natural portions cooked by the first guess, less the middle of the usable core window.
Seeds from 1 000 are for development; judge on seeds nobody looked at, such as those from 700 000.
"""

from __future__ import annotations

import argparse
import time
from dataclasses import dataclass

import numpy as np

from tuner.learning import first_guess
from tuner.rehearsal import kitchen
from tuner.safety import usable_core_window

NEAR_C, FAR_C = 8.0, 15.0
PORTIONS = 300


@dataclass(frozen=True)
class Guess:
    """The first guess in one kitchen: what was forecast, what was true, and how far from the window's middle."""

    seed: int
    food_class: str
    start_state: str
    forecast_c: float
    true_c: float
    miss_c: float
    browning: float
    inside: float
    seconds: float


def guessed(seed: int) -> Guess | None:
    """Cook the first guess in the kitchen of a seed; None where the seed has no kitchen or the window is open."""
    try:
        where = kitchen(seed)
    except ValueError:
        return None
    low, high = usable_core_window(where.brief)
    if low is None or high is None:
        return None
    begun = time.process_time()
    proposal = first_guess(where.brief, where.oven)
    seconds = time.process_time() - begun
    truth = where.truth(proposal.program, np.random.default_rng([seed, 1]), PORTIONS)
    core = float(np.mean(truth["core_temperature_c"]))
    return Guess(
        seed=seed,
        food_class=where.brief.food_class,
        start_state=where.brief.portion.start_state,
        forecast_c=proposal.forecast.attributes["core_temperature_c"].mean,
        true_c=core,
        miss_c=core - (low + high) / 2,
        browning=float(np.mean(truth["browning"])),
        inside=where.inside(proposal.program, np.random.default_rng([seed, 2]), PORTIONS),
        seconds=seconds,
    )


def line(name: str, guesses: list[Guess]) -> str:
    """Figures of some guesses in one line."""
    miss = np.array([guess.miss_c for guess in guesses])
    wrong = np.array([guess.true_c - guess.forecast_c for guess in guesses])
    return (
        f"{name:<10} {len(guesses):>4} {np.median(miss):>+8.1f} {np.median(np.abs(miss)):>8.1f} "
        f"{100 * np.mean(np.abs(miss) <= NEAR_C):>7.0f} {100 * np.mean(np.abs(miss) <= FAR_C):>7.0f} "
        f"{np.median(wrong):>+9.1f} {np.median([guess.browning for guess in guesses]):>9.1f} "
        f"{100 * np.mean([guess.inside for guess in guesses]):>8.0f} {np.mean([guess.seconds for guess in guesses]):>6.2f}"
    )


def main() -> None:
    """Print the figures over all kitchens, then by start state."""
    ask = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    ask.add_argument("--first", type=int, default=1_000)
    ask.add_argument("--count", type=int, default=60)
    ask.add_argument("--each", action="store_true", help="print a line a kitchen too")
    asked = ask.parse_args()
    found = [guess for seed in range(asked.first, asked.first + asked.count) if (guess := guessed(seed)) is not None]
    print(
        f"{'portions':<10} {'n':>4} {'miss C':>8} {'|miss|':>8} {'<=8 %':>7} {'<=15 %':>7} {'true-fc C':>9} {'browning':>9} "
        f"{'inside %':>8} {'s':>6}"
    )
    print(line("all", found))
    for state in sorted({guess.start_state for guess in found}):
        print(line(state, [guess for guess in found if guess.start_state == state]))
    if asked.each:
        for guess in found:
            print(f"{guess.seed} {guess.food_class:<12} {guess.start_state:<9} {guess.true_c:6.1f} {guess.miss_c:+6.1f}")


if __name__ == "__main__":
    main()
