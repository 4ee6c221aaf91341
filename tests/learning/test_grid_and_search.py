"""Programs on the oven's steps as whole numbers, neighbours, the order of the trade, and what the search finds."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import tuner
from tests.learning import cases
from tuner.learning.aim import misses, offsets, promise
from tuner.learning.candidates import corners, every_program, neighbours, spread_programs, start_set
from tuner.learning.coordinates import coordinates
from tuner.learning.goals import goals_of
from tuner.learning.grid import grid_of
from tuner.learning.learned import learned_from
from tuner.learning.program_table import ProgramTable
from tuner.learning.trade_order import disorder, preference


def _grid(oven=None, brief=None):
    brief = brief or cases.brief()
    return grid_of(brief, oven or cases.oven(), goals_of(brief))


@settings(max_examples=40, deadline=None)
@given(seed=st.integers(0, 100_000))
def test_codes_and_programs_are_the_same_thing(seed):
    rng = np.random.default_rng(seed)
    oven, brief = cases.random_oven(rng), cases.random_brief(rng)
    try:
        grid = _grid(oven, brief)
    except tuner.NoLegalProgram:
        return
    codes = start_set(rng, 60, grid, grid.longest_s)
    codes = np.unique(np.concatenate([codes, neighbours(rng, codes[:10], 6, grid)]), axis=0)
    assert len(codes)
    assert grid.legal(codes).all()
    for code, program in zip(codes, grid.programs(codes)):
        assert cases.problems_of(program, brief, oven) == []
        back = grid.code_of(program)
        there = np.repeat(code[2::3] > 0, 3)
        assert np.array_equal(back, np.concatenate([code[:2], code[2:][there]]))


def test_the_table_of_codes_is_the_table_of_their_programs():
    grid = _grid()
    codes = spread_programs(np.random.default_rng(1), 20, grid, 300, 3)
    by_code, by_program = grid.table(codes), ProgramTable.of(grid.programs(codes))
    assert coordinates(by_code) == pytest.approx(coordinates(by_program))


def test_coordinates_do_not_depend_on_how_a_program_is_cut():
    one = cases.program(250, 200, [(50, 40, 60), (50, 80, 20)])
    cut = cases.program(250, 200, [(20, 40, 60), (30, 40, 60), (25, 80, 20), (25, 80, 20)])
    found = coordinates(ProgramTable.of([one, cut]))
    assert found[0] == pytest.approx(found[1])


def test_programs_off_the_steps_are_snapped_or_have_no_code():
    grid = _grid()
    assert grid.code_of(cases.program(251, 210)) is None
    assert grid.code_of(cases.program(250, 400)) is None
    [near] = grid.programs(grid.snapped(cases.program(251.7, 211.9, [(33, 29, 81), (67, 93, 19)]))[None, :])
    assert near == cases.program(250, 210, [(35, 30, 80), (65, 95, 20)])


def test_everything_is_listed_where_it_is_little_and_nothing_where_it_is_much():
    tiny = cases.oven(
        air_temperature_c={"low": 250, "high": 250}, air_speed_pct={"low": 50, "high": 50}, share_step_pct=25, max_stages=2,
        microwave_pct={"low": 0, "high": 100, "step": 50}, duration_s={"low": 100, "high": 100},
    )  # fmt: skip
    found = every_program(_grid(tiny))
    assert len(found) == 3 + 3 * 9
    assert len(np.unique(found, axis=0)) == len(found)
    assert every_program(_grid()) is None


def test_corners_hold_the_most_and_the_least_the_oven_can_do():
    programs = _grid().programs(corners(_grid()))
    hottest = cases.program(270, 300, [(100, 100, 100)])
    gentlest = cases.program(200, 20, [(100, 10, 0)])
    assert {hottest.key, gentlest.key} <= {program.key for program in programs}


def test_the_trades_order_is_preferred_and_nothing_is_forbidden():
    ordered, flat, reversed_ = (
        cases.program(250, 200, [(50, 30, 80), (50, 90, 10)]),
        cases.program(250, 200, [(100, 60, 30)]),
        cases.program(250, 200, [(50, 90, 10), (50, 30, 80)]),
    )
    found = preference(ProgramTable.of([ordered, flat, reversed_]))
    assert found[0] == found[1] == 1
    assert found[2] == pytest.approx(0.3, abs=0.01)
    assert disorder(ProgramTable.of([reversed_]))[0] > 2


def test_offsets_stop_at_open_edges_and_ignore_what_is_not_asked():
    brief = cases.brief(targets={"browning": {"low": 2.5, "high": 3.5}, "cook_loss_pct": {"high": 15}})
    goals = goals_of(brief)
    marks = np.array([[90.0, 3.5, 1.0, 5.0, -20.0], [60.0, 2.0, 3.0, 3.0, 30.0]])
    found = offsets(marks, goals)
    assert found[:, 1] == pytest.approx([1, -2])
    assert found[0, [2, 3, 4]] == pytest.approx(0)
    assert found[0, 0] == 0
    assert found[1, 0] < 0
    assert found[1, 4] > 1


def test_promise_is_the_chance_to_be_reliable_and_still_ranks_the_hopeless():
    goals = goals_of(cases.brief())
    middle = np.array([81.0, 0, 0, 0, 9.0])
    means = middle + np.outer([0.0, -4.0, -40.0], [0, 1, 0, 0, 0])
    doubt, calm, restless = np.full((3, 5), 0.04), np.zeros((3, 5)), np.full((3, 5), 0.2)
    found = promise(means, doubt, calm, goals)
    assert found[0] > -0.2
    assert promise(means, doubt, restless, goals)[0] < found[0]
    assert found[0] > found[1] > found[2]
    assert np.isfinite(found).all()
    assert (np.diff(misses(means, goals)) > 0).all()


def test_the_search_finds_what_a_wide_random_search_does_not_beat():
    """A second way: three thousand random programs with full outlook hold none that is clearly better."""
    cooks = [
        cases.cook(cases.program(), core=76, marks=(2.5, 3, 3)),
        cases.cook(cases.program(260, 240), core=85, marks=(3.5, 3.5, 2.5)),
    ]
    learned = learned_from(cases.brief(), cases.oven(), cooks)
    grid, pool = learned.grid, learned.pool()
    best = pool.hope[pool.by_worth()[0]]
    codes = np.concatenate([spread_programs(np.random.default_rng(9), 1000, grid, 300, 3) for _ in range(3)])
    table = grid.table(codes)
    hope = learned.view.outlook(table, learned.goals).acquisition * preference(table)
    assert best > 0.9 * hope.max()
