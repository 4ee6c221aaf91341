"""Many writers and readers at once, as threads of a served app."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor

from tests.store.invented import OVEN, brief, context, cook_entry
from tuner.store import Store

WRITERS, EACH = 6, 10


def started(store: Store) -> str:
    with store.unit_of_work(context()) as work:
        oven = work.ovens.add(OVEN, client_id="o", customer=None)
        added = work.developments.start(brief(), client_id="d", customer=None, oven_id=oven.id)
        work.commit()
    return added.id


def test_writers_take_turns_and_lose_nothing(store: Store):
    development_id = started(store)

    def write(writer: int) -> None:
        for index in range(EACH):
            with store.unit_of_work(context(f"writer {writer}")) as work:
                development = work.developments.one(development_id)
                work.cooks.add(development, cook_entry(f"{writer}-{index}"))
                work.commit()
            with store.read(None) as reading:
                reading.cooks.of_development(development_id)

    with ThreadPoolExecutor(WRITERS) as pool:
        for done in [pool.submit(write, writer) for writer in range(WRITERS)]:
            done.result()
    with store.read(None) as reading:
        kept = reading.cooks.of_development(development_id)
        assert sorted(cook.number for cook in kept) == list(range(1, WRITERS * EACH + 1))
        assert [cook.number for cook in kept] == sorted(cook.number for cook in kept)
        assert reading.audit.first_broken() is None
        assert reading.audit.count() == 4 + WRITERS * EACH


def test_the_same_cook_from_many_at_once_is_kept_once(store: Store):
    development_id = started(store)

    def write(_: int) -> bool:
        with store.unit_of_work(context()) as work:
            added = work.cooks.add(work.developments.one(development_id), cook_entry("same"))
            work.commit()
        return added.new

    with ThreadPoolExecutor(WRITERS) as pool:
        assert sorted(pool.map(write, range(WRITERS))) == [False] * (WRITERS - 1) + [True]


def test_two_programs_may_open_a_new_database_at_once(backend: str, tmp_path_factory):
    from tests.store.databases import empty_database

    with empty_database(backend, tmp_path_factory.mktemp("new")) as url, ThreadPoolExecutor(4) as pool:
        stores = list(pool.map(Store.open, [url] * 4))
        started(stores[0])
        for opened in stores:
            with opened.read(None) as reading:
                assert len(reading.developments.all()) == 1
            opened.close()
