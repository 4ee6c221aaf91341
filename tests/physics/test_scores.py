"""Scores and latents."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tuner.physics import kinetics, latent_from_score, latent_slope, score_from_latent


@given(st.floats(1.001, 4.999))
@settings(deadline=None)
def test_score_and_latent_are_inverse_and_the_slope_is_the_derivative(score: float) -> None:
    latent = float(latent_from_score(score))
    assert float(score_from_latent(latent)) == pytest.approx(score, abs=1e-9)
    slope = float(score_from_latent(latent + 1e-5) - score_from_latent(latent - 1e-5)) / 2e-5
    assert float(latent_slope(score)) == pytest.approx(slope, abs=1e-5)


def test_the_ends_of_the_scale_have_finite_latents() -> None:
    assert np.isfinite(latent_from_score([1.0, 5.0])).all()
    assert score_from_latent([-1e9, 0.0, 1e9]).tolist() == [1.0, 3.0, 5.0]


def test_colour_is_first_order_in_the_dose() -> None:
    """Slope 1: score = 1 + 4 (1 - exp(-ln 2 dose / half dose)), and exactly just right at the half dose."""
    dose = np.array([10.0, 50.0, 100.0, 200.0])
    latent = kinetics.colour_latent(dose, np.full(4, 100.0), np.ones(4))
    assert score_from_latent(latent) == pytest.approx(5.0 - 4.0 * 0.5 ** (dose / 100.0), abs=0.01)


def test_latents_grow_for_ever_but_slowly_once_far_out() -> None:
    doses = np.geomspace(1e-9, 1e9, 200)
    latent = kinetics.colour_latent(doses, np.full(200, 100.0), np.ones(200))
    assert np.isfinite(latent).all()
    assert (np.diff(latent) >= 0).all()
    assert -8.0 < latent.min() < latent.max() < 30.0
    assert kinetics.held_latent(np.array([-5.0, 0.0, 5.0])).tolist() == [-5.0, 0.0, 5.0]
