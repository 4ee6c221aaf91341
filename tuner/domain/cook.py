"""One execution of a program on one real portion, with everything measured and scored."""

from __future__ import annotations

from itertools import pairwise
from typing import Literal, Self

from pydantic import Field, model_validator

from tuner.domain.model import Flag, Instant, Model, Number, Text, Whole
from tuner.domain.program import Program

Purpose = Literal["first_guess", "search", "confirm", "benchmark", "proof", "site_check"]


class Score(Model):
    """One taster's marks: 1 to 5 in half marks, 3 just right; what was not tasted is left out."""

    taster: Text = Field(min_length=1, max_length=100)
    browning: Number | None = Field(default=None, ge=1, le=5)
    texture: Number | None = Field(default=None, ge=1, le=5)
    moisture: Number | None = Field(default=None, ge=1, le=5)
    other: dict[Text, Number] | None = None

    def __hash__(self) -> int:
        # A dict has no hash; equal scores still have equal hashes without it.
        return hash((self.taster, self.browning, self.texture, self.moisture))

    @model_validator(mode="after")
    def _half_marks(self) -> Self:
        for name in ("browning", "texture", "moisture"):
            mark = getattr(self, name)
            if mark is not None and mark * 2 != round(mark * 2):
                raise ValueError(f"{name} is {mark:g}. Marks go from 1 to 5 in halves. Give the nearest half mark")
        for name, mark in (self.other or {}).items():
            if not 1 <= mark <= 5:
                raise ValueError(f"other, {name} is {mark:g}. Marks go from 1 to 5. Give a mark in that range")
        return self


class TracePiece(Model):
    """Temperatures over time at one place: one sample, or a run of samples with rising times."""

    place: Text | Whole
    time_s: Number | tuple[Number, ...]
    temperature_c: Number | tuple[Number, ...]

    @model_validator(mode="after")
    def _paired(self) -> Self:
        times = self.time_s if isinstance(self.time_s, tuple) else (self.time_s,)
        temperatures = self.temperature_c if isinstance(self.temperature_c, tuple) else (self.temperature_c,)
        if len(times) != len(temperatures):
            raise ValueError(
                f"time_s has {len(times)} and temperature_c {len(temperatures)} values. Each sample needs both. "
                "Give as many times as temperatures"
            )
        if not times:
            raise ValueError("time_s is empty. A trace needs at least one sample. Leave the trace out if there is none")
        if any(later <= earlier for earlier, later in pairwise(times)):
            raise ValueError("time_s does not rise. Samples must be in order of time. Sort them and remove doubles")
        far = next((value for value in times if not -1e10 <= value <= 1e10), None)
        if far is not None:
            raise ValueError(f"time_s holds {far:g} s. It must lie within -1e10 to 1e10 s. Count from the start of the cook")
        wrong = next((value for value in temperatures if not -60 <= value <= 400), None)
        if wrong is not None:
            raise ValueError(
                f"temperature_c holds {wrong:g} °C. It must lie within -60 to 400 °C. Check the sensor and its unit"
            )
        return self


class TestCook(Model):
    """One test cook. What was not measured is left out; such a cook is legal and used for what it has."""

    __test__ = False  # not a test case, whatever its name makes pytest think

    program: Program | None = None
    program_set: Program | None = None
    mass_g: Number | None = Field(default=None, gt=0, le=20000)
    start_temperature_c: Number | None = Field(default=None, ge=-40, le=60)
    core_temperature_c: tuple[Number, ...] | None = None
    probe_places: tuple[Text | Whole, ...] | None = None
    thermometer_checked_at: Instant | None = None
    rest_s: Number | None = Field(default=None, ge=0, le=7200)
    rest_covered: Flag | None = None
    held_s: Number | None = Field(default=None, ge=0, le=86400)
    completed: Flag | None = None
    interrupted_by: Text | None = Field(default=None, max_length=500)
    mass_out_g: Number | None = Field(default=None, gt=0, le=20000)
    scores: tuple[Score, ...] | None = None
    purpose: Purpose = "search"
    cooked_at: Instant | None = None
    cook: Text | None = Field(default=None, max_length=200)
    note: Text | None = Field(default=None, max_length=4000)
    trace: tuple[TracePiece, ...] | None = None
    load: Whole | None = Field(default=None, ge=1, le=50)
    lot: Text | None = Field(default=None, max_length=200)
    oven_serial: Text | None = Field(default=None, max_length=200)
    seconds_since_last_cook: Number | None = Field(default=None, ge=0, le=1e9)
    serving_age_s: Number | None = Field(default=None, ge=0, le=86400)
    photo: Text | None = Field(default=None, max_length=500)
    history: Flag | Text | None = None
    client_id: Text | None = Field(default=None, min_length=1, max_length=100)
    confirmed: tuple[Text, ...] | None = None

    @model_validator(mode="after")
    def _consistent(self) -> Self:
        if self.program is None and self.purpose != "benchmark":
            raise ValueError(
                f"program is missing for purpose {self.purpose!r}. Only a benchmark cook has no program. Add what the oven did"
            )
        wrong = next((value for value in self.core_temperature_c or () if not -40 <= value <= 250), None)
        if wrong is not None:
            raise ValueError(
                f"core_temperature_c holds {wrong:g} °C. A reading must lie within -40 to 250 °C. "
                "Check the thermometer and type it again"
            )
        if self.mass_g is not None and self.mass_out_g is not None and not 0.1 <= self.mass_out_g / self.mass_g <= 1.2:
            raise ValueError(
                f"mass_out_g {self.mass_out_g:g} g against mass_g {self.mass_g:g} g. Mass out must be 0.1 to 1.2 of mass in. "
                "Weigh again, without tray, and correct the wrong one"
            )
        if self.completed and self.interrupted_by:
            raise ValueError(
                f"interrupted_by is {self.interrupted_by!r} although completed is true. An interrupted cook is not completed. "
                "Set completed to false, or remove interrupted_by"
            )
        return self

    @property
    def done_program(self) -> Program | None:
        """What the oven really did: the program keyed in where it differs from the one ordered."""
        return self.program_set or self.program

    @property
    def readings_c(self) -> tuple[float, ...]:
        """Core readings [°C], one a place; empty where none was taken."""
        return self.core_temperature_c or ()

    @property
    def cook_loss_pct(self) -> float | None:
        """100 (mass in - mass out) / mass in [%]; negative where mass was taken up, None where not weighed."""
        if self.mass_g is None or self.mass_out_g is None:
            return None
        return 100.0 * (self.mass_g - self.mass_out_g) / self.mass_g

    def panel_mean(self, attribute: str) -> float | None:
        """Plain mean of the tasters present for a score, None where nobody scored it."""
        marks = [mark for score in self.scores or () if (mark := getattr(score, attribute)) is not None]
        return sum(marks) / len(marks) if marks else None
