"""Moving a program to another oven."""

import numpy as np
import pytest

import tuner
from tests.learning import cases
from tuner.physics import INDEX, PARAMETERS, portion_model


def _oven(watts, **more):
    check = {"watts_w": watts, "standard_error_w": 0.01 * watts}
    return cases.oven(name=f"Oven of {watts} W", checks=[check], **more)


def test_the_same_oven_keeps_the_program_and_shifts_nothing():
    found = tuner.translate(cases.program(), cases.brief(), source=cases.oven(), target=cases.oven())
    assert found.program == cases.program()
    assert found.core_shift_c == pytest.approx(0)
    assert found.spread_c == pytest.approx(0)


@pytest.mark.parametrize("factor, word", [(0.85, "more"), (1.15, "less")])
def test_a_weaker_oven_gets_more_microwave_or_time_and_the_core_stays(factor, word):
    found = tuner.translate(cases.program(), cases.brief(), source=_oven(1200), target=_oven(1200 * factor))

    def dose(program):
        return program.duration_s * sum(s.share_pct * s.microwave_pct for s in program.stages)

    assert (dose(found.program) > dose(cases.program())) == (word == "more")
    assert abs(found.core_shift_c) < 2
    assert 0 < found.spread_c < 12
    assert cases.problems_of(found.program, cases.brief(), _oven(1200 * factor)) == []


def test_a_coarse_target_gets_a_program_on_its_own_steps_inside_the_duration_window():
    target = cases.oven(
        share_step_pct=25, max_stages=2, air_temperature_c={"low": 180, "high": 240, "step": 20},
        microwave_pct={"low": 0, "high": 100, "step": 10}, duration_s={"low": 30, "high": 900, "step": 30},
    )  # fmt: skip
    found = tuner.translate(cases.program(), cases.brief(), source=cases.oven(), target=target)
    assert cases.problems_of(found.program, cases.brief(), target) == []
    assert found.reasons


def test_an_off_step_program_of_the_same_oven_is_moved_onto_its_steps():
    found = tuner.translate(cases.program(251.3, 211.7), cases.brief(), source=cases.oven(), target=cases.oven())
    assert cases.problems_of(found.program, cases.brief(), cases.oven()) == []
    assert abs(found.core_shift_c) < 2


def test_a_program_of_more_stages_than_the_target_has_is_translated():
    five = cases.program(250, 210, [(20, 30, 80), (20, 40, 60), (20, 60, 40), (20, 90, 20), (20, 95, 15)])
    target = cases.oven(name="One stage", max_stages=1)
    found = tuner.translate(five, cases.brief(), source=cases.oven(), target=target)
    assert len(found.program.stages) == 1
    assert found == tuner.translate(five, cases.brief(), source=cases.oven(), target=target)


def test_a_target_without_a_step_in_the_window_is_refused():
    with pytest.raises(tuner.NoLegalProgram):
        tuner.translate(
            cases.program(),
            cases.brief(),
            source=cases.oven(),
            target=cases.oven(duration_s={"low": 400, "high": 900, "step": 5}),
        )


THICKNESSES_MM = (22, 26, 31, 35)


def _core_with_other_parameters(rng, brief, oven_of_watts, program):
    """Core of a program in a dish whose hidden parameters lie a spread and more from the prior's centre."""
    model = portion_model(brief, oven_of_watts)
    theta = model.prior_mean + model.prior_sd * rng.standard_normal(len(PARAMETERS))
    theta[INDEX["coupled_share"]] = model.prior_mean[INDEX["coupled_share"]]  # the check has told the watts
    portion = brief.portion
    found = model.predict([program], mass_g=portion.mass_g, start_temperature_c=portion.start_temperature_c, theta=theta)
    return found[0, 0]


def test_cores_of_portions_of_22_to_35_mm_stay_where_they_were_on_ovens_15_percent_apart():
    """Checks with a standard error of 1.5 %: half within 2 °C, nine of ten within 4 °C; left as it is, half miss by over 5 °C."""
    missed, left = [], []
    for seed, thickness_mm in enumerate(THICKNESSES_MM * 2):
        rng = np.random.default_rng(seed)
        brief = cases.brief(
            portion={**cases.PLAIN_BRIEF["portion"], "thickness_mm": thickness_mm, "mass_g": 120 + 3 * thickness_mm}
        )
        factor = (0.85, 1.15)[seed % 2]
        true = _oven(1100), _oven(1100 * factor)
        read = [
            cases.oven(
                name=name, checks=[{"watts_w": watts * (1 + 0.015 * rng.standard_normal()), "standard_error_w": 0.015 * watts}]
            )
            for name, watts in (("Here", 1100), ("There", 1100 * factor))
        ]
        program = cases.program(250, 230, [(45, 30, 65), (30, 60, 25), (25, 90, 5)])
        moved = tuner.translate(program, brief, source=read[0], target=read[1]).program
        hidden = rng.integers(1 << 30)
        before, after, same = (
            _core_with_other_parameters(np.random.default_rng(hidden), brief, oven, run)
            for oven, run in ((true[0], program), (true[1], moved), (true[1], program))
        )
        missed.append(abs(after - before))
        left.append(abs(same - before))
    assert np.median(missed) <= 2.0
    assert np.quantile(missed, 0.9) <= 4.0
    assert np.median(left) > 5.0
