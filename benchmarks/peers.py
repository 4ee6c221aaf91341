"""Proposers to compare with: a spread at random, a chef who follows the trade's rules, and one who knows the answer."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from tuner.domain import SCORES, Brief, Oven, Program, TestCook
from tuner.learning.candidates import longest_useful_s, spread_programs, stage_counts
from tuner.learning.goals import goals_of
from tuner.learning.grid import grid_of
from tuner.learning.program_table import program_of
from tuner.proof import judge
from tuner.safety import usable_core_window

Peer = Callable[[Brief, Oven, Sequence[TestCook], Program, np.random.Generator], Program]


def at_random(brief: Brief, oven: Oven, cooks: Sequence[TestCook], first: Program, rng: np.random.Generator) -> Program:
    """A passing program again; else a random legal one that follows no rule but the oven's."""
    if not cooks:
        return first
    if judge(brief, cooks[-1]).result == "pass" and cooks[-1].program is not None:
        return cooks[-1].program
    grid = grid_of(brief, oven, goals_of(brief))
    stages = int(rng.choice(stage_counts(grid)))
    codes = spread_programs(rng, 50, grid, longest_useful_s(brief, grid), stages)
    return grid.programs(codes[:1])[0]


def _middle_misses(brief: Brief, cook: TestCook) -> dict[str, float]:
    """Signed distance of each measured attribute from the middle of its window, in half-widths."""
    low, high = usable_core_window(brief)
    found = {}
    if cook.readings_c and low is not None and high is not None:
        middle = (low + high) / 2
        found["core"] = (float(np.mean(cook.readings_c)) - middle) / max((high - low) / 2, 1.0)
        if min(cook.readings_c) < low:
            found["core"] = min(found["core"], -1.01)
    for name in SCORES:
        window, mean = brief.targets.of(name), cook.panel_mean(name)
        if window and mean is not None and window.low is not None and window.high is not None:
            found[name] = (mean - (window.low + window.high) / 2) / ((window.high - window.low) / 2)
    loss, window = cook.cook_loss_pct, brief.targets.cook_loss_pct
    if window and window.high is not None and loss is not None and loss > window.high:
        found["loss"] = 1.0 + (loss - window.high) / 3
    return found


def _scaled(stages: list[list[float]], column: int, where: slice, *, times: float = 1.0, plus: float = 0.0) -> None:
    for stage in stages[where]:
        stage[column] = float(np.clip(stage[column] * times + plus, 0, 100))


def _adjusted(program: Program, misses: dict[str, float]) -> Program:
    """The trade's lever for the worst symptom, at the trade's size."""
    stages = [[s.share_pct, s.air_speed_pct, s.microwave_pct] for s in program.stages]
    temperature, duration = program.air_temperature_c, program.duration_s
    core, brown = misses.get("core", 0.0), misses.get("browning", 0.0)
    worst = max(misses, key=lambda name: abs(misses[name]))
    late, early = slice(-1, None), slice(0, max(1, len(stages) - 1))
    if abs(core) > 1 or worst == "core":
        size = min(abs(core), 3.0)
        if core < 0 and brown < -0.6:
            duration *= 1 + 0.06 * size
        elif core > 0 and brown > 0.6:
            duration *= 1 - 0.05 * size
        else:
            _scaled(stages, 2, early, times=1 - np.sign(core) * 0.06 * size)
    elif worst == "browning":
        _scaled(stages, 1, late, plus=-12 * brown)
        if abs(brown) > 1.5:
            temperature -= 5 * np.sign(brown)
    elif worst == "moisture":
        dry = misses["moisture"] < 0
        _scaled(stages, 1, early, times=0.9 if dry else 1.1)
        duration *= 0.96 if dry else 1.04
    elif worst == "texture":
        duration *= 0.95 if misses["texture"] > 0 else 1.05
    elif worst == "loss":
        _scaled(stages, 2, early, times=0.88)
        duration *= 1.05
    return program_of(float(np.clip(temperature, 20, 400)), max(duration, 1.0), [(s, a, m) for s, a, m in stages])


def rule_following_chef(
    brief: Brief, oven: Oven, cooks: Sequence[TestCook], first: Program, rng: np.random.Generator
) -> Program:
    """A passing program again; else the last one, changed as the trade's rules say."""
    if not cooks:
        return first
    last = cooks[-1].program
    assert last is not None
    if judge(brief, cooks[-1]).result == "pass":
        return last
    grid = grid_of(brief, oven, goals_of(brief))
    misses = _middle_misses(brief, cooks[-1])
    changed = _adjusted(last, misses) if misses else last
    code = grid.snapped(changed)
    if code is None:
        return first
    settled = grid.programs(code[None, :])[0]
    tried = {cook.program.key for cook in cooks if cook.program is not None}
    if settled.key in tried and settled.key != last.key:
        return settled
    if settled.key == last.key:
        from tuner.learning.candidates import neighbours

        return grid.programs(neighbours(rng, code[None, :], 20, grid)[:1])[0]
    return settled


PEERS: dict[str, Peer] = {"random": at_random, "chef": rule_following_chef}
