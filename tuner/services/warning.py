"""Cautions, where each must appear."""

from __future__ import annotations

from tuner.domain import Caution


def cautions(place: str) -> tuple[Caution, ...]:
    """Cautions that must appear at a place.

    Raises
    ------
    InvalidDocument
        If there is no such place.
    """
    from tuner import safety

    return safety.cautions(place)
