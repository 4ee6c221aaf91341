"""Speed, energy residual and settling of the physics: `python -m benchmarks.physics`."""

from __future__ import annotations

import time

import numpy as np

from tests.physics.dishes import NAMES, brief, oven, random_programs
from tuner.physics import PARAMETERS, ProgramArrays, energy_balance, portion_model

RUNS = 2000


def seconds_for(name: str, runs: int = RUNS) -> float:
    """Best of three processor times for `runs` programs with as many parameter sets [s]."""
    dish = brief(name)
    model = portion_model(dish, oven())
    programs = ProgramArrays.of(random_programs(np.random.default_rng(0), 200) * (runs // 200))
    theta = model.prior_mean + 0.5 * np.random.default_rng(1).normal(size=(runs, len(PARAMETERS)))
    taken = []
    for _ in range(4):
        begin = time.process_time()
        model.predict(programs, mass_g=dish.portion.mass_g, start_temperature_c=dish.portion.start_temperature_c, theta=theta)
        taken.append(time.process_time() - begin)
    return min(taken[1:])


EXTREMES = (("slab", 1.0), ("slab", 28.0), ("sphere", 250.0))
"""Shape and thickness [mm] of the thinnest, the usual and the thickest portion, each frozen and chilled, cooked for 1 200 s."""


def extreme_seconds(shape: str, thickness_mm: float, *, frozen: bool, runs: int = RUNS) -> float:
    """Processor time for `runs` programs of 1 200 s on an extreme portion [s]."""
    state, start_c = ("frozen", -18.0) if frozen else ("chilled", 4.0)
    dish = brief(portion={"shape": shape, "thickness_mm": thickness_mm, "start_state": state, "start_temperature_c": start_c})
    model = portion_model(dish, oven())
    rng = np.random.default_rng(0)
    programs = [one.model_copy(update={"duration_s": 1200.0}) for one in random_programs(rng, 200)] * (runs // 200)
    arrays = ProgramArrays.of(programs)
    theta = model.prior_mean + 0.5 * rng.normal(size=(runs, len(PARAMETERS)))
    taken = []
    for _ in range(2):
        begin = time.process_time()
        model.predict(arrays, mass_g=dish.portion.mass_g, start_temperature_c=start_c, theta=theta)
        taken.append(time.process_time() - begin)
    return taken[-1]


def main() -> None:
    """Print one line a dish, then the extremes."""
    print(f"{'dish':<20} {'s for 2 000':>12} {'us a run':>9} {'model ms':>9} {'energy residual':>16}")
    for name in NAMES:
        dish = brief(name)
        taken = seconds_for(name)
        begin = time.process_time()
        model = portion_model.__wrapped__(dish, oven())
        built = time.process_time() - begin
        balance = energy_balance(
            model,
            random_programs(np.random.default_rng(2), 50),
            mass_g=dish.portion.mass_g,
            start_temperature_c=dish.portion.start_temperature_c,
            theta=model.prior_mean,
        )
        print(
            f"{name:<20} {taken:>12.3f} {1e6 * taken / RUNS:>9.1f} {1e3 * built:>9.0f} {np.abs(balance.residual).max():>16.1e}"
        )

    for shape, thickness_mm in EXTREMES:
        for frozen in (False, True):
            seconds = extreme_seconds(shape, thickness_mm, frozen=frozen)
            state = "frozen" if frozen else "chilled"
            print(f"{thickness_mm:g} mm {shape}, {state}, 1 200 s: {seconds:.2f} s for {RUNS} programs")


if __name__ == "__main__":
    main()
