"""What an oven is told to do: air temperature, duration, and stages with shares of the time.

A program knows no oven: one that is off an oven's steps is legal here (old logs hold such programs).
"""

from __future__ import annotations

from typing import Self

from pydantic import Field, model_validator

from tuner.domain.model import Model, Number


class Stage(Model):
    """One part of a program."""

    share_pct: Number = Field(gt=0, le=100)
    air_speed_pct: Number = Field(ge=0, le=100)
    microwave_pct: Number = Field(ge=0, le=100)


class Program(Model):
    """A cooking program; shares of the time add up to 100 %."""

    air_temperature_c: Number = Field(ge=20, le=400)
    duration_s: Number = Field(gt=0, le=7200)
    stages: tuple[Stage, ...] = Field(min_length=1, max_length=50)

    @model_validator(mode="after")
    def _whole(self) -> Self:
        total = sum(stage.share_pct for stage in self.stages)
        if abs(total - 100) > 1e-6:
            shares = " + ".join(f"{stage.share_pct:g}" for stage in self.stages)
            raise ValueError(
                f"stages have shares {shares} = {total:g} %. The shares of the time must add up to exactly 100 %. "
                f"{'Take away' if total > 100 else 'Add'} {abs(total - 100):g} %"
            )
        return self

    def stage_seconds(self) -> tuple[float, ...]:
        """Whole seconds of each stage by largest remainder (ties: the earlier stage); they add up to the duration.

        A duration that is not whole leaves its fraction on the last stage.
        """
        whole = int(self.duration_s)
        exact = [whole * stage.share_pct / 100 for stage in self.stages]
        seconds = [int(value + 1e-9) for value in exact]
        by_remainder = sorted(range(len(exact)), key=lambda i: (-round(exact[i] - seconds[i], 9), i))
        for index in by_remainder[: whole - sum(seconds)]:
            seconds[index] += 1
        result = [float(value) for value in seconds]
        result[-1] += self.duration_s - whole
        return tuple(result)

    def stage_edges_s(self) -> tuple[float, ...]:
        """Exact times at which stages begin and end, from 0 to the duration; one more than stages."""
        edges, done = [0.0], 0.0
        for stage in self.stages:
            done += stage.share_pct
            edges.append(self.duration_s * done / 100)
        edges[-1] = self.duration_s
        return tuple(edges)

    @property
    def key(self) -> tuple[float, ...]:
        """All numbers in a fixed order: equal programs have equal keys, and keys sort (ties are broken by them)."""
        numbers = [self.air_temperature_c, self.duration_s]
        for stage in self.stages:
            numbers += [stage.share_pct, stage.air_speed_pct, stage.microwave_pct]
        return tuple(float(number) for number in numbers)
