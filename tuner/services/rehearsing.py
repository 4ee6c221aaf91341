"""Rehearsals, demo and cautions."""

from __future__ import annotations

from collections.abc import Callable

from tuner.domain import Caution
from tuner.services.actor import Actor
from tuner.services.views import RehearsalReport
from tuner.services.workspace import Workspace


def load_demo(space: Workspace, who: Actor) -> int:
    """Load."""
    raise NotImplementedError


def rehearse(
    *, kitchen: str | int, seed: int = 0, budget: int = 30, progress: Callable[[int, str], None] | None = None
) -> RehearsalReport:
    """Rehearse."""
    raise NotImplementedError


def rehearsal_names() -> tuple[str, ...]:
    """Names."""
    raise NotImplementedError


def cautions(place: str) -> tuple[Caution, ...]:
    """Cautions."""
    raise NotImplementedError
