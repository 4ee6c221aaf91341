"""The benchmark: mean and spread of the dish cooked by its conventional method."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from tuner.domain import ATTRIBUTES, TestCook

ENOUGH_COOKS = 3
LATE_SERVING_S = 180.0
"""Benchmark cooks that give a mean and a spread; serving age from which it no longer tastes as made [s] (common practice)."""


@dataclass(frozen=True, slots=True)
class BenchmarkValue:
    """One attribute of the benchmark: mean, standard deviation (None for one cook), and how many cooks."""

    attribute: str
    mean: float
    sd: float | None
    cooks: int


@dataclass(frozen=True, slots=True)
class BenchmarkSummary:
    """What the benchmark cooks show, and what must be said with them."""

    cooks: int
    values: tuple[BenchmarkValue, ...]
    serving_age_s: tuple[float, float] | None
    remarks: tuple[str, ...]


def benchmark_summary(cooks: Sequence[TestCook]) -> BenchmarkSummary:
    """Sum up the cooks whose purpose is the benchmark; the others are left aside."""
    own = [cook for cook in cooks if cook.purpose == "benchmark"]
    values = []
    for attribute in ATTRIBUTES:
        known = [value for cook in own if (value := _value(attribute, cook)) is not None]
        if known:
            sd = float(np.std(known, ddof=1)) if len(known) > 1 else None
            values.append(BenchmarkValue(attribute, float(np.mean(known)), sd, len(known)))
    ages = [cook.serving_age_s for cook in own if cook.serving_age_s is not None]
    remarks = []
    if len(own) < ENOUGH_COOKS:
        remarks.append(f"The benchmark was cooked {len(own)} times; {ENOUGH_COOKS} cooks show its own spread.")
    if len(ages) < len(own):
        remarks.append(f"The serving age of {len(own) - len(ages)} benchmark cooks is unknown.")
    if ages and max(ages) > LATE_SERVING_S:
        remarks.append(f"A benchmark was served {max(ages):g} s after cooking: compare at the age at which the dish is served.")
    return BenchmarkSummary(len(own), tuple(values), (min(ages), max(ages)) if ages else None, tuple(remarks))


def _value(attribute: str, cook: TestCook) -> float | None:
    if attribute == "core_temperature_c":
        return min(cook.readings_c) if cook.readings_c else None
    return cook.cook_loss_pct if attribute == "cook_loss_pct" else cook.panel_mean(attribute)
