"""One step of a release's version: read what it rests on, refuse what may not follow, write the new state."""

from __future__ import annotations

from collections.abc import Sequence

from tuner.domain import NotAllowed
from tuner.domain.release import NEXT_STATES, ReleaseState
from tuner.services.loading import read_development
from tuner.services.release_material import Material, material_of
from tuner.services.release_reading import STATE, ReleaseView, one_version
from tuner.store import RecordEntry, UnitOfWork


def material_now(work: UnitOfWork, release_id: str) -> Material:
    """What a version rests on, as it is in this transaction.

    Raises
    ------
    NotFound
        If there is no such release, or none this customer may see.
    """
    version = one_version(work, release_id)
    return material_of(work, read_development(work, version.development_id), version)


def refuse_step(version: ReleaseView, state: ReleaseState) -> None:
    """Refuse a step that may not follow.

    Raises
    ------
    NotAllowed
        If the version's state does not lead there.
    """
    if state not in NEXT_STATES[version.state]:
        allowed = ", ".join(NEXT_STATES[version.state]) or "nothing: it has ended"
        raise NotAllowed(f"Version {version.number} is {version.state} and can't become {state}. What may follow: {allowed}.")


def refuse_gaps(gaps: Sequence[str], what: str) -> None:
    """Refuse with every gap told.

    Raises
    ------
    NotAllowed
        If there is a gap.
    """
    if gaps:
        raise NotAllowed(f"{what}:\n" + "\n".join(f"- {gap}" for gap in gaps))


def move(work: UnitOfWork, development_id: str, release_id: str, state: ReleaseState, reason: str) -> None:
    """Write the new state of a version."""
    entry = RecordEntry(STATE, {"state": state, "reason": reason}, f"{release_id} {state}", about=release_id)
    work.records.add(work.developments.one(development_id), entry)
