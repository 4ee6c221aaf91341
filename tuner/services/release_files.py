"""A release as a file: exported, and checked again wherever it comes back."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import UTC, datetime
from typing import TYPE_CHECKING

from tuner.domain import NotAllowed
from tuner.domain.release import ReleaseState
from tuner.services.actor import Actor
from tuner.services.people import KIND as ACCOUNT
from tuner.services.release_reading import one_version, versions_of
from tuner.services.workspace import Workspace

if TYPE_CHECKING:
    from tuner.exchange.release_file import FileCheck


@dataclass(frozen=True, slots=True)
class KnownHere:
    """A checked file against what is kept here: its state now, and the version in force in its place if it is another."""

    check: FileCheck
    state: ReleaseState | None
    in_force: int | None


def export_release(space: Workspace, who: Actor, *, release_id: str) -> bytes:
    """The file of a release, with the exact text that was signed: the same release gives the same bytes.

    Raises
    ------
    NotAllowed
        If it is not signed by everybody who must.
    NotFound
        If there is no such release, or none this person may see.
    """
    from tuner.exchange.release_file import write_release_file

    with space.store.read(who.customer) as reading:
        version = one_version(reading, release_id)
    if version.text is None or version.waits_for:
        waiting = ", ".join(version.waits_for) or "its sealing"
        raise NotAllowed(f"Version {version.number} waits for {waiting}. A file is made of a release that is signed.")
    return write_release_file(version.text, version.signatures)


def verify_file(data: bytes, *, now: datetime | None = None, known_keys: tuple[str, ...] | None = None) -> FileCheck:
    """Check a release file by itself: no store, no network."""
    from tuner.exchange.release_file import check_release_file

    return check_release_file(data, now=now or datetime.now(UTC), known_keys=known_keys)


def check_file(space: Workspace, who: Actor, *, data: bytes) -> KnownHere:
    """Check a release file against the keys and releases kept here: is it whole, ours, in force."""
    from tuner.exchange.release_file import check_release_file

    with space.store.read(None) as reading:
        keys = {str(row.content["public_key"]) for row in reading.records.of_kind(ACCOUNT)}
    check = check_release_file(data, now=space.clock(), known_keys=keys)
    if not check.whole or check.document is None:
        return KnownHere(check, None, None)
    with space.store.read(who.customer) as reading:
        versions = versions_of(reading, check.document.development_id)
    mine = next((version for version in versions if version.sha256 == check.sha256), None)
    current = next((version.number for version in reversed(versions) if version.in_force), None)
    warnings = list(check.warnings)
    if mine is None:
        warnings.append("This release is not kept here, so whether it is still in force can't be told.")
    elif not mine.in_force:
        now = f" Version {current} is in force." if current is not None else ""
        warnings.append(f"This version is {mine.state}. Do not cook from it.{now}")
    return KnownHere(replace(check, warnings=tuple(warnings)), None if mine is None else mine.state, current)
