"""The model card: what was learned, what hangs together, and how good the forecasts were."""

import numpy as np
import pytest

import tuner
from tests.learning import cases
from tuner.learning import ModelCard, learn, model_card
from tuner.learning.learned import learned_from
from tuner.learning.parameter_words import words_for
from tuner.learning.track_record import left_out_errors
from tuner.physics import PARAMETERS
from tuner.proof import judge
from tuner.rehearsal import kitchen


@pytest.fixture(scope="module")
def played():
    where, rng, cooks = kitchen("pork-cutlet"), np.random.default_rng(3), []
    for _ in range(9):
        [proposal] = learn(where.brief, where.oven, cooks).propose()
        cooks.append(where.cook(proposal.program, rng))
    return where, cooks, model_card(where.brief, where.oven, cooks)


def test_every_parameter_is_there_with_words_and_a_range_that_only_narrows(played):
    _, _, card = played
    assert [one.name for one in card.parameters] == [parameter.name for parameter in PARAMETERS]
    for one in card.parameters:
        assert one.before.low < one.before.middle < one.before.high
        assert one.now.low < one.now.middle < one.now.high
        assert 0 <= one.learned <= 1
        assert one.words != one.name.replace("_", " ")
    assert max(one.learned for one in card.parameters) > 0.2


def test_before_any_cook_nothing_is_learned():
    card = model_card(cases.brief(), cases.oven(), [])
    assert all(one.learned == 0 and one.now == one.before for one in card.parameters)
    assert len(card.untouched) == len(PARAMETERS)
    assert card.tangled == ()
    assert (card.judged, card.brier) == (0, None)
    assert all(one.forecasts == 0 and one.typical_error is None for one in card.attributes)


def test_coverage_counts_the_forecasts_made_before_each_cook(played):
    where, cooks, card = played
    inside = 0
    for place, cook in enumerate(cooks):
        portion = where.brief.portion.model_copy(
            update={"mass_g": cook.mass_g, "start_temperature_c": cook.start_temperature_c}
        )
        [told] = tuner.forecast(where.brief, where.oven, cooks[:place], [cook.program], portion=portion)
        one = told.attributes["browning"]
        inside += abs(cook.panel_mean("browning") - one.mean) <= 1.2815515655446004 * one.spread
    [browning] = [one for one in card.attributes if one.attribute == "browning"]
    assert (browning.covered, browning.forecasts) == (inside, len(cooks))
    assert 0 <= card.brier <= 1
    results = [judge(where.brief, cook).result for cook in cooks]
    assert (card.judged, card.passed) == (len(results) - results.count("pending"), results.count("pass"))


def test_left_out_errors_are_those_of_conditioning_on_the_other_cooks(played):
    where, cooks, _ = played
    now = learned_from(where.brief, where.oven, cooks).view.calibration
    error, spread = left_out_errors(now)
    # the same by hand for one cook: condition its numbers on those of all others, in the linear model
    full = np.linalg.inv(now.inverse)
    mine = np.flatnonzero(now.rows[:, 0] == 2)
    rest = np.flatnonzero(now.rows[:, 0] != 2)
    gap = full @ now.alpha
    weights = np.linalg.solve(full[np.ix_(rest, rest)], full[np.ix_(rest, mine)]).T
    expected = gap[mine] - weights @ gap[rest]
    variance = full[np.ix_(mine, mine)] - weights @ full[np.ix_(rest, mine)]
    core = np.flatnonzero(now.rows[mine, 1] == 0)
    assert error[2, 0] == pytest.approx(expected[core][0], rel=1e-5)
    assert spread[2, 0] == pytest.approx(np.sqrt(np.diag(variance)[core][0]), rel=1e-5)


def test_tangled_numbers_are_correlated_pairs_the_closest_first(played):
    _, _, card = played
    sizes = [abs(pair.correlation) for pair in card.tangled]
    assert sizes == sorted(sizes, reverse=True)
    assert all(0.5 <= size <= 1 for size in sizes)
    for pair in card.tangled:
        assert words_for(pair.first) in pair.words
        assert words_for(pair.second) in pair.words


def test_a_card_survives_json(played):
    _, _, card = played
    assert ModelCard.model_validate_json(card.model_dump_json()) == card


def test_few_cooks_are_said_to_say_little():
    card = model_card(cases.brief(), cases.oven(), [cases.cook(cases.program())])
    assert any("few cooks" in note for note in card.notes)
    assert card.scatter.panel_mean_marks < card.scatter.taster_marks
