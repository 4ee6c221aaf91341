"""A process that writes until it is killed; it tells the client id of each cook after it was answered as saved."""

from __future__ import annotations

from multiprocessing.connection import Connection

from tests.store.invented import OVEN, brief, context, cook, cook_entry
from tuner.store import Store


def write_until_killed(url: str, first: int, told: Connection) -> None:
    """Write pairs of rows that belong together, a cook and its correction: half a pair must never be found."""
    store = Store.open(url)
    with store.unit_of_work(context()) as work:
        oven = work.ovens.add(OVEN, client_id="o", customer=None)
        development = work.developments.start(brief(), client_id="d", customer=None, oven_id=oven.id)
        work.commit()
    for index in range(first, first + 1_000_000):
        with store.unit_of_work(context()) as work:
            kept = work.developments.one(development.id)
            added = work.cooks.add(kept, cook_entry(f"c{index}", cook=cook(note=f"cook {index}")))
            work.cooks.add(kept, cook_entry(f"c{index}-corrected", corrects=added.id, reason="second look"))
            work.commit()
        told.send(f"c{index}")
