"""Everything kept as a file, and back."""

from __future__ import annotations

from tuner.services.actor import Actor
from tuner.services.restoring import restore
from tuner.services.snapshots import snapshot_of
from tuner.services.views import ImportReport
from tuner.services.workspace import Workspace


def export_json(space: Workspace, who: Actor, *, development_id: str | None = None) -> bytes:
    """Everything this person may see, or one development, as JSON that comes back to the same state.

    Raises
    ------
    NotFound
        If there is no such development, or none this person may see.
    """
    from tuner.exchange import write_json

    with space.store.read(who.customer) as reading:
        snapshot = snapshot_of(reading, development_id)
    return write_json(snapshot)


def export_csv(space: Workspace, who: Actor, *, development_id: str | None = None) -> bytes:
    """Everything this person may see, or one development, as one tidy table.

    Raises
    ------
    NotFound
        If there is no such development, or none this person may see.
    """
    with space.store.read(who.customer) as reading:
        snapshot = snapshot_of(reading, development_id)

    from tuner.exchange import write_tidy_csv

    return write_tidy_csv(snapshot)


def import_json(space: Workspace, who: Actor, *, data: bytes) -> ImportReport:
    """Take an export back, all or nothing; what is there already is not taken twice.

    Raises
    ------
    Conflict
        If an id in it is used here for something else.
    InvalidDocument
        If it is no export.
    NotAllowed
        If it holds another customer's things, unsafe tastings that are no history, or a limit that its developer may not set.
    """
    from tuner.exchange import read_json

    document = read_json(data)
    with space.store.unit_of_work(space.context(who)) as work:
        report = restore(work, who, document)
        work.commit()
    return report
