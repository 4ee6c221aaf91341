"""Files."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tuner.services.actor import Actor
from tuner.services.views import ImportPreview, ImportReport
from tuner.services.workspace import Workspace

if TYPE_CHECKING:
    from tuner.exchange import ColumnMapping


def preview_import(
    space: Workspace, who: Actor, *, development_id: str, data: bytes, filename: str, mapping: ColumnMapping | None = None
) -> ImportPreview:
    """Preview."""
    raise NotImplementedError


def import_cooks(
    space: Workspace, who: Actor, *, development_id: str, data: bytes, filename: str, mapping: ColumnMapping
) -> ImportReport:
    """Import."""
    raise NotImplementedError


def export_json(space: Workspace, who: Actor, *, development_id: str | None = None) -> bytes:
    """Export."""
    raise NotImplementedError


def export_csv(space: Workspace, who: Actor, *, development_id: str | None = None) -> bytes:
    """Export."""
    raise NotImplementedError


def import_json(space: Workspace, who: Actor, *, data: bytes) -> ImportReport:
    """Import."""
    raise NotImplementedError
