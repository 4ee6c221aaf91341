"""Which programs to cook next: search on, or cook a running candidate again."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from tuner.domain import InvalidDocument, NoLegalProgram, Program, Proposal
from tuner.domain.results import ProposalPurpose
from tuner.learning.acquisition import expected_cooks, price_of_a_fresh_start, success
from tuner.learning.coordinates import coordinates, squared_distances
from tuner.learning.learned import Learned
from tuner.learning.obstacles import Obstacle, obstacle_of
from tuner.learning.opening import opening_program
from tuner.learning.outlook import forecasts_of
from tuner.learning.pool import Pool
from tuner.learning.program_table import Array, ProgramTable
from tuner.learning.reasons import reasons_for
from tuner.learning.running import Cooked, ProgramKey, cooked_programs
from tuner.learning.search import widened_pool

MOST_AT_ONCE = 20
SAFE_ENOUGH = 0.9
"""Least `chance_safe` of a program proposed for confirmation."""

_RECOOK_SHARE = 0.6
_WIDENINGS = 8
_CROWDING = 0.8
_CROWD_RADIUS = 0.7


@dataclass(frozen=True, eq=False)
class _Table:
    """Everything that a choice looks at."""

    learned: Learned
    pool: Pool
    cooked: Cooked
    obstacle: Obstacle | None
    barred: frozenset[ProgramKey]
    points: Array
    keys: tuple[ProgramKey, ...]
    programs: tuple[Program, ...]
    taken: list[Program] = field(default_factory=list)
    confirmed: dict[ProgramKey, int] = field(default_factory=dict)

    @property
    def needed(self) -> int:
        return 1 + self.learned.brief.confirmation_cooks


def _pool_with_room(learned: Learned, seed: int, closed: frozenset[ProgramKey], count: int) -> Pool:
    """The search's pool, with more programs where too few of it may be proposed."""
    pool, grid = learned.pool(seed), learned.grid
    for _ in range(_WIDENINGS):
        if len(pool.codes) > len(closed) + count:
            free = sum(program.key not in closed for program in grid.programs(pool.codes))
            if free >= count:
                break
        wider = widened_pool(learned.view, grid, learned.goals, pool, seed=seed)
        if len(wider.codes) == len(pool.codes):
            break
        pool = wider
    return pool


def _table(learned: Learned, seed: int, count: int, pending: tuple[Program, ...], refused: tuple[Program, ...]) -> _Table:
    cooked = cooked_programs(learned)
    barred = frozenset(program.key for program in (*pending, *refused))
    closed = barred | {program.key for program in cooked.programs}
    pool = _pool_with_room(learned, seed, closed, count)
    programs = learned.grid.programs(pool.codes)
    points = coordinates(learned.grid.table(pool.codes))
    keys = tuple(program.key for program in programs)
    table = _Table(learned, pool, cooked, obstacle_of(pool, learned.goals, learned.cooked), barred, points, keys, programs)
    table.taken.extend(pending)
    return table


def _free(table: _Table) -> np.ndarray:
    """Rows of the pool that the search may propose: not barred, not cooked, not taken already."""
    closed = table.barred | {program.key for program in table.cooked.programs} | {p.key for p in table.taken}
    return np.array([key not in closed for key in table.keys], dtype=bool)


def _crowding(table: _Table) -> Array:
    """Factor below 1 for programs near others that are about to be cooked: their news will say much the same."""
    if not table.taken:
        return np.ones(len(table.keys))
    near = squared_distances(table.points, coordinates(ProgramTable.of(table.taken)))
    return np.asarray(1.0 - _CROWDING * np.exp(-0.5 * near / _CROWD_RADIUS**2).max(axis=1))


def _best_fresh(table: _Table) -> int | None:
    """Row of the program to search next, None where the pool has none left."""
    free = np.flatnonzero(_free(table))
    if not len(free):
        return None
    outlook, crowd = table.pool.outlook, _crowding(table)
    if table.obstacle is not None:
        safe = np.round(outlook.chance_safe, 2)
        order = table.pool.order(safe, outlook.chance_all_inside, -table.pool.misses)
    else:
        order = table.pool.by_worth(crowd)
    chosen = set(free.tolist())
    return next(int(row) for row in order if int(row) in chosen)


def _confirmable(table: _Table, place: int) -> bool:
    program = table.cooked.programs[place]
    outlook = table.cooked.outlook
    return (
        outlook is not None
        and program.key not in table.barred
        and table.cooked.has_passed(place)
        and float(outlook.chance_safe[place]) >= SAFE_ENOUGH
        and table.learned.grid.code_of(program) is not None
        and table.confirmed.get(program.key, 0) < max(table.cooked.passes_left(place), 1)
    )


def _to_confirm(table: _Table, fresh: int | None) -> int | None:
    """Place of the running candidate to cook again, None where a new program is the better buy."""
    places = [place for place in range(len(table.cooked.programs)) if _confirmable(table, place)]
    if not places or table.cooked.outlook is None:
        return None
    if fresh is None:
        return max(places, key=lambda place: (round(float(table.cooked.prospects()[place]), 6), place))
    chances = table.pool.outlook.chances
    fresh_success = float(success(chances, table.needed)[fresh])
    price = price_of_a_fresh_start(fresh_success)
    best, best_cost = None, float(expected_cooks(chances, table.needed, price)[fresh])
    for place in places:
        left = max(table.cooked.passes_left(place), 1)
        chance = float(success(table.cooked.outlook.chances, left)[place])
        cost = float(expected_cooks(table.cooked.outlook.chances, left, price)[place])
        share = 1.0 if table.cooked.tallies[place].failed_since else _RECOOK_SHARE
        if chance >= share * fresh_success - 1e-9 and round(cost, 6) < round(best_cost, 6):
            best, best_cost = place, cost
    return best


def _next(table: _Table) -> Proposal:
    fresh = _best_fresh(table)
    place = _to_confirm(table, fresh) if table.obstacle is None or fresh is None else None
    if place is not None:
        return _confirm(table, place)
    if fresh is None:
        raise NoLegalProgram(
            f"No program is left to propose for {table.learned.brief.dish!r} on {table.learned.oven.name!r}: all that "
            "can be set were cooked, are pending or were refused. Every proposal must be a new program. "
            "Take back a refusal, widen the duration window, or ask for fewer proposals."
        )
    return _search(table, fresh)


def _confirm(table: _Table, place: int) -> Proposal:
    outlook = table.cooked.outlook
    program = table.cooked.programs[place]
    assert outlook is not None
    forecast = forecasts_of(table.cooked.programs, outlook, table.learned.goals)[place]
    table.confirmed[program.key] = table.confirmed.get(program.key, 0) + 1
    reasons = reasons_for(table.learned, forecast, "confirm", obstacle=None, cooked=table.cooked)
    return Proposal(program=program, purpose="confirm", forecast=forecast, reasons=reasons)


def _opening(table: _Table) -> Program | None:
    """The first program before any cook, None where it may not be proposed."""
    learned = table.learned
    code = opening_program(learned.view, learned.grid, learned.goals)
    if code is None:
        return None
    [program] = learned.grid.programs(code)
    return None if program.key in table.barred else program


def _search(table: _Table, row: int) -> Proposal:
    first = not table.learned.view.calibration.observations.programs and not table.taken
    opening = _opening(table) if first and table.obstacle is None else None
    program = table.programs[row] if opening is None else opening
    [forecast] = table.learned.forecast([program])
    purpose: ProposalPurpose = "first_guess" if first and table.obstacle is None else "search"
    table.taken.append(program)
    reasons = reasons_for(table.learned, forecast, purpose, obstacle=table.obstacle, cooked=table.cooked)
    return Proposal(program=program, purpose=purpose, forecast=forecast, reasons=reasons)


def proposals(
    learned: Learned, *, count: int, seed: int, pending: tuple[Program, ...], refused: tuple[Program, ...]
) -> list[Proposal]:
    """Exactly `count` proposals; see `tuner.learning.propose`.

    Raises
    ------
    InvalidDocument
        If `count` is not a whole number from 1 to 20.
    NoLegalProgram
        If fewer programs than that may be proposed.
    """
    if not 1 <= count <= MOST_AT_ONCE:
        raise InvalidDocument([f"count is {count}. 1 to {MOST_AT_ONCE} proposals can be made at once. Ask for that many"])
    table = _table(learned, seed, count, pending, refused)
    return [_next(table) for _ in range(count)]
