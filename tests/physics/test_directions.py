"""Directions that hold for every class of food: what heats more is not colder inside, what browns more is not paler.

Tolerances: 0.05 °C of core and 0.01 of a mark. Portions are of the size their thickness allows, and
a cook ends while there is water left; burnt food is nobody's question.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.physics.dishes import OVEN, program
from tests.physics.legal import CLASSES, SHAPES
from tuner.domain import Brief, Oven, Program, Stage
from tuner.physics import PortionModel, portion_model, score_from_latent

CORE_TOLERANCE_C, MARK_TOLERANCE = 0.05, 0.01
_USUAL_STARTS = {"frozen": (-22.0, -15.0), "tempered": (-6.0, -2.0), "chilled": (1.0, 5.0), "ambient": (15.0, 25.0)}
seeds = st.integers(0, 1_000_000)


def _least_mass_g(shape: str, thickness_mm: float) -> float:
    """Mass of a piece of this thickness at the density of water: a slab is at least as wide as 1.5 times its thickness."""
    cube = thickness_mm**3 / 1000.0
    return cube * {"slab": 2.25, "cylinder": 1.2, "sphere": 0.52, "loose": 0.5}[shape]


def _dish(rng: np.random.Generator, food_class: str) -> Brief:
    shape, state = str(rng.choice(SHAPES)), str(rng.choice(list(_USUAL_STARTS)))
    thickness = float(np.exp(rng.uniform(np.log(8), np.log(60))))
    least = _least_mass_g(shape, thickness)
    parts = rng.dirichlet([8, 1.5, 2.5, 1.5, 0.15])
    portion: dict[str, Any] = {
        "mass_g": least * float(np.exp(rng.uniform(np.log(1.0), np.log(6.0)))) + 30.0, "shape": shape, "thickness_mm": thickness,
        **dict(zip(("water", "fat", "protein", "carbohydrate", "ash"), parts.tolist(), strict=True)),
        "start_state": state, "start_temperature_c": float(rng.uniform(*_USUAL_STARTS[state])),
    }  # fmt: skip
    return Brief.model_validate(
        {
            "dish": "any", "food_class": food_class, "portion": portion, "rest_s": float(rng.choice([0, 60, 120])),
            "conventional": {"method": "oven", "oven_temperature_c": 190.0, "duration_s": 1500.0},
        }
    )  # fmt: skip


def _programs(rng: np.random.Generator, count: int) -> list[Program]:
    found = []
    for _ in range(count):
        cuts = np.sort(rng.choice(np.arange(2, 19), rng.integers(0, 3), replace=False)) * 5.0
        shares = np.diff(np.concatenate([[0.0], cuts, [100.0]]))
        stages = [(share, float(rng.uniform(10, 90)), float(rng.uniform(0, 90))) for share in shares]
        found.append(program(float(rng.uniform(190, 260)), float(np.exp(rng.uniform(np.log(30), np.log(500)))), *stages))
    return found


def _forecast(model: PortionModel, programs: list[Program], mass: float, start: float) -> np.ndarray:
    return model.predict(programs, mass_g=mass, start_temperature_c=start, theta=model.prior_mean)


def _with(of: Program, place: int, **changes: float) -> Program:
    stages = list(of.stages)
    stages[place] = Stage.model_validate({**stages[place].model_dump(), **changes})
    return Program(air_temperature_c=of.air_temperature_c, duration_s=of.duration_s, stages=tuple(stages))


class _Case:
    """A dish, some programs, and what they do, cooks that end burnt or dry left out."""

    def __init__(self, seed: int, food_class: str) -> None:
        rng = np.random.default_rng(seed)
        self.rng, self.dish = rng, _dish(rng, food_class)
        self.model = portion_model(self.dish, Oven.model_validate(OVEN))
        self.mass, self.start = self.dish.portion.mass_g, self.dish.portion.start_temperature_c
        programs = _programs(rng, 8)
        found = _forecast(self.model, programs, self.mass, self.start)
        kept = found[:, 4] < 45.0 * self.dish.portion.water
        self.programs = [one for one, keep in zip(programs, kept, strict=True) if keep]
        self.base = found[kept]

    def core_rise(self, changed: list[Program]) -> np.ndarray:
        return _forecast(self.model, changed, self.mass, self.start)[:, 0] - self.base[:, 0]

    def hotter(self) -> None:
        changed = [
            Program(air_temperature_c=p.air_temperature_c + self.rng.uniform(2, 40), duration_s=p.duration_s, stages=p.stages)
            for p in self.programs
        ]
        assert (self.core_rise(changed) >= -CORE_TOLERANCE_C).all()

    def longer(self) -> None:
        changed = [
            Program(
                air_temperature_c=p.air_temperature_c, duration_s=p.duration_s * self.rng.uniform(1.01, 1.3), stages=p.stages
            )
            for p in self.programs
        ]
        found = _forecast(self.model, changed, self.mass, self.start)
        watery = found[:, 4] < 45.0 * self.dish.portion.water
        assert (found[watery, 0] - self.base[watery, 0] >= -CORE_TOLERANCE_C).all()

    def more_microwave(self) -> None:
        for place in (0, -1):
            changed = [
                _with(p, place, microwave_pct=p.stages[place].microwave_pct + self.rng.uniform(1, 10)) for p in self.programs
            ]
            assert (self.core_rise(changed) >= -CORE_TOLERANCE_C).all()

    def heavier_colder_or_frozen(self) -> None:
        for mass, start in (
            (self.mass * self.rng.uniform(1.01, 1.3), self.start),
            (self.mass, self.start - self.rng.uniform(0.5, 4)),
            (self.mass, min(-18.0, self.start - 1)),
        ):
            changed = _forecast(self.model, self.programs, mass, start)
            assert (changed[:, 0] <= self.base[:, 0] + CORE_TOLERANCE_C).all()

    def more_late_air(self) -> None:
        changed = [_with(p, -1, air_speed_pct=p.stages[-1].air_speed_pct + self.rng.uniform(1, 10)) for p in self.programs]
        found = _forecast(self.model, changed, self.mass, self.start)
        rise = score_from_latent(found[:, 1]) - score_from_latent(self.base[:, 1])
        assert (rise >= -MARK_TOLERANCE).all()


@pytest.mark.parametrize("food_class", CLASSES)
@given(seeds)
@settings(deadline=None, max_examples=10)
def test_the_known_directions_hold(food_class: str, seed: int) -> None:
    case = _Case(seed, food_class)
    case.hotter()
    case.longer()
    case.more_microwave()
    case.heavier_colder_or_frozen()
    case.more_late_air()
