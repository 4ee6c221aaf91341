"""A blind tasting session as planned, the marks given in it, and a comparison with the benchmark.

Tasters are pseudonyms. What is kept of health is one thing: may taste today, yes or no.
"""

from __future__ import annotations

from typing import Literal, Self

from pydantic import Field, model_validator

from tuner.domain.model import Flag, Model, Number, Text, Whole

SampleKind = Literal["cook", "benchmark", "duplicate"]
ComparisonKind = Literal["triangle", "duo-trio", "liking"]


class PanelSample(Model):
    """One sample under its three-digit code."""

    code: Text = Field(pattern=r"^[1-9][0-9]{2}$")
    cook_id: Text
    kind: SampleKind


class PanelSession(Model):
    """A session as planned; which code is which stays hidden until it is closed."""

    samples: tuple[PanelSample, ...] = Field(min_length=2, max_length=8)
    tasters: tuple[Text, ...] = Field(min_length=1)
    attributes: tuple[Text, ...] = Field(min_length=1)
    orders: dict[Text, tuple[Text, ...]]
    seed: Whole

    def sample(self, code: str) -> PanelSample | None:
        """The sample of a code, None where there is none."""
        return next((sample for sample in self.samples if sample.code == code), None)


class PanelMarks(Model):
    """One taster's marks of one sample: 1 to 5 in halves, 3 just right; liking 1 to 9."""

    taster: Text = Field(min_length=1, max_length=100)
    code: Text
    marks: dict[Text, Number]
    serving_age_s: Number | None = Field(default=None, ge=0, le=3600)
    serving_temperature_c: Number | None = Field(default=None, ge=-20, le=100)

    def __hash__(self) -> int:
        # A dict has no hash; equal marks still have equal hashes without it.
        return hash((self.taster, self.code))

    @model_validator(mode="after")
    def _in_range(self) -> Self:
        if not self.marks:
            raise ValueError("marks is empty. Give at least one mark, or leave the sample out")
        for name, mark in self.marks.items():
            highest = 9 if name == "liking" else 5
            if not 1 <= mark <= highest:
                raise ValueError(f"{name} is {mark:g}. Marks go from 1 to {highest}. Give a mark in that range")
            if mark * 2 != round(mark * 2):
                raise ValueError(f"{name} is {mark:g}. Marks are given in halves. Give the nearest half mark")
        return self


class ComparisonProtocol(Model):
    """How a candidate is held against the benchmark; fixed before the first sample is tasted.

    `share_telling` is the limit of a triangle or duo-trio test, `margin` that of paired liking (steps of 9);
    `expected_sd` is the spread of liking differences that the number of tasters was worked out with.
    """

    kind: ComparisonKind
    cook_ids: tuple[Text, ...] = Field(min_length=1)
    benchmark_ids: tuple[Text, ...] = Field(min_length=1)
    tasters: Whole = Field(ge=1)
    share_telling: Number = Field(default=0.3, gt=0, lt=1)
    margin: Number = Field(default=1.0, gt=0, le=8)
    expected_sd: Number = Field(default=2.0, gt=0, le=8)
    alpha: Number = Field(default=0.05, gt=0, lt=0.5)
    beta: Number = Field(default=0.05, gt=0, lt=0.5)
    serving_age_s: Number | None = Field(default=None, ge=0, le=3600)


class ComparisonAnswer(Model):
    """One answer of one taster: right or wrong, or liking of the dish and of the benchmark."""

    taster: Text = Field(min_length=1, max_length=100)
    right: Flag | None = None
    liking_dish: Number | None = Field(default=None, ge=1, le=9)
    liking_benchmark: Number | None = Field(default=None, ge=1, le=9)

    @model_validator(mode="after")
    def _one_kind(self) -> Self:
        liked = self.liking_dish is not None and self.liking_benchmark is not None
        if (self.right is None) == (not liked):
            raise ValueError("an answer is either right or wrong, or both likings. Give one kind, and give it whole")
        return self
