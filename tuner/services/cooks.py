"""Cooks."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from tuner.domain import Score, TestCook
from tuner.services.actor import Actor
from tuner.services.views import CookPreview, CookRecord
from tuner.services.workspace import Workspace


def preview_cook(
    space: Workspace, who: Actor, *, development_id: str, cook: TestCook, may_taste: Mapping[str, bool] | None = None
) -> CookPreview:
    """Preview."""
    raise NotImplementedError


def log_cook(
    space: Workspace,
    who: Actor,
    *,
    development_id: str,
    cook: TestCook,
    may_taste: Mapping[str, bool] | None = None,
    client_id: str | None = None,
) -> CookRecord:
    """Log."""
    raise NotImplementedError


def correct_cook(
    space: Workspace,
    who: Actor,
    *,
    development_id: str,
    cook_id: str,
    cook: TestCook,
    reason: str,
    may_taste: Mapping[str, bool] | None = None,
    client_id: str | None = None,
) -> CookRecord:
    """Correct."""
    raise NotImplementedError


def add_scores(
    space: Workspace,
    who: Actor,
    *,
    development_id: str,
    cook_id: str,
    scores: Sequence[Score],
    may_taste: Mapping[str, bool],
    client_id: str | None = None,
) -> CookRecord:
    """Add scores."""
    raise NotImplementedError
