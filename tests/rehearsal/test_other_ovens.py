"""The same dish at another oven, and what oven checks say."""

import numpy as np
import pytest

from tuner.domain import Oven
from tuner.rehearsal import kitchen, names
from tuner.rehearsal.cavity import cavity_of, watts_into_water


def changed(oven, **fields):
    return Oven.model_validate(oven.model_dump(mode="json", exclude_unset=True) | fields)


def core_of(here, program):
    return here.truth(program, np.random.default_rng(3), 60)["core_temperature_c"].mean()


def checked(here, part):
    watts = watts_into_water(here.bench.setup.cavity) * part
    check = {"watts_w": watts, "standard_error_w": 15, "hot": False, "checked_at": "2026-02-20T09:00:00Z"}
    return changed(here.oven, checks=[check])


@pytest.mark.parametrize("name", ["pork-cutlet", "stuffed-pepper", "hand-pie"])
def test_a_weaker_oven_cooks_the_same_program_colder(name):
    here = kitchen(name)
    own, weak = (core_of(here.on(checked(here, part)), here.good_program) for part in (1.0, 0.85))
    assert own - 25 < weak < own - 3


def test_a_cold_check_fixes_the_watts_and_nothing_else():
    oven = kitchen("pork-cutlet").oven
    plain = cavity_of(oven)
    check = {"watts_w": 900, "standard_error_w": 10, "hot": False}
    known = cavity_of(changed(oven, checks=[check, {"watts_w": 700, "hot": True}]))
    assert watts_into_water(known) == pytest.approx(900)
    assert known.jet_w_m2k == plain.jet_w_m2k
    assert known.competing_g == plain.competing_g


def test_watts_into_water_lie_where_oven_checks_find_them():
    for name in names():
        here = kitchen(name)
        part = watts_into_water(here.bench.setup.cavity) / here.oven.microwave_rated_w
        assert 0.5 <= part <= 0.95, name


def test_another_oven_keeps_dish_brief_and_panel():
    here = kitchen("lamb-kofta")
    there = here.on(kitchen("pork-cutlet").oven)
    assert there.oven == kitchen("pork-cutlet").oven
    assert (there.brief, there.scale, there.panel) == (here.brief, here.scale, here.panel)
    assert there.bench.setup.nature == here.bench.setup.nature
    assert there.bench.setup.cavity != here.bench.setup.cavity
    assert there.cook(here.good_program, np.random.default_rng(1)).oven_serial == there.oven.serial


def test_going_to_the_own_oven_changes_nothing():
    here = kitchen("spinach-flatbread")
    assert here.on(here.oven) == here


def test_an_oven_with_only_what_is_required_will_do():
    bare = Oven.model_validate(
        {
            "name": "Bare",
            "air_temperature_c": {"low": 200, "high": 200},
            "air_speed_pct": {"low": 0, "high": 100, "step": 10},
            "microwave_pct": {"low": 0, "high": 100, "step": 10},
            "duration_s": {"low": 10, "high": 600, "step": 10},
            "share_step_pct": 10,
            "max_stages": 2,
        }
    )
    there = kitchen("pork-cutlet").on(bare)
    cook = there.cook(there.good_program, np.random.default_rng(1))
    assert cook.oven_serial is None
    assert np.isfinite(core_of(there, there.good_program))


def test_a_conventional_oven_does_not_care_where_the_dish_is_going():
    here = kitchen("pork-cutlet")
    there = here.on(kitchen("stuffed-pepper").oven)
    one, other = (place.conventional_truth(np.random.default_rng(1), 20)["browning"] for place in (here, there))
    np.testing.assert_array_equal(one, other)
