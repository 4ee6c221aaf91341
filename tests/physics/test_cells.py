"""Geometry of the cells."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tuner.physics.cells import cells_for

shapes = st.sampled_from(["slab", "cylinder", "sphere", "loose"])


@given(shapes, st.floats(0.0005, 0.125), st.integers(1, 4))
@settings(deadline=None)
def test_cells_fill_the_half_thickness_and_the_volume(shape: str, half: float, refine: int) -> None:
    cells = cells_for(shape, half, refine)
    assert cells.faces[0] == 0.0
    assert cells.faces[-1] == 1.0
    assert (np.diff(cells.faces) > 0).all()
    assert cells.volume.sum() == pytest.approx(1.0)
    assert cells.area[-1] == 1.0
    assert 3 * refine <= cells.count <= 10 * refine


@given(shapes, st.floats(0.0005, 0.125))
@settings(deadline=None)
def test_cells_are_thin_at_the_surface_and_coarser_inside(shape: str, half: float) -> None:
    widths = np.diff(cells_for(shape, half).faces) * half
    assert widths[-1] <= 1.6e-3 + 1e-12
    assert (np.diff(widths) <= 1e-12).all()


def test_thicker_portions_have_more_cells() -> None:
    counts = [cells_for("slab", half).count for half in (0.0005, 0.005, 0.014, 0.04, 0.125)]
    assert counts == sorted(counts)
    assert counts[0] == 3
    assert counts[2] == 6


def test_refined_cells_are_the_coarse_ones_cut() -> None:
    coarse, fine = cells_for("sphere", 0.02), cells_for("sphere", 0.02, 3)
    assert fine.faces[::3] == pytest.approx(coarse.faces)
    assert fine.volume.reshape(-1, 3).sum(axis=1) == pytest.approx(coarse.volume)
