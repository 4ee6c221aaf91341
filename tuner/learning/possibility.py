"""Can a brief be met on an oven at all: said before any cook."""

from __future__ import annotations

from typing import Literal

import numpy as np

from tuner.domain import Brief, Feasibility, Oven
from tuner.learning.goals import CORE
from tuner.learning.hand_checks import hand_findings, hand_relaxations
from tuner.learning.learned import Learned, learned_from
from tuner.learning.obstacles import MORE_HEAT, hardest_window, obstacle_of, relaxations_of
from tuner.proof import perfect_pass_chance
from tuner.safety import effective_limit

_WINNABLE = 0.5
_SOME_CHANCE = 0.005


def _impossible(learned: Learned) -> tuple[list[str], list[str]]:
    """Obstacles that no program can get round, with the cheapest things to relax."""
    obstacles, relaxations = [], []
    goals = learned.goals
    if learned.grid_or_none is None:
        setting = learned.oven.duration_s
        obstacles.append(
            f"No step of the oven's duration ({setting.low:g} to {setting.high:g} s) lies inside the brief's duration window."
        )
        relaxations.append("Widen the duration window until it holds a step of the oven, or choose another oven.")
    if goals.contradictory:
        limit = effective_limit(learned.brief)
        line = f"{limit.pass_line_c:g} °C (critical limit plus guard)" if limit.pass_line_c is not None else "its low edge"
        obstacles.append(
            f"The core window ends at {goals.high[CORE]:g} °C, at or below its usable low edge: "
            f"the lowest reading must reach {line}."
        )
        relaxations.append("Raise the core window's high by at least 6 K above the usable low edge.")
    return obstacles, relaxations


def _pass_obstacle(chance: float) -> tuple[list[str], list[str]]:
    if chance >= _WINNABLE:
        return [], []
    return (
        [f"Even a perfect program would pass one cook only {100 * chance:.0f} times in 100, because the panel scatters."],
        ["Take more tasters, or widen the narrowest score windows to ±0.75."],
    )


def _searched(learned: Learned) -> tuple[Literal["yes", "doubtful", "no"], list[str], list[str]]:
    """What the search of programs says before any cook, with what to relax."""
    pool = learned.pool()
    obstacle = obstacle_of(pool, learned.goals, learned.cooked)
    if obstacle is not None:
        text = f"By the physics no program reaches every window: {obstacle.text}."
        return "no", [text], relaxations_of(obstacle, pool, learned.goals)
    if float(pool.outlook.chance_all_inside.max()) >= _SOME_CHANCE:
        return "yes", [], []
    hardest = hardest_window(pool, learned.goals)
    told = ["Before any cook no program has a fair chance to lie inside all windows."]
    if hardest is None:
        return "doubtful", told, ["Allow more time, or widen the windows that matter least."]
    told[0] = f"{told[0][:-1]}; most likely {hardest.text}."
    return "doubtful", told, relaxations_of(hardest, pool, learned.goals)


def feasibility(brief: Brief, oven: Oven) -> Feasibility:
    """Whether a brief can be met on an oven, what stands in the way, and what to relax, cheapest first.

    Parameters
    ----------
    brief, oven
        Any legal ones.

    Returns
    -------
    Feasibility
        `no` where no program can do it by the limits themselves, or even the physics' doubt leaves none; `doubtful` where
        a perfect program would often fail its cooks or no program has a fair chance before any cook.
    """
    learned = learned_from(brief, oven, ())
    chance = float(np.clip(perfect_pass_chance(brief), 0.0, 1.0))
    obstacles, relaxations = _impossible(learned)
    possible: Literal["yes", "doubtful", "no"] = "no" if obstacles else "yes"
    if not obstacles:
        findings = hand_findings(brief, oven, learned.goals)
        obstacles += [finding.text for finding in findings]
        relaxations += hand_relaxations(brief, oven, learned.goals, findings) if findings else []
        if any(finding.impossible for finding in findings):
            possible = "no"
        else:
            possible, told, ways = _searched(learned)
            obstacles += told
            relaxations += [way for way in ways if not relaxations or way != MORE_HEAT]
            possible = "doubtful" if findings and possible == "yes" else possible
    more, remedies = _pass_obstacle(chance)
    if more and possible == "yes":
        possible = "doubtful"
    return Feasibility(
        possible=possible, pass_chance=chance, obstacles=(*obstacles, *more), relaxations=(*relaxations, *remedies)
    )
