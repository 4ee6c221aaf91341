"""The benchmarks' proposers keep to the rules of the game, and its report counts right."""

import json

import numpy as np
import pytest

import tuner
from benchmarks import ablations, report
from benchmarks.optimisers import OPTIMISERS, _Space, value_of
from benchmarks.peers import PEERS
from tests.learning import cases
from tuner.learning.candidates import spread_programs
from tuner.learning.goals import goals_of
from tuner.learning.grid import grid_of

WITHOUT_TORCH = {name: peer for name, peer in {**PEERS, **OPTIMISERS}.items() if name != "optuna-gp"}


def _grid():
    brief, oven = cases.brief(), cases.oven()
    return grid_of(brief, oven, goals_of(brief))


@pytest.mark.parametrize("name", WITHOUT_TORCH)
def test_every_proposer_starts_with_the_first_program_confirms_what_passed_and_stays_on_the_grid(name):
    brief, oven, peer = cases.brief(), cases.oven(), WITHOUT_TORCH[name]
    first = cases.program()
    assert peer(brief, oven, [], first, np.random.default_rng(0)) == first
    passed = [cases.cook(first)]
    assert peer(brief, oven, passed, first, np.random.default_rng(0)) == first
    rng, cooks, grid = np.random.default_rng(1), [], _grid()
    for number in range(9):
        program = peer(brief, oven, cooks, first, rng)
        assert grid.code_of(program) is not None
        cooks.append(cases.cook(program, core=60 + number, marks=None if number % 2 else (1.5, 3, 3)))
    assert len({cook.program.key for cook in cooks}) > 3


@pytest.mark.parametrize("name", WITHOUT_TORCH)
def test_the_same_draws_give_the_same_program(name):
    brief, oven, peer = cases.brief(), cases.oven(), WITHOUT_TORCH[name]
    cooks = [cases.cook(cases.program(), core=60, marks=(1.5, 3, 3))]
    found = [peer(brief, oven, cooks, cases.program(), np.random.default_rng(4)) for _ in range(2)]
    assert found[0] == found[1]


def test_codes_and_parameters_are_the_same_thing():
    space, rng = _Space(_grid()), np.random.default_rng(3)
    for code in spread_programs(rng, 40, space.grid, 300.0, space.stages):
        assert (space.code(space.params(code)) == code).all()
    for params in (
        {name: d.low for name, d in space.distributions().items()},
        {n: d.high for n, d in space.distributions().items()},
    ):
        assert space.grid.legal(space.code(params)[None, :])[0]


def test_the_value_is_the_smallest_margin():
    brief = cases.brief()
    middle, edge = cases.cook(cases.program(), core=79), cases.cook(cases.program(), core=79, marks=(3.5, 3, 3))
    assert value_of(brief, middle) > value_of(brief, edge)
    assert value_of(brief, edge) == pytest.approx(0.0, abs=0.01)
    assert value_of(brief, cases.cook(cases.program(), core=-20, marks=None)) == -6.0


@pytest.mark.parametrize("name", ablations.ABLATIONS)
def test_a_part_taken_out_changes_forecasts_and_comes_back(name):
    brief, oven, cooks = cases.brief(), cases.oven(), [cases.cook(cases.program(), core=70)]
    asked = [cases.program(260, 240)]
    whole = tuner.forecast(brief, oven, cooks, asked)
    with ablations.ablated(f"tuner-{name}"):
        assert tuner.forecast(brief, oven, cooks, asked) != whole
        assert len(tuner.propose(brief, oven, cooks)) == 1
    assert tuner.forecast(brief, oven, cooks, asked) == whole
    with ablations.ablated("tuner+earlier"):
        assert tuner.forecast(brief, oven, cooks, asked) == whole


def test_an_unknown_ablation_is_refused():
    with pytest.raises(SystemExit, match="is no method"), ablations.ablated("tuner-no-oven"):
        pass


def test_reliability_and_brier_are_counted_by_hand():
    pairs = [(0.1, 0.0), (0.1, 1.0), (0.95, 1.0), (1.0, 1.0)]
    assert report.brier(pairs) == pytest.approx((0.01 + 0.81 + 0.0025) / 4)
    bands = report.reliability(pairs)
    assert [(band["n"], band["seen"]) for band in bands] == [(2, 0.5), (2, 1.0)]
    assert report.brier([]) is None
    assert report.reliability([]) == []
    assert report.standard_error_pct(50, 25) == pytest.approx(10.0)


def test_a_report_is_written_with_table_numbers_and_plots(tmp_path, capsys):
    row = {
        "method": "tuner", "seed": 1, "cooks": 5, "proven": True, "truth": 0.95, "first_good": 2, "order_decides": True,
        "covered": [[0.1, 2.0, None, 0.3, 0.4]] * 5, "passes": [[0.8, True]] * 5, "reliable": [[0.7, 0.95]] * 5,
    }  # fmt: skip
    figures = {
        "developments": 1, "median": 5.0, "p80": 5.0, "reliable_pct": 100, "false_pct": 0, "first_good": 2.0,
        "below_limit": 0.0, "covered80_pct": "100 0 - 100 100", "seconds": 0.1,
    }  # fmt: skip
    report.written_report(tmp_path / "found", {"tuner": figures}, {"tuner": [row]})
    document = json.loads((tmp_path / "found.json").read_text())
    assert document["tuner"]["by_kind"]["order decides"] == {
        "developments": 1,
        "median": 5.0,
        "reliable_pct": 100,
        "false_pct": 0,
    }
    assert document["tuner"]["coverage_by_cooks_pct"][0]["browning"] == 0
    assert "vega" in (tmp_path / "found.html").read_text()
    assert "tuner" in capsys.readouterr().out
