"""Locked, full, read-only, moved, damaged, gone: refused with a sentence that says what to do, and nothing lost."""

from __future__ import annotations

import os
import shutil
import sqlite3
from collections.abc import Callable
from pathlib import Path

import psycopg
import pytest
from sqlalchemy import event

from tests.store.databases import postgres_database
from tests.store.invented import OVEN, brief, context, cook, cook_entry
from tuner.domain import StoreProblem
from tuner.store import Store, connecting

pytestmark = pytest.mark.faults


def path_of(url: str) -> Path:
    return Path(url.removeprefix("sqlite:///"))


def filled(url: str) -> tuple[Store, str]:
    store = Store.open(url)
    with store.unit_of_work(context()) as work:
        oven = work.ovens.add(OVEN, client_id="o", customer=None)
        added = work.developments.start(brief(), client_id="d", customer=None, oven_id=oven.id)
        work.commit()
    return store, added.id


def log(store: Store, development_id: str, client_id: str, note: str = "") -> None:
    with store.unit_of_work(context()) as work:
        work.cooks.add(work.developments.one(development_id), cook_entry(client_id, cook=cook(note=note)))
        work.commit()


def logged(store: Store, development_id: str) -> list[str]:
    with store.read(None) as reading:
        assert reading.audit.first_broken() is None
        return [row.stamp.client_id for row in reading.cooks.of_development(development_id)]


def refused(action: Callable[[], object], says: str) -> None:
    with pytest.raises(StoreProblem, match=says):
        action()


def test_a_locked_file_is_waited_for_then_refused(file_url: str, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(connecting, "BUSY_TIMEOUT_MS", 50)
    store, development_id = filled(file_url)
    log(store, development_id, "before")
    other = sqlite3.connect(path_of(file_url), isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    refused(lambda: log(store, development_id, "meanwhile"), "in use by another program.*Try again")
    assert logged(store, development_id) == ["before"]  # reading goes on
    other.execute("ROLLBACK")
    other.close()
    log(store, development_id, "after")
    assert logged(store, development_id) == ["before", "after"]
    store.close()


def test_a_full_disk_refuses_the_write_and_loses_nothing(file_url: str):
    store, development_id = filled(file_url)
    with sqlite3.connect(path_of(file_url)) as other:
        limit = other.execute("PRAGMA page_count").fetchone()[0] + 12
    other.close()

    @event.listens_for(store._engine, "begin")
    def no_more_pages(connection) -> None:
        connection.exec_driver_sql(f"PRAGMA max_page_count={limit}")

    said: list[str] = []

    def log_until_full() -> None:
        for index in range(1000):
            log(store, development_id, f"c{index}", "x" * 3000)
            said.append(f"c{index}")

    refused(log_until_full, r"disk of the database is full.*Free some space")
    assert len(said) >= 3
    assert logged(store, development_id) == said
    store.close()
    again = Store.open(file_url)
    log(again, development_id, "space again")
    assert logged(again, development_id) == [*said, "space again"]
    again.close()


def test_a_read_only_database_can_be_read_and_says_so_when_written(file_url: str):
    store, development_id = filled(file_url)
    log(store, development_id, "before")
    store.close()
    reader = Store.open(f"{file_url}?mode=ro")
    assert logged(reader, development_id) == ["before"]
    refused(lambda: log(reader, development_id, "meanwhile"), "can only be read.*Open it where it may be written")
    assert logged(reader, development_id) == ["before"]
    reader.close()


@pytest.mark.parametrize("how", ["moved", "removed", "replaced"])
def test_a_file_moved_away_takes_no_more_writes(file_url: str, tmp_path: Path, how: str):
    store, development_id = filled(file_url)
    log(store, development_id, "before")
    elsewhere = tmp_path / "elsewhere.sqlite"
    if how == "moved":
        path_of(file_url).rename(elsewhere)
    elif how == "removed":
        path_of(file_url).unlink()
    else:
        shutil.copyfile(path_of(file_url), elsewhere)
        os.replace(elsewhere, path_of(file_url))
    refused(lambda: log(store, development_id, "meanwhile"), "was moved, removed or replaced while it was open")
    refused(lambda: logged(store, development_id), "was moved, removed or replaced while it was open")
    if how == "moved":
        elsewhere.rename(path_of(file_url))
        log(store, development_id, "back again")
        assert logged(store, development_id) == ["before", "back again"]
    store.close()
    if how == "removed":
        assert not path_of(file_url).exists()  # not made anew and empty


def test_a_file_that_is_no_database_is_refused_and_left_alone(file_url: str):
    path_of(file_url).write_bytes(b"Dish;Core\nChicken;76,4\n" * 400)
    before = path_of(file_url).read_bytes()
    refused(lambda: Store.open(file_url), "not a database of this tool, or it is damaged")
    assert path_of(file_url).read_bytes() == before


def test_a_damaged_file_is_refused(file_url: str):
    store, _ = filled(file_url)
    store.close()
    raw = bytearray(path_of(file_url).read_bytes())
    raw[100:8000] = bytes(7900)
    path_of(file_url).write_bytes(bytes(raw))
    refused(lambda: Store.open(file_url), "damaged.*restore a backup")


@pytest.mark.postgres
class TestPostgresql:
    def test_a_locked_database_is_waited_for_then_refused(self, monkeypatch: pytest.MonkeyPatch):
        monkeypatch.setattr(connecting, "BUSY_TIMEOUT_MS", 50)
        with postgres_database() as url:
            store, development_id = filled(url)
            with psycopg.connect(url) as other:
                other.execute(f"SELECT pg_advisory_xact_lock({connecting.WRITERS_LOCK})")
                refused(lambda: log(store, development_id, "meanwhile"), "in use by another program.*Try again")
                assert logged(store, development_id) == []
            log(store, development_id, "after")
            assert logged(store, development_id) == ["after"]
            store.close()

    def test_a_lost_connection_is_told_and_the_next_write_works(self):
        with postgres_database() as url:
            store, development_id = filled(url)

            def cut_in_the_middle() -> None:
                with store.unit_of_work(context()) as work:
                    kept = work.developments.one(development_id)
                    with psycopg.connect(url, autocommit=True) as other:
                        other.execute(
                            "SELECT pg_terminate_backend(pid) FROM pg_stat_activity "
                            "WHERE datname = current_database() AND pid <> pg_backend_pid()"
                        )
                    work.cooks.add(kept, cook_entry("meanwhile"))
                    work.commit()

            refused(cut_in_the_middle, "connection to the database was lost")
            log(store, development_id, "after")
            assert logged(store, development_id) == ["after"]
            store.close()
