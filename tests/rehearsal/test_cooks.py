"""What a simulated kitchen hands over: measured cooks with all the errors of real ones, and nothing tasted that is not safe."""

from datetime import UTC, datetime

import numpy as np
import pytest

from tuner.domain import Program
from tuner.rehearsal import kitchen, names
from tuner.rehearsal.windows import usable_low_c
from tuner.safety import verdict


def program(air_c, duration_s, *stages):
    return Program.model_validate(
        {
            "air_temperature_c": air_c,
            "duration_s": duration_s,
            "stages": [{"share_pct": a, "air_speed_pct": b, "microwave_pct": c} for a, b, c in stages],
        }
    )


def cooks_of(here, what, count, seed=0):
    rng = np.random.default_rng(seed)
    return [here.cook(what, rng) for _ in range(count)]


@pytest.mark.parametrize("name", names())
def test_nothing_is_tasted_below_the_usable_low_edge(name):
    here = kitchen(name)
    rng = np.random.default_rng(11)
    seen = set()
    for part in (0.5, 0.8, 0.9, 1.0):
        short = here.good_program.model_copy(update={"duration_s": round(here.good_program.duration_s * part)})
        for _ in range(4):
            cook = here.cook(short, rng)
            safe = min(cook.readings_c) >= usable_low_c(here.brief)
            seen.add(safe)
            assert all(score.browning is not None for score in cook.scores)
            assert all((score.texture is not None) == safe and (score.moisture is not None) == safe for score in cook.scores)
    assert seen == {True, False}


@pytest.mark.parametrize("name", names())
def test_a_hot_enough_cook_is_safe_to_taste_and_a_colder_one_is_not(name):
    here = kitchen(name)
    limit = here.brief.critical_limit
    hot = [cook for cook in cooks_of(here, here.good_program, 12) if min(cook.readings_c) >= usable_low_c(here.brief)]
    assert hot
    assert {verdict(here.brief, cook).status for cook in hot} == {"safe_to_taste"}
    if not limit.none:
        short = here.good_program.model_copy(update={"duration_s": round(here.good_program.duration_s * 0.5)})
        assert {verdict(here.brief, cook).status for cook in cooks_of(here, short, 3)} == {"not_safe"}


def test_every_part_of_a_cook_is_there():
    here = kitchen("pollock-crumb")
    cook = here.cook(here.good_program, np.random.default_rng(1), purpose="confirm")
    assert cook.program == here.good_program
    assert cook.purpose == "confirm"
    assert len(cook.readings_c) == here.brief.places
    assert len(cook.scores) == here.brief.tasters
    assert (cook.rest_s, cook.rest_covered, cook.completed) == (here.brief.rest_s, False, True)
    assert cook.oven_serial == here.oven.serial
    assert cook.held_s >= here.brief.critical_limit.hold_s
    assert cook.thermometer_checked_at < cook.cooked_at
    assert cook.mass_out_g < cook.mass_g


def test_a_given_time_is_kept_and_the_thermometer_was_checked_that_morning():
    here = kitchen("pork-cutlet")
    when = datetime(2026, 5, 4, 16, 20, tzinfo=UTC)
    cook = here.cook(here.good_program, np.random.default_rng(1), cooked_at=when)
    assert cook.cooked_at == when
    assert 0 < (when - cook.thermometer_checked_at).total_seconds() < 24 * 3600


def test_marks_are_halves_and_readings_tenths():
    here = kitchen("egg-squares")
    for cook in cooks_of(here, here.good_program, 10):
        marks = [mark for score in cook.scores for mark in (score.browning, score.texture, score.moisture) if mark is not None]
        assert all(2 * mark == int(2 * mark) and 1 <= mark <= 5 for mark in marks)
        tenths = [10 * value for value in (*cook.readings_c, cook.mass_g, cook.mass_out_g, cook.start_temperature_c)]
        np.testing.assert_allclose(tenths, np.round(tenths), atol=1e-6)


def test_measured_cooks_scatter_around_the_truth_by_the_stated_errors():
    here = kitchen("spinach-flatbread")
    cooks = cooks_of(here, here.good_program, 200)
    truth = here.truth(here.good_program, np.random.default_rng(9), 2000)
    loss = np.array([cook.cook_loss_pct for cook in cooks])
    assert loss.mean() == pytest.approx(truth["cook_loss_pct"].mean(), abs=0.1)
    means = np.array([np.mean(cook.readings_c) for cook in cooks])
    assert means.mean() == pytest.approx(truth["core_mean_c"].mean() + here.panel.probe_bias_c, abs=0.25)
    for row, mark in enumerate(("browning", "texture", "moisture")):
        panel = np.array([cook.panel_mean(mark) for cook in cooks if cook.panel_mean(mark) is not None])
        assert panel.mean() == pytest.approx(truth[mark].mean() + here.panel.bias[row], abs=0.07)
        # scatter of a mark, half-mark rounding (step^2 / 12), and what cooks and portions add
        expected = np.sqrt(
            (here.brief.taster_sd**2 + 0.25 / 12) / here.brief.tasters + here.panel.session_sd**2 + truth[mark].var()
        )
        assert panel.std() == pytest.approx(expected, rel=0.25)


def test_tasters_have_habits_of_their_own():
    here = kitchen("egg-squares")
    cooks = [cook for cook in cooks_of(here, here.good_program, 150) if cook.scores[0].moisture is not None]
    marks = np.array([[score.moisture for score in cook.scores] for cook in cooks])
    offsets = np.array(here.panel.offsets)[:, 2]
    np.testing.assert_allclose(marks.mean(axis=0) - marks.mean(), offsets, atol=0.16)
    assert np.ptp(offsets) > 0.1


def test_the_coldest_place_is_read_among_warmer_ones():
    here = kitchen("stuffed-pepper")
    readings = np.array([cook.readings_c for cook in cooks_of(here, here.good_program, 40)]).mean(axis=0)
    assert readings.argmin() == 0
    assert np.ptp(readings) > 0.5


def test_the_same_random_stream_gives_the_same_cook_and_moves_on():
    here = kitchen("lamb-kofta")
    one, other = np.random.default_rng(4), np.random.default_rng(4)
    first = here.cook(here.good_program, one)
    assert first == here.cook(here.good_program, other)
    assert first != here.cook(here.good_program, one)
    assert here.cook(here.good_program, 4) == first


def test_natural_portions_stay_what_the_brief_counts():
    here = kitchen("hand-pie")
    cooks = cooks_of(here, here.good_program, 80)
    mass = np.array([cook.mass_g for cook in cooks])
    start = np.array([cook.start_temperature_c for cook in cooks])
    assert (np.abs(mass / here.brief.portion.mass_g - 1) <= 0.1).all()
    assert mass.std() / here.brief.portion.mass_g > 0.01
    assert (np.abs(start - here.brief.portion.start_temperature_c) <= 5).all()
    assert start.std() > 0.3


@pytest.mark.parametrize("name", ["cinnamon-bun", "aubergine-bake", "hand-pie"])
@pytest.mark.parametrize(
    "what",
    [
        program(20, 1, (100, 0, 0)),
        program(400, 7200, (100, 100, 100)),
        program(250, 400, *((10, 50, 90) for _ in range(10))),
        program(233.3, 97.7, (33.3, 12.5, 41.1), (66.7, 77.7, 3.3)),
    ],
    ids=["nothing", "burnt", "ten stages", "off steps"],
)
def test_any_legal_program_gives_a_legal_cook(name, what):
    here = kitchen(name)
    cook = here.cook(what, np.random.default_rng(0))
    assert all(np.isfinite(cook.readings_c))
    assert 0.1 <= cook.mass_out_g / cook.mass_g <= 1.05
    truth = here.truth(what, np.random.default_rng(0), 3)
    assert all(np.isfinite(values).all() for values in truth.values())


def test_benchmark_cooks_have_no_program_and_are_scored_like_any_other():
    here = kitchen("paprika-strips")
    rng = np.random.default_rng(2)
    cooks = [here.benchmark(rng) for _ in range(24)]
    assert {cook.purpose for cook in cooks} == {"benchmark"}
    assert {cook.program for cook in cooks} == {None}
    assert np.mean([cook.panel_mean("browning") for cook in cooks]) == pytest.approx(3, abs=0.6)


def test_a_benchmark_needs_a_conventional_method():
    from dataclasses import replace

    here = kitchen("pork-cutlet")
    lost = replace(here, brief=here.brief.model_copy(update={"conventional": None}))
    with pytest.raises(ValueError, match="no conventional method"):
        lost.benchmark(np.random.default_rng(0))
