"""What is said before any cook."""

import pytest

import tuner
from tests.learning import cases
from tuner.proof import perfect_pass_chance


def test_a_plain_brief_is_possible_and_tells_its_pass_chance():
    found = tuner.feasibility(cases.brief(tasters=8, taster_sd=0.4, cook_sd=0.1), cases.oven())
    assert found.possible == "yes"
    assert found.obstacles == ()
    assert found.pass_chance == pytest.approx(perfect_pass_chance(cases.brief(tasters=8, taster_sd=0.4, cook_sd=0.1)))


def test_a_panel_that_scatters_makes_it_doubtful_and_names_the_remedy():
    found = tuner.feasibility(cases.brief(tasters=1), cases.oven())
    assert found.possible == "doubtful"
    assert any("panel" in sentence for sentence in found.obstacles)
    assert "tasters" in found.relaxations[0]


@pytest.mark.parametrize(
    "targets, word",
    [
        ({"duration_s": {"high": 10}}, "duration"),
        ({"core_temperature_c": {"low": 60, "high": 70}}, "core window"),
    ],
)
def test_what_no_program_can_do_is_named_with_what_to_relax(targets, word):
    found = tuner.feasibility(cases.brief_with_targets(**targets), cases.oven())
    assert found.possible == "no"
    assert any(word in sentence for sentence in found.obstacles)
    assert found.relaxations


def test_a_usable_low_edge_equal_to_the_high_is_impossible():
    found = tuner.feasibility(cases.brief_with_targets(core_temperature_c={"low": 70, "high": 76}), cases.oven())
    assert found.possible == "no"


def test_calls_still_answer_where_the_windows_contradict_the_limit():
    brief = cases.brief_with_targets(core_temperature_c={"low": 60, "high": 70})
    [proposal] = tuner.propose(brief, cases.oven(), [])
    assert proposal.purpose == "search"
    assert "critical limit" in proposal.reasons[0]
    assert proposal.forecast.chance_all_inside == 0
    assert proposal.forecast.chance_safe > 0.9
    assert tuner.first_guess(brief, cases.oven()).program == proposal.program


def test_more_time_makes_a_thick_frozen_dish_possible():
    portion = {
        **cases.PLAIN_BRIEF["portion"],
        "thickness_mm": 45,
        "mass_g": 500,
        "start_state": "frozen",
        "start_temperature_c": -18,
    }
    verdicts = [
        tuner.feasibility(
            cases.brief(
                portion=portion,
                tasters=9,
                targets={"core_temperature_c": {"low": 74, "high": 90}, "duration_s": {"high": high}},
            ),
            cases.oven(),
        ).possible
        for high in (40, 900)
    ]
    assert verdicts[0] == "no"
    assert verdicts[1] != "no"
