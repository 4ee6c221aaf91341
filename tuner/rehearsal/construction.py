"""Builds a kitchen from its plan: draws what is hidden, finds a reference, sets windows around it, checks the result."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from tuner.domain import Brief, Program
from tuner.rehearsal.anchoring import brief_around, scale_around, settled
from tuner.rehearsal.bench import Bench
from tuner.rehearsal.cavity import cavity_of
from tuner.rehearsal.grid import duration_range, on_steps, random_programs
from tuner.rehearsal.network import BASE, HEART, MANTLE, POCKET, RIM
from tuner.rehearsal.panel import Panel, drawn_panel
from tuner.rehearsal.plan import KitchenPlan
from tuner.rehearsal.reference import (
    CoreAim,
    Pool,
    conventional_methods,
    core_right,
    likeness,
    per_mark,
    pools_of,
    separation,
)
from tuner.rehearsal.refinement import Task, best_first, best_share, climbed
from tuner.rehearsal.senses import Impression
from tuner.rehearsal.simulation import Setup
from tuner.rehearsal.table import Array, joined
from tuner.rehearsal.temper import drawn_nature
from tuner.rehearsal.windows import edges_of

_POOL = 1000
_SHORT_LIST = 14
_PORTIONS = 48
_CHECKED_PORTIONS = 400
_WINNABLE = 0.98
"""Share inside that the reference must show here, so that 0.95 holds for other draws of portions."""
_LONE, _BACKWARD = 0.35, 0.04
"""Largest shares inside of one-stage programs and of the reversed reference where the order decides."""
_UNLIKE_MARKS = 0.6
"""Furthest that the conventional result may be from 3."""
_PALEST, _DARKEST = -2.2, -0.25
"""Logarithms of the colour between which a dish is worth eating."""
_REACHABLE = 0.006
"""Least share of random programs with a right core that must be inside: below, a kitchen is a needle in a haystack."""
_CALMER = (1.0, 0.87, 0.75, 0.64, 0.54)
"""Factors on the natural variation, tried in turn: some dishes can only be served by kitchens that work closely."""
_ATTEMPTS, _CONTENT_AFTER, _HOPELESS_AFTER = 5, 2, 2
"""Most hidden dishes tried; after how many a single lack is put up with; after how many without success a plan is dropped."""


class UnwinnableError(ValueError):
    """No kitchen of a plan can be won: it asks for what its oven can't do."""


@dataclass(frozen=True, slots=True)
class Built:
    """What construction hands over.

    Attributes
    ----------
    task, panel
        The kitchen with its windows, and its people and instruments.
    good_program
        A program truly inside for nearly all portions.
    share_inside
        What was found for it.
    order_decides
        Whether no one-stage program and no reverse comes near.
    unlike_marks
        How far the conventional result is from 3, at worst.
    reachable
        Share of random programs with a right core that are inside: how much there is to be found.
    """

    task: Task
    panel: Panel
    good_program: Program
    share_inside: float
    order_decides: bool
    unlike_marks: float
    reachable: float

    @property
    def brief(self) -> Brief:
        """With windows and conventional method."""
        return self.task.brief

    def lacks(self, *, ordered: bool) -> int:
        """How much of what was planned is missing; 0 is nothing."""
        dull = ordered and not self.order_decides
        return 2 * dull + (self.reachable < _REACHABLE) + (self.unlike_marks > _UNLIKE_MARKS)


def _places(count: int, rng: np.random.Generator) -> tuple[tuple[float, ...], ...]:
    """The coldest point first, then tips that sit a little further out."""
    rows = []
    for place in range(count):
        row = np.zeros(6)
        out = 0.0 if place == 0 else rng.uniform(0.15, 0.35)
        row[HEART] = 1 - out
        row[[MANTLE, BASE, RIM, POCKET][int(rng.integers(4))]] += out * 0.4
        row[MANTLE] += out * 0.6
        rows.append(tuple(float(value) for value in row))
    return tuple(rows)


def _bench(plan: KitchenPlan, rng: np.random.Generator, order: float) -> Bench:
    nature = drawn_nature(plan.food_class, plan.portion, rng, order)
    return Bench(Setup(plan.portion, nature, cavity_of(plan.oven), plan.rest_s, plan.covered), _places(plan.places, rng))


def _calmed(task: Task, factor: float) -> Task:
    """The same kitchen with less natural variation."""
    setup = task.bench.setup
    spread = setup.nature.variation
    calmer = replace(spread, **{name: getattr(spread, name) * factor for name in spread.__slots__})
    nature = replace(setup.nature, variation=calmer)
    return replace(task, bench=replace(task.bench, setup=replace(setup, nature=nature)))


def _short_list(plan: KitchenPlan, bench: Bench, many: Pool, single: Pool, unlike: Array, mark: Array) -> NDArray[np.intp]:
    """Candidates: like the conventional method and, where the order is to decide, apart from one stage and from the reverse."""
    worth = -0.3 * unlike - 2.0 * np.maximum(unlike - 0.5, 0.0)
    colour = many.impression.colour
    worth = worth - 3.0 * (np.maximum(_PALEST - colour, 0.0) + np.maximum(colour - _DARKEST, 0.0))
    if plan.order > 0:
        reverse = bench.cook_nominal(many.table.reversed_stages())
        turned = np.abs(reverse.latent - many.impression.latent) / mark[:, None] / 0.5
        worth = worth + 1.2 * np.minimum(separation(many, single, mark), 2.2) + 0.4 * np.minimum(turned.max(axis=0), 2.5)
    return best_first(worth)[:_SHORT_LIST]


def _calmest(each: Impression, mark: Array, aim: CoreAim) -> int:
    """Which of the short list scatters least over natural portions, in widths of the windows; earlier ones are preferred."""
    latent = each.latent.reshape(3, -1, _PORTIONS)
    scatter = (latent.std(axis=2) / mark[:, None] / 0.5).max(axis=0)
    core = each.lowest_c.reshape(-1, _PORTIONS).std(axis=1) / ((aim.high - aim.low) / 4)
    return int(best_first(-np.maximum(scatter, core) - 0.02 * np.arange(len(core)))[0])


def _one_stage_share(task: Task, plan: KitchenPlan, single: Pool, rng: np.random.Generator) -> float:
    """How well one stage can do, from a pool wider than the one the reference was chosen against."""
    window = task.brief.targets.core_temperature_c
    aim = CoreAim(plan.usable_low_c - 2.0, (window.high if window and window.high else plan.core_high_c) + 2.0)
    durations = duration_range(task.oven, task.brief.targets.duration_s)
    wide = core_right(task.bench, task.oven, aim, durations, rng, 1, _POOL).table
    plain = on_steps(task.oven, random_programs(task.oven, durations, rng, _POOL // 3, 1))
    return best_share(task, joined([single.table, wide, plain]), rng)


def _finished(
    plan: KitchenPlan, task: Task, start: Pool, pools: tuple[Pool, Pool], conventional: Pool, rng: np.random.Generator
) -> Built:
    """Polish the reference and measure what the kitchen asks for."""
    panel = drawn_panel(plan.tasters, plan.taster_sd, rng)
    best = climbed(task, start.table, rng, rounds=7, portions=24)
    polished = task.bench.cook_all_on(best, task.bench.natural(rng, _PORTIONS))
    task = replace(task, scale=settled(task.scale, polished))
    share = 0.0
    for factor in _CALMER:
        calm = _calmed(task, factor)
        share = float(calm.shares(best, rng, _CHECKED_PORTIONS)[0])
        if share >= _WINNABLE:
            break
    backward = float(calm.shares(best.reversed_stages(), rng, 80)[0])
    many, single = pools
    decides = share >= _WINNABLE and backward <= _BACKWARD and _one_stage_share(calm, plan, single, rng) <= _LONE
    reachable = float(edges_of(task.brief).holds(many.impression, task.scale).mean())
    far = float(np.abs(task.scale.marks(conventional.impression.latent) - 3.0).max())
    return Built(calm, panel, best.program(0), share, decides, far, reachable)


def _attempt(plan: KitchenPlan, number: int, order: float) -> Built | None:
    """One hidden dish with its windows, or None where its core can't be made right."""
    rng = np.random.default_rng([0x71C4, *plan.seed, number])
    bench = _bench(plan, rng, order)
    aim = CoreAim(plan.usable_low_c, plan.core_high_c)
    shortest, longest = duration_range(plan.oven, None)
    many, single = pools_of(bench, plan.oven, aim, (shortest, min(longest, plan.longest_s)), rng, _POOL)
    conventional = conventional_methods(bench, aim)
    if len(many.table) < 2 * _SHORT_LIST or not len(single.table) or not len(conventional.table):
        return None
    mark = per_mark([many, single])
    unlike, twin = likeness(many, conventional, mark)
    index = _short_list(plan, bench, many, single, unlike, mark)
    each = bench.cook_all_on(many.table.take(index), bench.natural(rng, _PORTIONS))
    pick = _calmest(each, mark, aim)
    chosen = each.take(np.arange(pick * _PORTIONS, (pick + 1) * _PORTIONS))
    method = conventional.take(twin[index[pick : pick + 1]])
    scale = scale_around(chosen, method.impression, mark, rng)
    start = many.take(index[pick : pick + 1])
    task = Task(bench, scale, brief_around(plan, start.table, chosen, method.table), plan.oven)
    return _finished(plan, task, start, (many, single), method, rng)


def _next_order(built: Built | None) -> float:
    """Factor on the strength of order after an attempt that did not hold all, or (None) could not be won."""
    if built is None:
        return 0.85
    return 0.75 if built.reachable < _REACHABLE or built.order_decides else 1.3


def build(plan: KitchenPlan) -> Built:
    """Build a kitchen, drawing further hidden dishes until one holds all that was planned, or the best of several.

    Raises
    ------
    UnwinnableError
        If none can be won.
    """
    best: Built | None = None
    order, ordered = plan.order, plan.order > 0
    for number in range(_ATTEMPTS):
        built = _attempt(plan, number, order)
        won = built is not None and built.share_inside >= _WINNABLE
        if built is not None and won and (best is None or built.lacks(ordered=ordered) < best.lacks(ordered=ordered)):
            best = built
        if best is None and number >= _HOPELESS_AFTER:
            break
        if best is not None and best.lacks(ordered=ordered) <= (number >= _CONTENT_AFTER):
            break
        order *= _next_order(built if won else None)
    if best is None:
        raise UnwinnableError(
            f"kitchen {plan.name!r} can't be won. Its oven must reach the core window in time. Change the plan"
        )
    return best
