"""A simulated kitchen as the rest of the tool meets it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta

import numpy as np

from tuner.domain import SCORES, Brief, Oven, Program, Purpose, TestCook
from tuner.rehearsal.bench import Bench
from tuner.rehearsal.cavity import cavity_of
from tuner.rehearsal.conventional import CONVENTIONAL, STEPS, conventional_table
from tuner.rehearsal.panel import Panel
from tuner.rehearsal.portions import Portions
from tuner.rehearsal.senses import Impression, Scale
from tuner.rehearsal.table import Array, table_of
from tuner.rehearsal.windows import edges_of, usable_low_c

_FIRST_DAY = datetime(2026, 3, 2, tzinfo=UTC)
_CHECKED_AT_MIN = 7 * 60 + 30
_OPEN_FROM_MIN, _OPEN_FOR_MIN = 8 * 60, 600


@dataclass(frozen=True, slots=True)
class Kitchen:
    """A dish, an oven and a panel, all simulated.

    Attributes
    ----------
    name
        Of the kitchen.
    brief, oven
        What is known.
    bench, scale, panel
        What is hidden.
    good_program
        A program of the oven's grid that is truly inside for nearly all portions; for tests and floors, never for learners.
    order_decides
        Whether construction found that no one-stage program and no reversed one comes near.
    """

    name: str
    brief: Brief
    oven: Oven
    bench: Bench
    scale: Scale
    panel: Panel
    good_program: Program
    order_decides: bool

    def cook(
        self,
        program: Program,
        rng: np.random.Generator | int,
        *,
        purpose: Purpose = "search",
        cooked_at: datetime | None = None,
    ) -> TestCook:
        """Cook one natural portion and measure everything; what is not safe is not tasted.

        Parameters
        ----------
        program
            What the oven does.
        rng
            Draws the portion, every error and, if not given, the time of day.
        purpose, cooked_at
            Written into the cook.
        """
        rng = np.random.default_rng(rng)
        portions = self.bench.natural(rng, 1)
        impression = self.bench.cook(table_of([program]), portions)
        return self._measured(program, portions, impression, rng, purpose, cooked_at)

    def benchmark(self, rng: np.random.Generator, *, cooked_at: datetime | None = None) -> TestCook:
        """Cook one portion by the conventional method."""
        portions = self.bench.natural(rng, 1)
        return self._measured(None, portions, self._conventional(portions), rng, "benchmark", cooked_at)

    def _conventional(self, portions: Portions) -> Impression:
        method = self.brief.conventional
        if method is None:
            raise ValueError(f"the brief of {self.name} has no conventional method. A benchmark needs one. Add it")
        count = len(portions)
        table = conventional_table(
            np.full(count, float(method.oven_temperature_c)),
            np.full(count, float(method.duration_s)),
            [method.method] * count,
        )
        return self.bench.in_cavity(CONVENTIONAL).cook(table, portions, steps=STEPS)

    def _measured(
        self,
        program: Program | None,
        portions: Portions,
        impression: Impression,
        rng: np.random.Generator,
        purpose: Purpose,
        cooked_at: datetime | None,
    ) -> TestCook:
        readings = self.panel.readings(impression.places_c[:, 0], rng)
        mass = self.panel.weighed(float(portions.mass_g[0]), rng)
        out = self.panel.weighed(float(portions.mass_g[0] * (1 - impression.loss_pct[0] / 100)), rng)
        marks = self.panel.marks(self.scale.marks(impression.latent)[:, 0], rng)
        minute = int(rng.integers(_OPEN_FOR_MIN))
        when = cooked_at or _FIRST_DAY + timedelta(minutes=_OPEN_FROM_MIN + minute)
        checked = when - timedelta(minutes=_OPEN_FROM_MIN + minute - _CHECKED_AT_MIN)
        tasted = SCORES if readings.min() >= usable_low_c(self.brief) else ("browning",)
        document: dict[str, object] = {
            "program": program,
            "mass_g": mass,
            "start_temperature_c": round(float(portions.start_c[0]) + 0.2 * float(rng.standard_normal()), 1),
            "core_temperature_c": tuple(float(value) for value in readings),
            "thermometer_checked_at": checked,
            "rest_s": float(self.bench.setup.rest_s),
            "rest_covered": self.bench.setup.covered,
            "completed": True,
            "mass_out_g": out,
            "scores": tuple(
                {"taster": chr(ord("A") + row), **{name: float(marks[row, SCORES.index(name)]) for name in tasted}}
                for row in range(len(marks))
            ),
            "purpose": purpose,
            "cooked_at": when,
            "cook": "rehearsal",
        }
        limit = self.brief.critical_limit
        if limit is not None and limit.hold_s > 0:
            document["held_s"] = float(limit.hold_s) + 5.0
        if self.oven.serial is not None:
            document["oven_serial"] = self.oven.serial
        return TestCook.model_validate(document)

    def _natural(self, program: Program, rng: np.random.Generator, count: int) -> Impression:
        table = table_of([program]).repeated(count)
        return self.bench.cook(table, self.bench.natural(rng, count))

    def inside(self, program: Program, rng: np.random.Generator, n: int = 400) -> float:
        """Share of `n` natural portions truly inside every window; 0 for a program outside the duration window."""
        allowed = self.brief.targets.duration_s
        if allowed is not None and not allowed.holds(program.duration_s):
            return 0.0
        return float(edges_of(self.brief).holds(self._natural(program, rng, n), self.scale).mean())

    def truth(self, program: Program, rng: np.random.Generator, n: int = 400) -> Mapping[str, Array]:
        """True attributes of `n` natural portions, each of shape (n,).

        `core_temperature_c` is the coldest place, `core_mean_c` the mean over the places; scores are before any taster's error.
        """
        impression = self._natural(program, rng, n)
        marks = self.scale.marks(impression.latent)
        return {
            "core_temperature_c": impression.lowest_c,
            **{name: marks[row] for row, name in enumerate(SCORES)},
            "cook_loss_pct": impression.loss_pct,
            "core_mean_c": impression.mean_c,
        }

    def conventional_truth(self, rng: np.random.Generator, n: int = 400) -> Mapping[str, Array]:
        """True attributes of `n` natural portions cooked by the conventional method."""
        impression = self._conventional(self.bench.natural(rng, n))
        marks = self.scale.marks(impression.latent)
        return {
            "core_temperature_c": impression.lowest_c,
            **{name: marks[row] for row, name in enumerate(SCORES)},
            "cook_loss_pct": impression.loss_pct,
            "core_mean_c": impression.mean_c,
        }

    def on(self, oven: Oven) -> Kitchen:
        """The same dish and panel at another oven; `good_program` stays the one found for the first."""
        return replace(self, oven=oven, bench=self.bench.in_cavity(cavity_of(oven)))
