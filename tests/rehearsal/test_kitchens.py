import numpy as np
import pytest

from tuner.rehearsal import kitchen, names


@pytest.mark.parametrize("name", ["pork-cutlet", "hand-pie"])
def test_a_named_kitchen_can_be_won(name):
    here = kitchen(name)
    assert here.inside(here.good_program, np.random.default_rng(7), 600) >= 0.95


def test_there_are_at_least_eight_named_kitchens():
    assert len(set(names())) >= 8
