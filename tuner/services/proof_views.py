"""What the use cases of proof answer: plain, frozen, easy to print."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from tuner.domain import FixedPlan, PlanSlot

if TYPE_CHECKING:
    from tuner.proof.evaluation import PlanState


@dataclass(frozen=True, slots=True)
class PlanPreview:
    """A plan before it is fixed: what it takes, and what it lets through.

    Attributes
    ----------
    plan
        As it would be fixed.
    error_rates
        In words, a line each.
    hours
        Time at the oven and the thermometer [h], 12 minutes a cook.
    cooks_to_the_floor
        Cooks that a perfect program takes on average until the simple rule, the floor of every plan, is met.
    """

    plan: FixedPlan
    error_rates: tuple[str, ...]
    hours: float
    cooks_to_the_floor: float


@dataclass(frozen=True, slots=True)
class LeaveOut:
    """A cook that somebody wants left out of a plan, and whether a second person agreed."""

    id: str
    cook_id: str
    number: int
    cause: str
    asked_by: str
    agreed_by: str | None


@dataclass(frozen=True, slots=True)
class ResultRecord:
    """A recorded result of a plan.

    Attributes
    ----------
    stale
        Whether cooks, corrections or the brief have changed since.
    """

    id: str
    passed: bool
    complete: bool
    claim: str
    recorded_at: datetime
    recorded_by: str
    stale: bool


@dataclass(frozen=True, slots=True)
class ProofView:
    """One fixed plan and how it stands.

    Attributes
    ----------
    error_rates
        What each part lets through, in words.
    next_slots
        Cooks still to do, in the fixed order.
    leave_outs
        Cooks that were asked to be left out, agreed or not.
    other_plans
        How many further plans this development has, of whatever program.
    """

    id: str
    development_id: str
    plan: FixedPlan
    plan_hash: str
    fixed_at: datetime
    fixed_by: str
    error_rates: tuple[str, ...]
    state: PlanState
    next_slots: tuple[PlanSlot, ...]
    leave_outs: tuple[LeaveOut, ...]
    result: ResultRecord | None
    other_plans: int
