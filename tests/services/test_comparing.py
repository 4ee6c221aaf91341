from __future__ import annotations

import pytest

from tests.services.invented import ANN, APPROVER, NORTH, QUINN, cook, program, started
from tests.services.proof_kitchen import slot_cook
from tuner.domain import ComparisonAnswer, ComparisonProtocol, InvalidDocument, NotAllowed, NotFound, PlanSetting
from tuner.services import (
    comparison_size,
    enter_answers,
    judge_comparison,
    judge_measuring,
    keep_operating_window,
    log_cook,
    plan_comparison,
    plan_robustness,
    view_comparison,
    view_robustness,
)


def compared(space, **changes):
    view = started(space)
    dish = log_cook(space, ANN, development_id=view.id, cook=cook(scores=None)).id
    benchmark = log_cook(space, ANN, development_id=view.id, cook=cook(scores=None, purpose="benchmark")).id
    fields = {"kind": "triangle", "cook_ids": [dish], "benchmark_ids": [benchmark], "tasters": 60, **changes}
    return view, ComparisonProtocol.model_validate(fields)


def answers(right: int, tasters: int) -> list[ComparisonAnswer]:
    return [ComparisonAnswer(taster=f"t{place}", right=place < right) for place in range(tasters)]


def yes(given) -> dict[str, bool]:
    return {one.taster: True for one in given}


def test_the_size_comes_first(space):
    _, protocol = compared(space)
    size = comparison_size(protocol)
    assert (size.most_right, size.fewest_right) == (25, 27)
    assert size.chance_identical == pytest.approx(0.93, abs=0.005)
    small = comparison_size(protocol.model_copy(update={"tasters": 12}))
    assert "are needed" in small.words
    liking = protocol.model_copy(update={"kind": "liking", "tasters": 27})
    assert comparison_size(liking).tasters_needed == 27


@pytest.mark.parametrize("right, answer", [(25, "similar within the stated limit"), (26, "not shown"), (30, "different")])
def test_from_protocol_to_one_of_three_answers(space, right, answer):
    view, protocol = compared(space)
    comparison = plan_comparison(space, ANN, development_id=view.id, protocol=protocol, client_id="p")
    given = answers(right, 60)
    enter_answers(space, ANN, comparison_id=comparison.id, answers=given[:30], may_taste=yes(given))
    with pytest.raises(NotAllowed, match="30 of 60"):
        judge_comparison(space, ANN, comparison_id=comparison.id)
    full = enter_answers(space, ANN, comparison_id=comparison.id, answers=given[30:], may_taste=yes(given), client_id="rest")
    assert (full.answers, len(full.tasters), full.result) == (60, 60, None)
    assert (
        enter_answers(
            space, ANN, comparison_id=comparison.id, answers=given[30:], may_taste=yes(given), client_id="rest"
        ).answers
        == 60
    )
    more = [ComparisonAnswer(taster="late", right=False)]
    with pytest.raises(NotAllowed, match="not widened"):
        enter_answers(space, ANN, comparison_id=comparison.id, answers=more, may_taste=yes(more))
    judged = judge_comparison(space, ANN, comparison_id=comparison.id)
    assert judged.result.answer == answer
    assert judged.result.method
    assert (
        judge_comparison(space, ANN, comparison_id=comparison.id)
        == judged
        == view_comparison(space, ANN, comparison_id=comparison.id)
    )
    with pytest.raises(NotAllowed, match="was judged"):
        enter_answers(space, ANN, comparison_id=comparison.id, answers=given[:1], may_taste=yes(given))


def test_twelve_tasters_five_times_are_twelve(space):
    view, protocol = compared(space, tasters=12)
    comparison = plan_comparison(space, ANN, development_id=view.id, protocol=protocol)
    given = [ComparisonAnswer(taster=f"t{i % 12}", right=i % 12 < 4 or i % 5 == 0) for i in range(60)]
    enter_answers(space, ANN, comparison_id=comparison.id, answers=given, may_taste=yes(given))
    found = judge_comparison(space, ANN, comparison_id=comparison.id).result
    assert (found.tasters, found.answers) == (12, 60)
    assert "between tasters" in found.method


def test_liking_is_judged_by_its_margin(space):
    view, protocol = compared(space, kind="liking", tasters=20)
    comparison = plan_comparison(space, ANN, development_id=view.id, protocol=protocol)
    given = [ComparisonAnswer(taster=f"t{i}", liking_dish=6 + i % 3, liking_benchmark=7 - i % 2) for i in range(20)]
    enter_answers(space, ANN, comparison_id=comparison.id, answers=given, may_taste=yes(given))
    found = judge_comparison(space, ANN, comparison_id=comparison.id).result
    assert found.answer == "similar within the stated limit"
    assert found.low < found.estimate < found.high


def test_what_does_not_fit_is_refused(space):
    view, protocol = compared(space)
    swapped = protocol.model_copy(update={"cook_ids": protocol.benchmark_ids, "benchmark_ids": protocol.cook_ids})
    with pytest.raises(InvalidDocument, match="benchmark"):
        plan_comparison(space, ANN, development_id=view.id, protocol=swapped)
    with pytest.raises(NotFound):
        plan_comparison(space, ANN, development_id=view.id, protocol=protocol.model_copy(update={"cook_ids": ("nothing",)}))
    low = log_cook(space, ANN, development_id=view.id, cook=cook(core_temperature_c=[70, 71, 72], scores=None)).id
    with pytest.raises(NotAllowed, match="Nobody is invited"):
        plan_comparison(space, ANN, development_id=view.id, protocol=protocol.model_copy(update={"cook_ids": (low,)}))
    comparison = plan_comparison(space, ANN, development_id=view.id, protocol=protocol)
    liked = [ComparisonAnswer(taster="a", liking_dish=5, liking_benchmark=5)]
    with pytest.raises(InvalidDocument, match="does not fit"):
        enter_answers(space, ANN, comparison_id=comparison.id, answers=liked, may_taste=yes(liked))
    with pytest.raises(NotAllowed, match="may taste today"):
        enter_answers(space, ANN, comparison_id=comparison.id, answers=answers(1, 1), may_taste={"t0": False})
    with pytest.raises(InvalidDocument, match="No answers"):
        enter_answers(space, ANN, comparison_id=comparison.id, answers=[], may_taste={})
    with pytest.raises(NotFound):
        view_comparison(space, NORTH, comparison_id="nothing")
    with pytest.raises(ValueError, match="kind"):
        ComparisonAnswer(taster="a", right=True, liking_dish=3, liking_benchmark=4)


SETTING = PlanSetting(ovens=("A", "B"), greatest_load=2, seed=2)


def test_robustness_from_its_plan_to_the_window_on_the_card(space, clock):
    view = started(space)
    plan = plan_robustness(space, ANN, development_id=view.id, program=program(), setting=SETTING, client_id="r")
    assert plan_robustness(space, ANN, development_id=view.id, program=program(), setting=SETTING, client_id="r") == plan
    assert len(plan.runs) == 10
    assert plan.found is None
    assert "factors + 4" in plan.missing
    with pytest.raises(NotAllowed, match=r"factors \+ 4"):
        keep_operating_window(space, ANN, plan_id=plan.id)
    for run in plan.runs:
        y = 4.0 - 0.5 * (run.mass_g - 180) / 9 - 0.7 * (4 - run.start_temperature_c) / 3 + 0.02 * (run.number % 3)
        log_cook(space, ANN, development_id=view.id, cook=slot_cook(run, clock, y, purpose="search", scores=None))
    found = view_robustness(space, ANN, plan_id=plan.id).found
    assert found.cooks == 10
    effects = {(effect.response, effect.factor): effect.effect for effect in found.effects}
    assert effects["core_mean_c", "mass"] == pytest.approx(-1.0, abs=0.3)
    assert effects["core_mean_c", "start"] == pytest.approx(-1.4, abs=0.3)
    assert found.left_out == ("browning", "texture", "moisture")
    kept = keep_operating_window(space, ANN, plan_id=plan.id, client_id="w")
    keep_operating_window(space, ANN, plan_id=plan.id, client_id="w")
    with space.store.read(None) as reading:
        content = reading.records.newest(view.id, "operating_window").content
    assert content["words"] == [kept.found.window.words] == ["180 g +/- 9 g, from 1 to 7 °C, up to 2 at a time"]
    assert (content["mass_g"], content["load"]) == ({"low": 171, "high": 189}, {"low": 1, "high": 2})
    assert content["chance"] >= 0.95
    again = keep_operating_window(space, ANN, plan_id=plan.id)
    assert again.found == kept.found
    with pytest.raises(NotFound):
        view_robustness(space, ANN, plan_id=view.id)


def test_a_program_that_holds_nowhere_has_no_window_to_keep(space, clock):
    view = started(space)
    plan = plan_robustness(space, ANN, development_id=view.id, program=program(), setting=SETTING)
    for run in plan.runs:
        y = -0.5 + 0.1 * (run.number % 3)
        log_cook(space, ANN, development_id=view.id, cook=slot_cook(run, clock, y, purpose="search", scores=None))
    assert view_robustness(space, ANN, plan_id=plan.id).found.window is None
    with pytest.raises(NotAllowed, match="Change the program"):
        keep_operating_window(space, ANN, plan_id=plan.id)


def test_a_measuring_study_supports_a_guard_and_changes_none(space):
    view = started(space)
    readings = [[[76.0 + p + 0.1 * q + 0.2 * r for r in range(3)] for q in range(3)] for p in range(5)]
    asked = {"development_id": view.id, "thermometer": "T1", "readings_c": readings}
    found = judge_measuring(space, QUINN, **asked)
    assert found.guard_supported_c == pytest.approx(0.7, abs=0.11)
    assert f"{found.guard_supported_c:g} K" in found.words
    with pytest.raises(NotAllowed, match=APPROVER):
        judge_measuring(space, ANN, **asked)
    with pytest.raises(InvalidDocument, match="complete"):
        judge_measuring(space, QUINN, **{**asked, "readings_c": [[[1.0], [2.0, 3.0]]]})
