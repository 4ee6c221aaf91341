"""An opened store with its clock and memory: what every use case works on."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime


@dataclass(slots=True)
class Workspace:
    """Opened work; made by `open_workspace`, safe to share between threads."""

    def close(self) -> None:
        """Let go of the store."""


def open_workspace(url: str | None = None, *, clock: Callable[[], datetime] | None = None) -> Workspace:
    """Open."""
    raise NotImplementedError
