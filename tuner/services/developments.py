"""Developments."""

from __future__ import annotations

from tuner.domain import Assessment, Brief, Oven
from tuner.services.actor import Actor
from tuner.services.views import BriefCheck, DevelopmentSummary, DevelopmentView
from tuner.services.workspace import Workspace


def start_development(
    space: Workspace, who: Actor, *, brief: Brief, oven_id: str, client_id: str | None = None
) -> DevelopmentView:
    """Start."""
    raise NotImplementedError


def copy_development(
    space: Workspace, who: Actor, *, development_id: str, dish: str | None = None, client_id: str | None = None
) -> DevelopmentView:
    """Copy."""
    raise NotImplementedError


def edit_brief(
    space: Workspace,
    who: Actor,
    *,
    development_id: str,
    brief: Brief,
    expected_version: int | None = None,
    client_id: str | None = None,
) -> DevelopmentView:
    """Edit."""
    raise NotImplementedError


def close_development(
    space: Workspace, who: Actor, *, development_id: str, reason: str, client_id: str | None = None
) -> DevelopmentView:
    """Close."""
    raise NotImplementedError


def archive_development(
    space: Workspace, who: Actor, *, development_id: str, reason: str, client_id: str | None = None
) -> DevelopmentView:
    """Archive."""
    raise NotImplementedError


def reopen_development(
    space: Workspace, who: Actor, *, development_id: str, reason: str, client_id: str | None = None
) -> DevelopmentView:
    """Reopen."""
    raise NotImplementedError


def list_developments(space: Workspace, who: Actor, *, include_archived: bool = False) -> tuple[DevelopmentSummary, ...]:
    """List."""
    raise NotImplementedError


def view_development(space: Workspace, who: Actor, *, development_id: str) -> DevelopmentView:
    """View."""
    raise NotImplementedError


def assess_development(space: Workspace, who: Actor, *, development_id: str) -> Assessment:
    """Assess."""
    raise NotImplementedError


def check_brief(brief: Brief, oven: Oven) -> BriefCheck:
    """Check."""
    raise NotImplementedError


def brief_differences(old: Brief, new: Brief) -> tuple[str, ...]:
    """Say what changed."""
    raise NotImplementedError
