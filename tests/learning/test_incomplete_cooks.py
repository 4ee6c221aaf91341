"""Cooks are used for what they have; nothing is imputed; weak witnesses weigh less."""

import numpy as np
import pytest

import tuner
from tests.learning import cases
from tuner.domain import ATTRIBUTES

SCORED = ("browning", "texture", "moisture")


def _after(*cooks, oven=None):
    [found] = tuner.forecast(cases.brief(), oven or cases.oven(), list(cooks), [cases.program()])
    return {name: (found.attributes[name].mean, found.attributes[name].spread) for name in ATTRIBUTES}


NOTHING = _after()


def _moved(after, name):
    return abs(after[name][0] - NOTHING[name][0])


def test_a_cook_without_scores_still_teaches_the_core():
    after = _after(cases.cook(cases.program(), core=60, marks=None))
    assert after["core_temperature_c"][0] == pytest.approx(60, abs=3)
    assert after["core_temperature_c"][1] < 0.5 * NOTHING["core_temperature_c"][1]


def test_a_cook_without_weighing_or_readings_still_teaches_the_scores():
    after = _after(cases.cook(cases.program(), core=None, loss=None, marks=(1.5, 3, 3)))
    assert after["browning"][0] == pytest.approx(1.5, abs=0.35)


def test_a_cook_without_mass_and_start_is_used_with_more_doubt():
    full, bare = (
        _after(cases.cook(cases.program(), core=60, loss=None, **more))
        for more in ({}, {"mass_g": None, "start_temperature_c": None})
    )
    assert bare["core_temperature_c"][0] == pytest.approx(60, abs=4)
    assert bare["core_temperature_c"][1] > full["core_temperature_c"][1]


def test_missing_scores_of_unsafe_cooks_are_never_imputed():
    """An unsafe cook that nobody tasted says about texture only what heat and loss say, not a bad mark."""
    tasted = cases.cook(cases.program(), core=55, marks=(3, 1, 3))
    untasted = cases.cook(cases.program(), core=55, marks=None)
    assert _after(untasted)["texture"][1] > 1.25 * _after(tasted)["texture"][1]
    praised = cases.cook(cases.program(), core=55, marks=(3, 4, 3))
    assert _after(tasted)["texture"][0] < _after(untasted)["texture"][0] < _after(praised)["texture"][0]


def test_fewer_readings_and_tasters_leave_more_doubt():
    full = _after(cases.cook(cases.program()))
    one = _after(
        cases.cook(
            cases.program(), core_temperature_c=[79.7], scores=[{"taster": "A", "browning": 3, "texture": 3, "moisture": 3}]
        )
    )
    assert all(one[name][1] > full[name][1] for name in ("core_temperature_c", *SCORED))


def test_an_interrupted_cook_says_next_to_nothing():
    after = _after(cases.cook(cases.program(), core=30, marks=(1, 1, 5), completed=False))
    assert _moved(after, "core_temperature_c") < 0.6 * abs(30 - NOTHING["core_temperature_c"][0])
    assert after["core_temperature_c"][1] > 2 * _after(cases.cook(cases.program()))["core_temperature_c"][1]


@pytest.mark.parametrize("weaker", [{"oven_serial": "another"}, {"load": 3}, {"rest_s": None}])
def test_weaker_witnesses_are_learned_from_with_more_doubt(weaker):
    strong, weak = _after(cases.cook(cases.program(), core=60)), _after(cases.cook(cases.program(), core=60, **weaker))
    assert _moved(weak, "core_temperature_c") > 0.3 * _moved(strong, "core_temperature_c")
    assert weak["core_temperature_c"][1] > strong["core_temperature_c"][1]


def test_a_cook_on_the_same_serial_is_a_full_witness():
    oven = cases.oven(serial="S7")
    same, other = (_after(cases.cook(cases.program(), core=60, oven_serial=s), oven=oven) for s in ("S7", "S8"))
    assert same["core_temperature_c"][1] < other["core_temperature_c"][1]


def test_a_benchmark_without_program_teaches_the_panels_scatter():
    wild = [
        {"taster": who, "browning": mark, "texture": mark, "moisture": mark}
        for who, mark in (("A", 1), ("B", 5), ("C", 1), ("D", 5))
    ]
    benchmark = cases.cook(None, purpose="benchmark", scores=wild, marks=None)
    after = _after(benchmark, benchmark)
    assert all(after[name][1] > NOTHING[name][1] for name in SCORED)


def test_what_was_keyed_in_counts_not_what_was_ordered():
    """A cook ordered as one program and done as another is a cook of the other."""
    done = cases.program(230, 150, [(50, 50, 60), (50, 90, 30)])
    ordered = _after(cases.cook(cases.program(), core=60, program_set=done))
    as_done = _after(cases.cook(done, core=60))
    assert ordered == as_done


def test_history_and_off_step_programs_are_learned_from():
    near = cases.program(251.3, 211.7, [(41.5, 31, 79), (58.5, 91, 21)])
    after = _after(cases.cook(near, core=60, history=True))
    assert after["core_temperature_c"][0] == pytest.approx(60, abs=5)


def test_a_reading_no_food_can_have_is_not_learned_from():
    fahrenheit = cases.cook(cases.program(), core_temperature_c=[165.0, 166.0, 168.0], marks=None, loss=None, core=None)
    assert _after(fahrenheit)["core_temperature_c"] == pytest.approx(NOTHING["core_temperature_c"], abs=0.1)


def test_one_wild_cook_among_many_hardly_moves_the_forecast():
    steady = [cases.cook(cases.program(), core=78 + 0.3 * k) for k in range(6)]
    calm = _after(*steady)
    shaken = _after(*steady, cases.cook(cases.program(), core=40))
    assert shaken["core_temperature_c"][0] == pytest.approx(calm["core_temperature_c"][0], abs=2.5)


def test_marks_beyond_the_scale_only_push_towards_the_end():
    dark = _after(cases.cook(cases.program(), marks=(5, 3, 3)))
    assert dark["browning"][0] > 3.9
    assert np.isfinite(dark["browning"][1])


def test_a_chef_who_knows_what_heat_does_to_texture_is_believed():
    long, short = cases.program(250, 290), cases.program(250, 120)
    for word, sign in (("firmer", 1), ("softer", -1)):
        found = tuner.forecast(cases.brief(texture_with_heat=word), cases.oven(), [], [long, short])
        assert (found[0].attributes["texture"].mean - found[1].attributes["texture"].mean) * sign > 0
