"""A development whose first programs were taken, so that cook sheets can be issued for them."""

from __future__ import annotations

from typing import Any

from tests.services.invented import ANN, brief, oven
from tuner import services
from tuner.services import Workspace
from tuner.services.cook_sheets import CookSheetRecord, issue_cook_sheet


def taken(space: Workspace, count: int = 4, **changes: Any) -> str:
    """Id of a development with so many taken proposals."""
    kept = services.add_oven(space, ANN, oven=oven())
    development = services.start_development(space, ANN, brief=brief(**changes), oven_id=kept.id).id
    for record in services.first_day_plan(space, ANN, development_id=development)[:count]:
        services.decide_proposal(space, ANN, proposal_id=record.id, decision="accept", reason="taken")
    return development


def sheets(space: Workspace, development: str, count: int = 1, **how: Any) -> list[CookSheetRecord]:
    """Cook sheets for its first taken proposals."""
    pending = services.view_development(space, ANN, development_id=development).pending_proposals
    return [issue_cook_sheet(space, ANN, proposal_id=record.id, **how) for record in pending[:count]]


def signed(sheet: CookSheetRecord) -> dict[str, str]:
    """Headers that open a sheet."""
    return {"X-Oven-Page": "1", "X-Sheet-Signature": sheet.fragment.split("&s=")[1]}
