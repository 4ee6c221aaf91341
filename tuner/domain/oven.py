"""One physical rapid-cook oven: its limits, its steps and what was measured on it."""

from __future__ import annotations

from typing import Self

from pydantic import Field, model_validator

from tuner.domain.model import Flag, Instant, Model, Number, Text, Whole

_ON_STEP = 1e-6
"""Tolerance, in steps, within which a setting counts as lying on the grid (decimal steps are not exact in binary)."""


class Setting(Model):
    """What can be set: from `low` in equal steps, up to the last step not above `high`."""

    low: Number
    high: Number
    step: Number | None = Field(default=None, gt=0)

    @model_validator(mode="after")
    def _ordered(self) -> Self:
        if self.low > self.high:
            raise ValueError(f"low {self.low:g} is above high {self.high:g}. low must not exceed high. Swap or correct them")
        if self.step is None and self.low != self.high:
            raise ValueError(
                f"step is missing although low {self.low:g} and high {self.high:g} differ. "
                "Only a fixed setting (low = high) has no step. Add the step of this setting"
            )
        return self

    @property
    def count(self) -> int:
        """Number of values that can be set, at least 1."""
        if self.step is None:
            return 1
        return int((self.high - self.low) / self.step + _ON_STEP) + 1

    def at(self, index: int) -> float:
        """Value of step number `index`, counted from 0 at `low`.

        Raises
        ------
        IndexError
            If there is no such step.
        """
        if not 0 <= index < self.count:
            raise IndexError(f"step {index} of a setting with {self.count} steps")
        return self.low if self.step is None else round(self.low + index * self.step, 9)

    @property
    def values(self) -> tuple[float, ...]:
        """All values that can be set, rising."""
        return tuple(self.at(index) for index in range(self.count))

    def nearest(self, value: float) -> float:
        """The settable value nearest to `value`; of two equally near ones the lower."""
        if self.step is None:
            return self.low
        raw = (value - self.low) / self.step
        index = int(-(-(raw - 0.5) // 1))  # half-way rounds down
        return self.at(min(max(index, 0), self.count - 1))

    def holds(self, value: float) -> bool:
        """Whether `value` can be set exactly."""
        return abs(self.nearest(value) - value) <= _ON_STEP * (self.step or 1.0)


class OvenCheck(Model):
    """One measured test of one oven: watts into water, air-side heat transfer, true air temperature."""

    watts_w: Number | None = Field(default=None, gt=0, le=6000)
    standard_error_w: Number | None = Field(default=None, ge=0, le=3000)
    hot: Flag | None = None
    h_w_m2k: Number | None = Field(default=None, gt=0, le=1000)
    air_temperature_c: Number | None = Field(default=None, ge=0, le=450)
    checked_at: Instant | None = None


class Oven(Model):
    """One physical oven. Only the name, limits, steps, `share_step_pct` and `max_stages` are required."""

    name: Text = Field(min_length=1, max_length=200)
    air_temperature_c: Setting
    air_speed_pct: Setting
    microwave_pct: Setting
    duration_s: Setting
    share_step_pct: Number = Field(gt=0, le=100)
    max_stages: Whole = Field(ge=1, le=20)
    microwave_rated_w: Number | None = Field(default=None, ge=100, le=6000)
    air_speed_max_m_s: Number | None = Field(default=None, ge=0.5, le=60)
    serial: Text | None = Field(default=None, max_length=200)
    checks: tuple[OvenCheck, ...] | None = None
    on_off_period_s: Number | None = Field(default=None, gt=0, le=120)
    min_stage_s: Number | None = Field(default=None, ge=0, le=7200)
    altitude_m: Number | None = Field(default=None, ge=-400, le=5000)

    @model_validator(mode="after")
    def _legal(self) -> Self:
        for field, lowest, highest, unit in (
            ("air_temperature_c", 20.0, 400.0, "°C"),
            ("air_speed_pct", 0.0, 100.0, "%"),
            ("microwave_pct", 0.0, 100.0, "%"),
            ("duration_s", 1.0, 7200.0, "s"),
        ):
            setting: Setting = getattr(self, field)
            if setting.low < lowest or setting.high > highest:
                raise ValueError(
                    f"{field} runs from {setting.low:g} to {setting.high:g} {unit}. "
                    f"It must lie within {lowest:g} to {highest:g} {unit}. Check the oven's manual and correct it"
                )
        parts = 100 / self.share_step_pct
        if abs(parts - round(parts)) > _ON_STEP:
            raise ValueError(
                f"share_step_pct {self.share_step_pct:g} does not divide 100, so shares could never add up to 100 %. "
                "Give a step that divides 100, such as 1, 5 or 10"
            )
        return self

    @property
    def share_parts(self) -> int:
        """Number of share steps in a whole program; also the largest number of stages the steps allow."""
        return round(100 / self.share_step_pct)
