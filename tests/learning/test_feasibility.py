"""What is said before any cook."""

import pytest

import tuner
from tests.learning import cases
from tuner.proof import perfect_pass_chance
from tuner.rehearsal import kitchen


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


def _feasible(portion=None, **targets):
    base = cases.PLAIN_BRIEF
    brief = cases.brief(portion={**base["portion"], **(portion or {})}, targets={**base["targets"], **targets}, tasters=9)
    return tuner.feasibility(brief, cases.oven())


def test_too_little_energy_is_told_in_seconds_with_the_time_that_would_do():
    found = _feasible({"mass_g": 600}, duration_s={"high": 45})
    assert found.possible == "no"
    assert "600 g" in found.obstacles[0]
    assert "45 s" in found.obstacles[0]
    needed = float(found.relaxations[0].split()[1])
    assert found.relaxations[0].startswith("Allow")
    better = _feasible({"mass_g": 600}, duration_s={"high": needed})
    assert not any("takes at least" in text for text in better.obstacles)


def test_too_little_time_for_a_crust_is_told():
    found = _feasible({"mass_g": 40, "thickness_mm": 6}, duration_s={"high": 20})
    assert any("dry a skin" in text for text in found.obstacles)
    assert found.possible == "no"
    no_crust_asked = _feasible({"mass_g": 40, "thickness_mm": 6}, duration_s={"high": 20}, browning={"low": 1, "high": 3})
    assert not any("dry a skin" in text for text in no_crust_asked.obstacles)


def test_a_middle_beyond_the_microwave_is_told_with_the_thickness_that_would_do():
    found = _feasible({"mass_g": 900, "thickness_mm": 90}, duration_s={"high": 600})
    assert found.possible != "yes"
    assert "90 mm" in found.obstacles[0]
    thinner = float(next(text for text in found.relaxations if "mm thick" in text).split("portion ")[1].split()[0])
    assert 15 < thinner < 90
    assert not any(
        "reaches" in text for text in _feasible({"mass_g": 900, "thickness_mm": thinner}, duration_s={"high": 600}).obstacles
    )


def test_frozen_and_short_is_helped_by_tempering():
    portion = {"mass_g": 500, "thickness_mm": 60, "start_state": "frozen", "start_temperature_c": -18}
    found = _feasible(portion, duration_s={"high": 200})
    assert found.possible == "no"
    assert any("Temper" in text for text in found.relaxations)
    assert found.relaxations[0].startswith("Allow")  # the smallest change comes first


@pytest.mark.parametrize("seed", [1000, 1001, 1003, 1010])
def test_kitchens_that_can_be_won_are_never_called_impossible(seed):
    where = kitchen(seed)
    assert tuner.feasibility(where.brief, where.oven).possible != "no"
