"""A process killed while it writes: everything it answered as saved is there, and nothing half."""

from __future__ import annotations

import contextlib
import multiprocessing
import random
import sqlite3

import pytest

from tests.faults.writer import write_until_killed
from tuner.store import Store

KILLS = {"sqlite": 50, "postgresql": 8}

_processes = multiprocessing.get_context("forkserver")
_processes.set_forkserver_preload(["tests.faults.writer"])


def write_and_be_killed(url: str, first: int, rng: random.Random) -> list[str]:
    """Client ids the process answered as saved before it was killed at a random moment of its work."""
    here, there = _processes.Pipe(duplex=False)
    child = _processes.Process(target=write_until_killed, args=(url, first, there))
    child.start()
    there.close()
    said = [here.recv() for _ in range(rng.randrange(1, 6))]
    for _ in range(rng.randrange(60_000)):  # a moment that falls anywhere inside the next write, without a clock
        pass
    child.kill()
    child.join()
    child.close()
    with contextlib.suppress(EOFError, OSError):  # what stood in the pipe was answered as well; a message cut short was not
        while True:
            said.append(here.recv())
    here.close()
    return said


def kept_client_ids(url: str) -> tuple[set[str], set[str]]:
    """Client ids of cooks and of corrections that a fresh process finds; the chain must hold."""
    store = Store.open(url)
    with store.read(None) as reading:
        assert reading.audit.first_broken() is None
        rows = [cook for kept in reading.developments.all() for cook in reading.cooks.of_development(kept.id)]
        assert reading.audit.count() == 4 + len(rows)
    store.close()
    corrections = {row.stamp.client_id.removesuffix("-corrected") for row in rows if row.corrects}
    return {row.stamp.client_id for row in rows if not row.corrects}, corrections


@pytest.mark.slow
@pytest.mark.faults
@pytest.mark.timeout(1200)
def test_everything_answered_as_saved_is_there_and_nothing_half(any_url: str):
    rng = random.Random(7)
    said: set[str] = set()
    kills = KILLS[any_url.split(":", 1)[0]]
    for kill in range(kills):
        said.update(write_and_be_killed(any_url, kill * 1000, rng))
        if kill % 10 == 9 or kill == kills - 1:
            cooks, corrections = kept_client_ids(any_url)
            assert said <= cooks
            assert cooks == corrections
    assert len(said) > kills
    if any_url.startswith("sqlite"):
        connection = sqlite3.connect(any_url.removeprefix("sqlite:///"))
        assert connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        assert connection.execute("PRAGMA foreign_key_check").fetchall() == []
        connection.close()
