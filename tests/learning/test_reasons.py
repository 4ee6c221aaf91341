"""Every number in a reason can be computed again, to its last digit, from forecasts."""

import re

import numpy as np
import pytest

import tuner
from tests.learning import cases
from tuner.domain import ATTRIBUTES
from tuner.learning.levers import lever_values
from tuner.learning.obstacles import obstacle_of
from tuner.learning.reasons import explained
from tuner.learning.running import cooked_programs

NUMBER = re.compile(r"[+-]?\d+(?:\.\d+)?")

DEVELOPMENTS = {
    "before any cook": [],
    "pale": [cases.cook(cases.program(), core=79, marks=(1.5, 3, 3))],
    "cold, untasted": [cases.cook(cases.program(), core=60, marks=None)],
    "hot and dark": [cases.cook(cases.program(), core=92, marks=(4.5, 4, 2))],
    "running": [cases.cook(cases.program()), cases.cook(cases.program())],
    "rule met": [cases.cook(cases.program(), marks=(3.5, 3, 3))] * 4,
    "mixed": [cases.cook(cases.program(), core=70), cases.cook(cases.program(260, 240), core=88, marks=(4, 3.5, 2.5))],
}


def _quantity(learned, name, program):
    [forecast] = tuner.forecast(learned.brief, learned.oven, learned.cooks, [program])
    return forecast.attributes[name].mean if name in ATTRIBUTES else lever_values(program)[name]


@pytest.mark.parametrize("cooks", DEVELOPMENTS.values(), ids=DEVELOPMENTS)
def test_every_number_in_a_reason_is_a_value_or_a_difference_of_forecasts(cooks):
    learned = tuner.learn(cases.brief(), cases.oven(), cooks)
    for proposal in learned.propose(count=2)[:1]:
        obstacle = obstacle_of(learned.pool(), learned.goals, learned.cooked)
        reasons = explained(learned, proposal.forecast, proposal.purpose, obstacle=obstacle, cooked=cooked_programs(learned))
        assert tuple(reason.text for reason in reasons) == proposal.reasons
        assert 2 <= len(reasons) <= 4
        for reason in reasons:
            assert NUMBER.findall(reason.text) == [figure.text for figure in reason.figures]
            for figure in reason.figures:
                value = _quantity(learned, figure.quantity, figure.program)
                if figure.less is not None:
                    value -= _quantity(learned, figure.quantity, figure.less)
                digits = len(figure.text.partition(".")[2])
                assert float(figure.text) == pytest.approx(round(value, digits) + 0.0, abs=1e-9)


def test_what_was_wrong_with_the_last_cook_comes_first():
    for marks, word in (((1.5, 3, 3), "pale"), ((4.5, 3, 3), "dark")):
        [proposal] = tuner.propose(cases.brief(), cases.oven(), [cases.cook(cases.program(), core=80, marks=marks)])
        assert word in proposal.reasons[0]


def test_the_trades_rule_is_named():
    [proposal] = tuner.propose(cases.brief(), cases.oven(), [cases.cook(cases.program(), core=80, marks=(1.5, 3, 3))])
    assert any("trade's rule" in reason for reason in proposal.reasons)


def test_rules_of_the_trade_speak_only_to_their_symptom():
    from tuner.learning.trade_rules import rule_for, rule_words

    assert rule_for([]) is None
    assert rule_for([("texture", 1)]) is None
    assert rule_for([("core_temperature_c", -1), ("browning", -1)]).words == "cold and pale: cook longer"
    assert rule_for([("browning", -1)]).core_right
    assert rule_for([("core_temperature_c", 1), ("moisture", -1)]).words == "hot core: less microwave"
    old = lever_values(cases.program())
    more_late_air = {**old, "late_air_pct": old["late_air_pct"] + 10}
    less_late_air = {**old, "late_air_pct": old["late_air_pct"] - 10}
    assert "agrees" in rule_words([("browning", -1)], more_late_air, old)
    assert "other way" in rule_words([("browning", -1)], less_late_air, old)
    assert "another one" in rule_words([("browning", -1)], old, old)


def test_levers_are_means_over_parts_of_the_time():
    values = lever_values(cases.program(250, 200, [(50, 20, 100), (50, 80, 0)]))
    assert values["duration_s"] == 200
    assert values["early_microwave_pct"] == pytest.approx(100)
    assert values["middle_microwave_pct"] == pytest.approx(50)
    assert values["late_microwave_pct"] == pytest.approx(0)
    assert values["early_air_pct"] == pytest.approx(20)
    assert values["late_air_pct"] == pytest.approx(80)
    assert np.isfinite(list(values.values())).all()
