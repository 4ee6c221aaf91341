"""What the use cases of tasting sessions answer. Before a session is closed nothing in them tells which code is which."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tuner.proof.just_right import Penalties
    from tuner.proof.panel_results import AttributeResult, Drift


@dataclass(frozen=True, slots=True)
class TasterSheet:
    """One taster's blind order: codes, and which are marked already."""

    taster: str
    codes: tuple[str, ...]
    marked: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SampleIdentity:
    """Which cook stood behind a code."""

    code: str
    label: str
    cook_id: str
    cook_number: int
    kind: str


@dataclass(frozen=True, slots=True)
class BenchmarkDifference:
    """A sample less the hidden benchmark [marks], taster-corrected, with its standard error."""

    attribute: str
    label: str
    difference: float
    standard_error: float | None


@dataclass(frozen=True, slots=True)
class SessionResult:
    """A closed session, unblinded.

    Attributes
    ----------
    identities
        Which cook stood behind each code.
    attributes
        Results by attribute; samples carry labels.
    differences
        Every sample less the hidden benchmark.
    duplicate_sd
        Spread of blind duplicates by attribute [marks]; None without pairs.
    drifts
        Hidden benchmark against the sessions before, where there were any.
    penalties
        Drop in liking on each side of just right, by attribute; only where liking was asked.
    serving_age_s
        Mean serving age by label [s], where it was entered.
    remarks
        What must be said with the result.
    """

    identities: tuple[SampleIdentity, ...]
    attributes: tuple[AttributeResult, ...]
    differences: tuple[BenchmarkDifference, ...]
    duplicate_sd: Mapping[str, float | None]
    drifts: Mapping[str, Drift]
    penalties: Mapping[str, Penalties]
    serving_age_s: Mapping[str, float]
    remarks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SessionView:
    """A tasting session.

    Attributes
    ----------
    allergens, cautions
        To be read out before anybody tastes.
    not_tasting
        Tasters who said that they do not taste today; no reason is asked or kept.
    result
        None until it is closed.
    """

    id: str
    development_id: str
    planned_at: datetime
    planned_by: str
    attributes: tuple[str, ...]
    sheets: tuple[TasterSheet, ...]
    allergens: tuple[str, ...]
    cautions: tuple[str, ...]
    not_tasting: tuple[str, ...]
    closed_at: datetime | None
    closed_by: str | None
    result: SessionResult | None
