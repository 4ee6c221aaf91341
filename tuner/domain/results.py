"""What the calls answer: forecasts, proposals, assessments and the like. All frozen, all with a JSON form."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from tuner.domain.model import Model, Number, Text, Whole
from tuner.domain.program import Program

Chance = Number
"""A probability, 0 to 1."""


class AttributeForecast(Model):
    """One attribute of one further cook.

    `mean` and `spread` (one standard deviation) are of what would be measured; `chance_inside` is of that measurement
    passing, `chance_true_inside` of the truth behind it. Both chances are None where the brief has no window.
    """

    mean: Number
    spread: Number = Field(ge=0)
    chance_inside: Chance | None = Field(default=None, ge=0, le=1)
    chance_true_inside: Chance | None = Field(default=None, ge=0, le=1)


class Forecast(Model):
    """What the model expects of a program for a portion; all five attributes are always there."""

    program: Program
    attributes: dict[str, AttributeForecast]
    chance_all_inside: Chance = Field(ge=0, le=1)
    chance_safe: Chance = Field(ge=0, le=1)


ProposalPurpose = Literal["first_guess", "search", "confirm"]


class Proposal(Model):
    """A program to cook next, with its purpose, forecast and reasons (short sentences for a chef)."""

    program: Program
    purpose: ProposalPurpose
    forecast: Forecast
    reasons: tuple[Text, ...]


Status = Literal["gathering", "candidate", "confirming", "proven", "stalled"]


class Confirmations(Model):
    """Passing cooks after the first passing one, and how many are needed."""

    passed: Whole = Field(ge=0)
    needed: Whole = Field(ge=0)


class Assessment(Model):
    """Where a development stands and what to do next."""

    status: Status
    best_program: Program | None
    confirmations: Confirmations
    chance_reliable: Chance = Field(ge=0, le=1)
    cooks_left_estimate: Number | None = None
    cooks_left_range: tuple[Number, Number] | None = None
    advice: tuple[Text, ...]


class Feasibility(Model):
    """Whether a brief can be met, before any cook."""

    possible: Literal["yes", "doubtful", "no"]
    pass_chance: Chance = Field(ge=0, le=1)
    obstacles: tuple[Text, ...] = ()
    relaxations: tuple[Text, ...] = ()


class Translation(Model):
    """A program moved to another oven, on that oven's steps, with the error that comes with it."""

    program: Program
    core_shift_c: Number
    spread_c: Number = Field(ge=0)
    reasons: tuple[Text, ...]


class PlanPart(Model):
    """One part of a proof plan."""

    name: Text
    cooks: Whole = Field(ge=0)
    condition: Text


class ProofPlan(Model):
    """The confirmation cooks and statistics that a candidate must pass."""

    strength: Literal["light", "standard", "full"]
    cooks: Whole = Field(ge=0)
    days: Whole = Field(ge=1)
    ovens: Whole = Field(ge=1)
    parts: tuple[PlanPart, ...]
    chance_to_accept: dict[float, Chance]


VerdictStatus = Literal["safe_to_taste", "not_safe", "unknown"]


class Verdict(Model):
    """What the readings allow. Unknown is handled as not safe."""

    status: VerdictStatus
    reasons: tuple[Text, ...]

    @property
    def may_taste(self) -> bool:
        """Whether the temperature side allows tasting; allergens are asked separately."""
        return self.status == "safe_to_taste"


class Caution(Model):
    """A warning in our words, with its code and the places where it must appear."""

    code: Text
    text: Text
    places: tuple[Text, ...]


__all__ = [
    "Assessment",
    "AttributeForecast",
    "Caution",
    "Chance",
    "Confirmations",
    "Feasibility",
    "Forecast",
    "PlanPart",
    "ProofPlan",
    "Proposal",
    "ProposalPurpose",
    "Status",
    "Translation",
    "Verdict",
    "VerdictStatus",
]
