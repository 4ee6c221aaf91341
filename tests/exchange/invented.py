"""Invented ovens, briefs and cooks that the tests of this room write into logs of many layouts."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

from hypothesis import strategies as st

OVEN: dict[str, Any] = {
    "name": "Left",
    "air_temperature_c": {"low": 200, "high": 270, "step": 5},
    "air_speed_pct": {"low": 10, "high": 100, "step": 5},
    "microwave_pct": {"low": 0, "high": 100, "step": 5},
    "duration_s": {"low": 20, "high": 1200, "step": 5},
    "share_step_pct": 5,
    "max_stages": 4,
}


def brief_document() -> dict[str, Any]:
    """A chilled turkey and barley slice."""
    return {
        "dish": "Turkey and barley slice",
        "food_class": "poultry",
        "portion": {
            "mass_g": 180,
            "shape": "slab",
            "thickness_mm": 28,
            "water": 0.68,
            "fat": 0.08,
            "protein": 0.17,
            "carbohydrate": 0.05,
            "ash": 0.02,
            "start_state": "chilled",
            "start_temperature_c": 4,
        },
        "rest_s": 120,
    }


_FIVES = st.integers(2, 20).map(lambda n: 5 * n)


@st.composite
def programs(draw: st.DrawFn) -> dict[str, Any]:
    """A program on steps of 5, of one to three stages."""
    count = draw(st.integers(1, 3))
    cuts = sorted(draw(st.lists(st.integers(1, 19), min_size=count - 1, max_size=count - 1, unique=True)))
    edges = [0, *cuts, 20]
    shares = [5 * (later - earlier) for earlier, later in pairwise(edges)]
    return {
        "air_temperature_c": draw(st.integers(40, 54).map(lambda n: 5 * n)),
        "duration_s": draw(st.integers(12, 120).map(lambda n: 5 * n)),
        "stages": [
            {"share_pct": share, "air_speed_pct": draw(_FIVES), "microwave_pct": draw(st.integers(0, 20).map(lambda n: 5 * n))}
            for share in shares
        ],
    }


@st.composite
def cook_documents(draw: st.DrawFn, max_size: int = 6) -> list[dict[str, Any]]:
    """Cooks with everything measured, as kitchens round it."""
    count = draw(st.integers(1, max_size))
    return [draw(_cooks()) for _ in range(count)]


@st.composite
def _cooks(draw: st.DrawFn) -> dict[str, Any]:
    mass = draw(st.integers(1700, 1900)) / 10
    return {
        "program": draw(programs()),
        "mass_g": mass,
        "start_temperature_c": draw(st.integers(20, 60)) / 10,
        "core_temperature_c": [draw(st.integers(640, 950)) / 10 for _ in range(3)],
        "mass_out_g": round(mass * draw(st.integers(80, 95)) / 100, 1),
        "scores": [
            {"taster": name, **{part: draw(st.integers(2, 10)) / 2 for part in ("browning", "texture", "moisture")}}
            for name in "AB"
        ],
    }
