"""Moving a program to another oven."""

import pytest

import tuner
from tests.learning import cases


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
