"""Ovens."""

from __future__ import annotations

from tuner.domain import Oven
from tuner.services.actor import Actor
from tuner.services.views import OvenRecord
from tuner.services.workspace import Workspace


def add_oven(space: Workspace, who: Actor, *, oven: Oven, client_id: str | None = None) -> OvenRecord:
    """Add."""
    raise NotImplementedError


def list_ovens(space: Workspace, who: Actor) -> tuple[OvenRecord, ...]:
    """List."""
    raise NotImplementedError


def edit_oven(space: Workspace, who: Actor, *, oven_id: str, oven: Oven, client_id: str | None = None) -> OvenRecord:
    """Edit."""
    raise NotImplementedError
