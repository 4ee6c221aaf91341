"""Proposals."""

from __future__ import annotations

from collections.abc import Sequence

from tuner.domain import Forecast, Program
from tuner.services.actor import Actor
from tuner.services.views import Decision, ProposalRecord
from tuner.services.workspace import Workspace


def next_proposals(
    space: Workspace, who: Actor, *, development_id: str, count: int = 1, seed: int | None = None
) -> tuple[ProposalRecord, ...]:
    """Next."""
    raise NotImplementedError


def decide_proposal(
    space: Workspace,
    who: Actor,
    *,
    proposal_id: str,
    decision: Decision,
    reason: str,
    program: Program | None = None,
    client_id: str | None = None,
) -> ProposalRecord:
    """Decide."""
    raise NotImplementedError


def first_day_plan(space: Workspace, who: Actor, *, development_id: str, count: int = 6) -> tuple[ProposalRecord, ...]:
    """Plan the first day."""
    raise NotImplementedError


def what_if(space: Workspace, who: Actor, *, development_id: str, program: Program) -> Forecast:
    """What if."""
    raise NotImplementedError


def forecast_programs(
    space: Workspace, who: Actor, *, development_id: str, programs: Sequence[Program]
) -> tuple[Forecast, ...]:
    """Forecast."""
    raise NotImplementedError
