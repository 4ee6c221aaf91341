"""Builds a kitchen from its plan: draws what is hidden, finds the reference, sets the windows around it, checks that it can be won."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from tuner.domain import Brief, Program
from tuner.rehearsal.bench import Bench, shares_of
from tuner.rehearsal.cavity import cavity_of, conventional_cavity
from tuner.rehearsal.grid import duration_range, neighbours
from tuner.rehearsal.network import BASE, HEART, MANTLE, POCKET, RIM
from tuner.rehearsal.panel import Panel, drawn_panel
from tuner.rehearsal.plan import KitchenPlan
from tuner.rehearsal.reference import CoreAim, Pool, conventional_methods, likeness, per_mark, pools_of, separation, taken
from tuner.rehearsal.senses import Impression, Scale
from tuner.rehearsal.table import Array, ProgramTable, joined
from tuner.rehearsal.temper import drawn_nature
from tuner.rehearsal.windows import Edges, edges_of

_POOL = 1100
_SHORT_LIST = 14
_PORTIONS = 48
_CHECKED_PORTIONS = 400
_WINNABLE = 0.965
"""Share inside that the reference must show here, so that 0.95 holds for other draws of portions."""
_ATTEMPTS = 8


@dataclass(frozen=True, slots=True)
class Built:
    """What construction hands over.

    Attributes
    ----------
    brief
        With windows and conventional method.
    bench, scale, panel
        The hidden kitchen.
    good_program
        A program truly inside for nearly all portions.
    share_inside
        What was found for it.
    order_decides
        Whether no one-stage program and no reverse came near it.
    """

    brief: Brief
    bench: Bench
    scale: Scale
    panel: Panel
    good_program: Program
    share_inside: float
    order_decides: bool


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


def _bench(plan: KitchenPlan, rng: np.random.Generator, calm: float) -> Bench:
    nature = drawn_nature(plan.food_class, plan.portion, rng, ordered=plan.ordered)
    spread = nature.variation
    spread = replace(spread, **{name: getattr(spread, name) * calm for name in spread.__slots__})
    nature = replace(nature, variation=spread)
    return Bench(plan.portion, nature, cavity_of(plan.oven), _places(plan.places, rng), plan.rest_s, plan.covered)


def _core_high(plan: KitchenPlan, chosen: Impression) -> float:
    """High edge of the core window: the planned one, raised where the places of this dish differ more, 12 K wide at most."""
    needed = float(np.ceil(np.percentile(chosen.mean_c, 99) + 1.0))
    return float(min(max(plan.core_high_c, needed), plan.usable_low_c + 12.0))


def _brief(plan: KitchenPlan, conventional: ProgramTable, index: int, highest_core: float, highest_loss: float) -> Brief:
    marks = {"low": 2.5, "high": 3.5}
    document: dict[str, Any] = {
        "dish": plan.dish,
        "food_class": plan.food_class,
        "allergens": list(plan.allergens),
        "ingredients": list(plan.ingredients),
        "portion": plan.portion.model_dump(mode="json", exclude_unset=True),
        "conventional": {
            "method": "fan oven",
            "oven_temperature_c": float(conventional.air_temperature_c[index]),
            "duration_s": float(conventional.duration_s[index]),
        },
        "targets": {
            "core_temperature_c": {"low": plan.core_low_c, "high": highest_core},
            "browning": marks,
            "texture": marks,
            "moisture": marks,
            "cook_loss_pct": {"low": 0, "high": highest_loss},
            "duration_s": {"low": 0, "high": plan.longest_s},
        },
        "critical_limit": plan.limit.model_dump(mode="json", exclude_unset=True),
        "rest_s": plan.rest_s,
        "confirmation_cooks": plan.confirmation_cooks,
        "places": plan.places,
        "tasters": plan.tasters,
        "taster_sd": plan.taster_sd,
        "cook_sd": 0.1,
    }
    return Brief.model_validate(document)


def _best_share(bench: Bench, edges: Edges, scale: Scale, table: ProgramTable, rng: np.random.Generator, count: int) -> Array:
    portions = bench.natural(rng, count)
    return shares_of(edges.holds(bench.cook_all_on(table, portions), scale), len(table))


def _refined(
    bench: Bench, plan: KitchenPlan, edges: Edges, scale: Scale, table: ProgramTable, rng: np.random.Generator, rounds: int
) -> tuple[ProgramTable, float]:
    """Climb to a program with a larger share inside; the smallest mean margin breaks ties."""
    durations = duration_range(plan.oven, None)
    durations = (durations[0], min(durations[1], plan.longest_s))
    best, value = table, -np.inf
    for _ in range(rounds):
        near = joined([best, neighbours(plan.oven, best, durations, rng, 24)])
        portions = bench.natural(rng, _PORTIONS)
        impression = bench.cook_all_on(near, portions)
        margins = edges.margins(impression, scale)
        share = shares_of((margins >= 0).all(axis=0), len(near))
        worth = share + 0.05 * np.minimum(margins.min(axis=0), 1.0).reshape(len(near), -1).mean(axis=1)
        chosen = int(np.argmax(np.round(worth, 6)))
        best, value = near.take(np.array([chosen])), float(share[chosen])
    return best, value


def _best_single(bench: Bench, plan: KitchenPlan, edges: Edges, scale: Scale, single: Pool, rng: np.random.Generator) -> float:
    """Largest share inside of one-stage programs, after a local search from the most promising."""
    durations = duration_range(plan.oven, None)
    durations = (durations[0], min(durations[1], plan.longest_s))
    table, impression = single.table, single.impression
    for _ in range(2):
        worth = edges.margins(impression, scale).min(axis=0)
        table = table.take(np.argsort(-np.round(worth, 6), kind="stable")[:20])
        table = joined([table, neighbours(plan.oven, table, durations, rng, 14)])
        impression = bench.cook_nominal(table)
    worth = edges.margins(impression, scale).min(axis=0)
    table = table.take(np.argsort(-np.round(worth, 6), kind="stable")[:16])
    return float(_best_share(bench, edges, scale, table, rng, 80).max())


def _choice(plan: KitchenPlan, bench: Bench, many: Pool, single: Pool, conventional: Pool, mark: Array) -> np.ndarray[Any, Any]:
    """Short list of candidates, best first: like the conventional method, and apart from one-stage programs where asked."""
    unlike, _ = likeness(many, conventional, mark)
    worth = -unlike
    if plan.ordered:
        reverse = bench.cook_nominal(many.table.reversed_stages())
        turned = np.abs(reverse.latent - many.impression.latent) / mark[:, None] / 0.5
        worth = worth + 1.2 * np.minimum(separation(many, single, mark), 2.2) + 0.4 * np.minimum(turned.max(axis=0), 2.5)
    return np.argsort(-np.round(worth, 6), kind="stable")[:_SHORT_LIST]


def _middle(chosen: Impression, conventional: Impression, mark: Array, rng: np.random.Generator) -> Array:
    """Where the marks read 3: near the reference, drawn a little toward the conventional result, never exactly on either."""
    pull = np.clip(0.35 * (conventional.latent - chosen.latent), -0.18 * mark[:, None], 0.18 * mark[:, None])
    return np.asarray(chosen.latent.mean(axis=1) + pull[:, 0] + mark * rng.uniform(-0.08, 0.08, 3))


def _attempt(plan: KitchenPlan, number: int) -> Built | None:
    rng = np.random.default_rng([0x71C4, *plan.seed, number])
    bench = _bench(plan, rng, calm=1.0 if number < 4 else 0.7)
    panel = drawn_panel(plan.tasters, plan.taster_sd, rng)
    aim = CoreAim(plan.usable_low_c, plan.core_high_c)
    durations = duration_range(plan.oven, None)
    durations = (durations[0], min(durations[1], plan.longest_s))
    many, single = pools_of(bench, plan.oven, aim, durations, rng, _POOL)
    conventional = conventional_methods(replace(bench, cavity=conventional_cavity()), aim)
    if len(many.table) < 2 * _SHORT_LIST or not len(single.table) or not len(conventional.table):
        return None
    mark = per_mark([many, single])
    index = _choice(plan, bench, many, single, conventional, mark)
    short = many.take(index)
    _, twin = likeness(short, conventional, mark)
    # the calmest of the short list: natural portions scatter least in half-widths of the windows
    portions = bench.natural(rng, _PORTIONS)
    each = bench.cook_all_on(short.table, portions)
    latent = each.latent.reshape(3, len(short.table), -1)
    scatter = (latent.std(axis=2) / mark[:, None] / 0.5).max(axis=0)
    core = each.lowest_c.reshape(len(short.table), -1).std(axis=1) / ((aim.high - aim.low) / 4)
    pick = int(np.argmin(np.round(np.maximum(scatter, core) + 0.02 * np.arange(len(scatter)), 6)))
    chosen = taken(each, np.arange(pick * _PORTIONS, (pick + 1) * _PORTIONS))
    like = taken(conventional.impression, twin[pick : pick + 1])
    middle = _middle(chosen, like, mark, rng)
    scale = Scale(_triple(middle), _triple(mark))
    highest = float(np.ceil(max(np.percentile(chosen.loss_pct, 99) + 0.8, 4.0)))
    brief = _brief(plan, conventional.table, int(twin[pick]), _core_high(plan, chosen), highest)
    edges = edges_of(brief)
    best, _ = _refined(bench, plan, edges, scale, short.table.take(np.array([pick])), rng, 4)
    share = float(_best_share(bench, edges, scale, best, rng, _CHECKED_PORTIONS)[0])
    backward = float(_best_share(bench, edges, scale, best.reversed_stages(), rng, 80)[0])
    lone = _best_single(bench, plan, edges, scale, single, rng)
    decides = lone <= 0.42 and backward <= 0.05
    return Built(brief, bench, scale, panel, best.program(0), share, decides)


def _triple(values: Array) -> tuple[float, float, float]:
    first, second, third = (float(value) for value in values)
    return first, second, third


def build(plan: KitchenPlan) -> Built:
    """Build a kitchen, trying further hidden dishes until one can be won as planned.

    Raises
    ------
    ValueError
        If none can be won: the plan asks for what its oven can't do.
    """
    fallback: Built | None = None
    for number in range(_ATTEMPTS):
        built = _attempt(plan, number)
        if built is None or built.share_inside < _WINNABLE:
            continue
        if built.order_decides or not plan.ordered:
            return built
        fallback = fallback or built
    if fallback is None:
        raise ValueError(f"kitchen {plan.name!r} can't be won. Its oven must reach the core window in time. Change the plan")
    return fallback
