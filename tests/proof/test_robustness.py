from __future__ import annotations

import numpy as np
import pytest

from tests.example import DROP, brief, program
from tuner.domain import TestCook
from tuner.proof.robustness import robustness
from tuner.proof.robustness_results import Observation, Ranges
from tuner.proof.two_level import FACTORS, two_level_runs

RANGES = Ranges(mass_g=180, start_c=4, mass_reach_g=9, start_reach_c=3, greatest_load=2)
BRIEF = brief(
    targets__core_temperature_c={"low": 74, "high": 90}, targets__browning=DROP, targets__texture=DROP, targets__moisture=DROP
)


def seen(levels: dict[str, float], core: float, loss: float = 10.0) -> Observation:
    mass = RANGES.mass_g + levels["mass"] * RANGES.mass_reach_g
    document = {
        "program": program().model_dump(),
        "mass_g": mass,
        "start_temperature_c": RANGES.start_c - levels["start"] * RANGES.start_reach_c,
        "core_temperature_c": [core, core + 1, core + 2],
        "mass_out_g": mass * (1 - loss / 100),
        "load": 2 if levels["load"] > 0 else 1,
    }
    return Observation(TestCook.model_validate(document), levels["power"], levels["hot"] > 0)


def cooked(
    effects: dict[str, float], *, middle: float = 82.0, sd: float = 0.3, times: int = 1, both: float = 0.0
) -> list[Observation]:
    """Cooks of the plan; effects are changes of the core from easy to hard side [K]."""
    rng = np.random.default_rng(5)
    found = []
    for planned in two_level_runs() * times:
        levels = {**planned, "load": planned["load"] or -1}  # the middle of one and two portions is one
        core = middle + sum(effects.get(name, 0.0) / 2 * levels[name] for name in FACTORS)
        core += both / 2 * levels["start"] * levels["load"]
        found.append(seen(levels, core + float(rng.normal(0, sd)), 10 + float(rng.normal(0, 0.3))))
    return found


def test_the_eight_runs_are_the_fraction_that_reads_start_and_load_apart() -> None:
    runs = np.array([[run[name] for name in FACTORS] for run in two_level_runs()[:8]])
    assert len({tuple(run) for run in runs}) == 8
    assert (runs.sum(axis=0) == 0).all()
    assert (runs.T @ runs == 8 * np.eye(5)).all()
    a, b, c, d, e = runs.T
    assert (d == a * b).all()
    assert (e == a * c).all()
    both = b * c
    assert [int(column @ both) for column in (a, b, c, d, e)] == [0] * 5


def test_effects_are_those_that_were_put_in() -> None:
    put_in = {"mass": -2.0, "start": -3.0, "load": -4.0, "power": -5.0, "hot": -6.0}
    found = robustness(BRIEF, RANGES, cooked(put_in, sd=0.05, times=2, both=-1.0))
    core = {effect.factor: effect for effect in found.effects if effect.response == "core_mean_c"}
    for name, effect in put_in.items():
        assert core[name].effect == pytest.approx(effect, abs=0.15)
        assert core[name].low < core[name].effect < core[name].high
        assert core[name].clear
    assert core["start x load"].effect == pytest.approx(-1.0, abs=0.15)
    loss = [effect for effect in found.effects if effect.response == "cook_loss_pct"]
    assert sum(effect.clear for effect in loss) <= 1
    assert found.coldest_corner == dict.fromkeys(FACTORS, 1.0)
    assert found.hottest_corner == dict.fromkeys(FACTORS, -1.0)


def test_where_nothing_matters_the_window_is_all_that_was_tried() -> None:
    window = robustness(BRIEF, RANGES, cooked({})).window
    assert (window.mass_g, window.start_c, window.load, window.hot_oven) == ((171, 189), (1, 7), 2, True)
    assert window.chance >= 0.95
    assert window.words == "180 g +/- 9 g, from 1 to 7 °C, up to 2 at a time"


def test_load_that_cools_too_far_is_left_out_and_the_price_is_told() -> None:
    found = robustness(BRIEF, RANGES, cooked({"load": -8.0, "start": -1.0}, middle=79.0))
    assert found.window.load == 1
    assert found.window.words.endswith("one at a time")
    [price] = [widening for widening in found.widenings if widening.words == "up to 2 at a time"]
    assert price.chance < 0.5


def test_a_narrower_start_and_mass_where_they_matter() -> None:
    found = robustness(BRIEF, RANGES, cooked({"start": -7.0, "mass": -5.0}, middle=80.4, times=2))
    window = found.window
    assert 0 < window.start_c[1] - window.start_c[0] < 6
    assert window.mass_g[1] - window.mass_g[0] < 18
    assert all(widening.chance < 0.95 for widening in found.widenings)


def test_a_recipe_that_only_holds_on_a_rested_oven_says_so() -> None:
    found = robustness(BRIEF, RANGES, cooked({"hot": -8.0}, middle=79.0))
    assert not found.window.hot_oven
    assert "not on an oven that has just been cooking" in found.window.words


def test_a_recipe_that_holds_nowhere_has_no_window() -> None:
    found = robustness(BRIEF, RANGES, cooked({}, middle=75.0))
    assert found.window is None
    assert found.nominal_chance < 0.05
    assert found.widenings == ()


def test_the_window_holds_as_often_as_it_says() -> None:
    """Portions at the corner of the window, cooked by the truth that made the cooks: at least 95 in 100 are inside."""
    rng = np.random.default_rng(8)
    held = []
    for _ in range(40):
        truth = {"start": -5.0, "mass": -3.0, "power": -2.0, "hot": -2.0}
        cooks = []
        for levels in two_level_runs():
            core = 83.0 + sum(truth.get(name, 0.0) / 2 * levels[name] for name in FACTORS)
            cooks.append(seen(levels, core + float(rng.normal(0, 0.8))))
        window = robustness(BRIEF, RANGES, cooks).window
        if window is None:
            continue
        mass, start = (window.mass_g[1] - 180) / 9, (window.start_c[1] - 4) / 3
        corner = 83.0 - 2.5 * start - 1.5 * mass - 2.0
        held.append(np.mean(corner + rng.normal(0, 0.8, 500) >= 76))
    assert len(held) > 20
    assert np.mean(held) >= 0.95


def test_too_few_cooks_rank_nothing() -> None:
    with pytest.raises(ValueError, match=r"factors \+ 4"):
        robustness(BRIEF, RANGES, cooked({})[:8])
    with pytest.raises(ValueError, match=r"factors \+ 4"):
        robustness(BRIEF, RANGES, [])


def test_factors_that_always_moved_together_are_refused() -> None:
    together = [
        seen({**levels, "power": levels["mass"]}, 82.0 + 0.1 * place) for place, levels in enumerate(two_level_runs() * 2)
    ]
    with pytest.raises(ValueError, match="moved together"):
        robustness(BRIEF, RANGES, together)
