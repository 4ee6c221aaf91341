"""Ovens: added, listed, described anew."""

from __future__ import annotations

from tuner.domain import Oven
from tuner.services.actor import Actor
from tuner.services.texts import given_or_made_id
from tuner.services.views import OvenRecord
from tuner.services.workspace import Workspace
from tuner.store import KeptOven, document_text


def add_oven(space: Workspace, who: Actor, *, oven: Oven, client_id: str | None = None) -> OvenRecord:
    """Add an oven.

    Raises
    ------
    Conflict
        If the client's id was used before with another oven.
    """
    with space.store.unit_of_work(space.context(who)) as work:
        added = work.ovens.add(oven, client_id=given_or_made_id(client_id), customer=who.customer)
        kept = work.ovens.current(added.id)
        work.commit()
    return _record(kept)


def list_ovens(space: Workspace, who: Actor) -> tuple[OvenRecord, ...]:
    """The ovens this person may see, in the order they were added."""
    with space.store.read(who.customer) as reading:
        kept = reading.ovens.all()
    return tuple(_record(oven) for oven in kept)


def edit_oven(space: Workspace, who: Actor, *, oven_id: str, oven: Oven, client_id: str | None = None) -> OvenRecord:
    """Describe an oven anew: a new version; what was cooked and proposed before keeps the version it was made with.

    Raises
    ------
    Conflict
        If somebody else was faster, or the client's id was used before with another description.
    NotFound
        If there is no such oven, or none this person may see.
    """
    with space.store.unit_of_work(space.context(who)) as work:
        versions = work.ovens.versions(oven_id)
        known = any(version.stamp.client_id == client_id for version in versions)
        if known or document_text(versions[-1].oven) != document_text(oven):
            work.ovens.add_version(oven_id, oven, client_id=given_or_made_id(client_id), number=versions[-1].version + 1)
        kept = work.ovens.current(oven_id)
        work.commit()
    return _record(kept)


def _record(kept: KeptOven) -> OvenRecord:
    return OvenRecord(kept.id, kept.oven, kept.version, kept.customer)
