"""What makes a kitchen worth developing in: it can be won, and mostly only by the right order of stages."""

import numpy as np
import pytest

from tuner.rehearsal import kitchen, names
from tuner.rehearsal.grid import duration_range, on_steps, random_programs
from tuner.rehearsal.reference import CoreAim, core_right
from tuner.rehearsal.refinement import Task, best_share
from tuner.rehearsal.table import joined, table_of
from tuner.rehearsal.windows import edges_of, usable_low_c

SEEDS = range(20)


def task_of(here):
    return Task(here.bench, here.scale, here.brief, here.oven)


def on_grid(here, program):
    oven = here.oven
    return (
        oven.air_temperature_c.holds(program.air_temperature_c)
        and oven.duration_s.holds(program.duration_s)
        and 1 <= len(program.stages) <= oven.max_stages
        and all(
            oven.air_speed_pct.holds(stage.air_speed_pct)
            and oven.microwave_pct.holds(stage.microwave_pct)
            and abs(stage.share_pct / oven.share_step_pct - round(stage.share_pct / oven.share_step_pct)) < 1e-6
            for stage in program.stages
        )
        and min(program.stage_seconds()) >= (oven.min_stage_s or 0) - 1
        and here.brief.targets.duration_s.holds(program.duration_s)
    )


def assert_legal_and_winnable(here):
    assert on_grid(here, here.good_program)
    assert here.inside(here.good_program, np.random.default_rng(2025), 1500) >= 0.95


def best_one_stage_share(here):
    """A search of its own, wider than the one at construction, for one-stage programs that are truly inside."""
    rng, brief, task = np.random.default_rng(77), here.brief, task_of(here)
    durations = duration_range(here.oven, brief.targets.duration_s)
    aim = CoreAim(usable_low_c(brief) - 2, brief.targets.core_temperature_c.high + 2)
    pool = joined(
        [
            core_right(here.bench, here.oven, aim, durations, rng, 1, 1500).table,
            on_steps(here.oven, random_programs(here.oven, durations, rng, 700, 1)),
        ]
    )
    return best_share(task, pool, rng, rounds=5, keep=40)


@pytest.mark.parametrize("name", names())
def test_every_named_kitchen_can_be_won(name):
    assert_legal_and_winnable(kitchen(name))


@pytest.mark.slow
@pytest.mark.parametrize("seed", SEEDS)
def test_the_first_seeds_are_legal_and_can_be_won(seed):
    assert_legal_and_winnable(kitchen(seed))


@pytest.mark.parametrize("name", [name for name in names() if kitchen(name).order_decides])
def test_where_the_order_decides_one_stage_fails_and_the_reverse_fails(name):
    here = kitchen(name)
    backward = here.good_program.model_copy(update={"stages": here.good_program.stages[::-1]})
    assert len(here.good_program.stages) in (2, 3)
    assert here.inside(here.good_program, np.random.default_rng(5), 1000) >= 0.95
    assert here.inside(backward, np.random.default_rng(5), 1000) <= 0.05
    assert best_one_stage_share(here) <= 0.5


def test_the_order_decides_in_at_least_half_of_the_named_kitchens():
    assert 2 * sum(kitchen(name).order_decides for name in names()) >= len(names())


@pytest.mark.slow
def test_the_order_decides_in_at_least_half_of_the_first_seeds():
    deciding = [kitchen(seed) for seed in SEEDS if kitchen(seed).order_decides]
    assert 2 * len(deciding) >= len(SEEDS)
    confirmed = [best_one_stage_share(here) <= 0.5 for here in deciding]
    assert 2 * sum(confirmed) >= len(SEEDS)


@pytest.mark.parametrize("name", names())
def test_windows_have_the_width_of_the_trade(name):
    targets = kitchen(name).brief.targets
    for mark in ("browning", "texture", "moisture"):
        window = targets.of(mark)
        assert (window.low, window.high) == (2.5, 3.5)
    assert 6 <= targets.core_temperature_c.high - usable_low_c(kitchen(name).brief) <= 12
    assert targets.cook_loss_pct.high <= 30
    assert targets.duration_s.high <= 420


@pytest.mark.parametrize("name", names())
def test_the_reference_reads_about_three_and_not_exactly(name):
    here = kitchen(name)
    truth = here.truth(here.good_program, np.random.default_rng(1), 600)
    off = np.array([truth[mark].mean() - 3 for mark in ("browning", "texture", "moisture")])
    assert (np.abs(off) < 0.3).all()
    assert (np.abs(off) > 1e-3).any()


@pytest.mark.parametrize("name", names())
def test_the_conventional_method_really_gives_the_benchmark_result(name):
    here = kitchen(name)
    truth = here.conventional_truth(np.random.default_rng(1), 300)
    for mark in ("browning", "texture", "moisture"):
        assert abs(truth[mark].mean() - 3) <= 0.6, mark
    assert usable_low_c(here.brief) <= truth["core_temperature_c"].mean()
    assert truth["core_mean_c"].mean() <= here.brief.targets.core_temperature_c.high


def test_random_programs_seldom_win():
    here = kitchen("pork-cutlet")
    rng = np.random.default_rng(3)
    durations = duration_range(here.oven, here.brief.targets.duration_s)
    table = on_steps(here.oven, random_programs(here.oven, durations, rng, 1000, 2))
    inside = edges_of(here.brief).holds(here.bench.cook_nominal(table), here.scale)
    assert inside.mean() < 0.05


def test_a_program_longer_than_the_brief_allows_is_never_inside():
    here = kitchen("pork-cutlet")
    longer = here.good_program.model_copy(update={"duration_s": here.brief.targets.duration_s.high + 5.0})
    assert here.inside(longer, np.random.default_rng(1), 50) == 0.0


def test_inside_is_the_share_of_truth_within_every_window():
    here = kitchen("hand-pie")
    program = here.good_program.model_copy(update={"duration_s": here.good_program.duration_s - 10})
    truth = here.truth(program, np.random.default_rng(8), 500)
    held = truth["core_temperature_c"] >= usable_low_c(here.brief)
    held &= truth["core_mean_c"] <= here.brief.targets.core_temperature_c.high
    for name in ("browning", "texture", "moisture", "cook_loss_pct"):
        window = here.brief.targets.of(name)
        held &= (truth[name] >= window.low) & (truth[name] <= window.high)
    assert here.inside(program, np.random.default_rng(8), 500) == pytest.approx(held.mean())
    assert table_of([program]).duration_s[0] > 0
