"""The trade's rules for a cook's signs, held against what this development's own cooks say their levers do."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from tuner.domain import ATTRIBUTES, Program, TestCook
from tuner.learning.aim import marks_of
from tuner.learning.diagnosis_results import OwnEffect, Remedy
from tuner.learning.goals import Goals
from tuner.learning.joint_prediction import joint_posterior
from tuner.learning.learned import Learned
from tuner.learning.lever_moves import WORDS, LeverName, moved
from tuner.learning.levers import lever_values
from tuner.learning.program_table import Array, ProgramTable
from tuner.learning.scores import slope_at
from tuner.learning.signs import off_by, signs_of
from tuner.learning.trade_table import TableRule
from tuner.proof import counts

ENOUGH_COOKS = 8
"""Counting cooks from which the development's own slopes are told beside the trade's sizes."""

_Z80 = 1.2816
_MOST_TIMES = 3.0
_LEAST_MOVED = {"duration_s": 3.0, "air_temperature_c": 2.0}


def remedies_for(
    learned: Learned, cook: TestCook, rules: Sequence[TableRule], off: Array
) -> tuple[tuple[Remedy, ...], tuple[str, ...]]:
    """Rules as remedies, with their own effects and record here, and pairs of rules that pull a lever both ways."""
    program = cook.done_program
    assert program is not None
    enough = sum(counts(learned.brief, learned.oven, one) for one in learned.cooks) >= ENOUGH_COOKS
    return tuple(_remedy(learned, program, rule, off, own=enough) for rule in rules), _conflicts(rules)


def _remedy(learned: Learned, program: Program, rule: TableRule, off: Array, *, own: bool) -> Remedy:
    new = moved(program, rule.moves) if rule.changes_program else None
    effects = _effects(learned, new, program) if own and new is not None else ()
    hits, tries = _record(learned, rule)
    return Remedy(
        rule=rule.number,
        levers=tuple(move.words for move in rule.moves),
        advice=rule.advice,
        costs=rule.costs,
        basis=rule.basis,
        program=new,
        effects=effects,
        times=_times(learned.goals, effects, off),
        hits=hits,
        tries=tries,
    )


def _effects(learned: Learned, new: Program, old: Program) -> tuple[OwnEffect, ...]:
    """Differences of the two programs' forecasts, with 80 % ranges from their joint posterior."""
    before, after = learned.forecast([old, new])
    joint = joint_posterior(learned.view.calibration, ProgramTable.of([old, new]), learned.view.at(2))
    spread = joint.difference_sd(1, 0)
    marks = marks_of(joint.mean.mean(axis=0)[None, :])[0]
    per_state = np.array([1.0, *slope_at(marks[1:4]), 1.0])
    found = []
    for column, name in enumerate(ATTRIBUTES):
        change = after.attributes[name].mean - before.attributes[name].mean
        wide = _Z80 * float(spread[column] * per_state[column])
        found.append(OwnEffect(attribute=name, change=change, low=change - wide, high=change + wide))
    return tuple(found)


def _times(goals: Goals, effects: tuple[OwnEffect, ...], off: Array) -> float | None:
    """How much of the usual size would bring the worst attribute to its aim; None where the lever does not move it so."""
    if not effects or np.isnan(off).all():
        return None
    worst = int(np.nanargmax(np.abs(off)))
    wanted, change = -float(off[worst] * goals.half_width[worst]), effects[worst].change
    if wanted == 0.0 or change * wanted <= 0 or abs(change) * _MOST_TIMES < abs(wanted):
        return None
    return round(wanted / change, 2)


def _record(learned: Learned, rule: TableRule) -> tuple[int, int]:
    """How often cooks here followed the rule after its signs, and how often the worst attribute then came closer."""
    cooks = [cook for cook in learned.cooks if counts(learned.brief, learned.oven, cook)]
    hits = tries = 0
    for before, after in pairwise(cooks):
        old, new = before.done_program, after.done_program
        if old is None or new is None or old.key == new.key or not rule.changes_program:
            continue
        if not rule.signs <= signs_of(learned.brief, learned.oven, learned.goals, before, ()):
            continue
        if not _followed(rule, old, new):
            continue
        off, then = off_by(before, learned.goals), off_by(after, learned.goals)
        worst = int(np.nanargmax(np.abs(off)))
        if np.isnan(then[worst]):
            continue
        tries += 1
        hits += abs(float(then[worst])) < abs(float(off[worst]))
    return hits, tries


def _followed(rule: TableRule, old: Program, new: Program) -> bool:
    """Whether every lever that the rule turns was turned that way."""
    was, now, asked = lever_values(old), lever_values(new), lever_values(moved(old, rule.moves))
    wanted = {name: asked[name] - was[name] for name in was}
    clear = [name for name, change in wanted.items() if abs(change) >= _LEAST_MOVED.get(name, 2.0)]
    return bool(clear) and all((now[name] - was[name]) * wanted[name] > 0 for name in clear)


def _conflicts(rules: Sequence[TableRule]) -> tuple[str, ...]:
    sides: dict[LeverName, dict[bool, int]] = {}
    for rule in rules:
        for move in rule.moves:
            sides.setdefault(move.lever, {}).setdefault(move.most > 0, rule.number)
    return tuple(
        f"Rules {both[True]} and {both[False]} pull the {WORDS[lever]} both ways: follow neither, or one at a time."
        for lever, both in sides.items()
        if len(both) == 2
    )
