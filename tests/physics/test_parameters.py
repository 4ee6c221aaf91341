"""The uncertain numbers and their scales."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tuner.physics import INDEX, PARAMETERS, natural, to_theta


def test_every_parameter_has_a_source_and_its_centre_inside_its_plausible_range() -> None:
    for parameter in PARAMETERS:
        assert parameter.source
        assert parameter.low < parameter.centre < parameter.high, parameter.name
        assert parameter.spread > 0


def test_the_plausible_range_is_about_two_spreads_either_way() -> None:
    for parameter in PARAMETERS:
        for edge in (parameter.low, parameter.high):
            assert 1.0 < abs(to_theta(parameter.name, edge)) < 4.5, parameter.name


def test_natural_values_at_the_middle_are_the_centres() -> None:
    assert natural(np.zeros(len(PARAMETERS))) == pytest.approx([parameter.centre for parameter in PARAMETERS])


@given(st.sampled_from(PARAMETERS), st.floats(-5, 5))
@settings(deadline=None)
def test_natural_and_theta_are_inverse(parameter, theta: float) -> None:
    whole = np.zeros(len(PARAMETERS))
    whole[INDEX[parameter.name]] = theta
    assert to_theta(parameter.name, float(natural(whole)[INDEX[parameter.name]])) == pytest.approx(theta, abs=1e-9)


def test_extreme_theta_stays_finite_and_rising() -> None:
    wide = np.array([-1e9, -8.0, 0.0, 8.0, 1e9])[:, None] * np.ones(len(PARAMETERS))
    values = natural(wide)
    assert np.isfinite(values).all()
    assert (np.diff(values, axis=0) >= 0).all()


def test_theta_of_the_wrong_length_is_refused() -> None:
    with pytest.raises(ValueError, match="last axis"):
        natural(np.zeros(3))
