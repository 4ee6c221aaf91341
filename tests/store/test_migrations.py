"""Migrations: up, down and up again with a row in every table, on every database; the schema is what the tables say."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import Engine, inspect, text

from tests.store.databases import empty_database
from tests.store.test_audit import fill
from tuner.domain import StoreProblem
from tuner.store import Store
from tuner.store.connecting import make_engine
from tuner.store.migrating import HEAD, migrate, migration_config
from tuner.store.schema import APPEND_ONLY, Base

SCRIPTS = ScriptDirectory.from_config(migration_config())
REVISIONS = [script.revision for script in reversed(list(SCRIPTS.walk_revisions()))]


@pytest.fixture
def bare_url(backend: str, tmp_path: Path) -> Iterator[str]:
    with empty_database(backend, tmp_path) as address:
        yield address


@pytest.fixture
def engine(bare_url: str) -> Iterator[Engine]:
    made, _ = make_engine(bare_url)
    yield made
    made.dispose()


def guards(engine: Engine) -> set[tuple[str, str]]:
    """(table, trigger) of every trigger in the database."""
    query = (
        "SELECT tbl_name, name FROM sqlite_master WHERE type = 'trigger'"
        if engine.dialect.name == "sqlite"
        else "SELECT c.relname, t.tgname FROM pg_trigger t JOIN pg_class c ON c.oid = t.tgrelid WHERE NOT t.tgisinternal"
    )
    with engine.connect() as connection:
        return {(table, name) for table, name in connection.execute(text(query))}


def test_the_newest_revision_is_the_one_the_store_expects():
    assert SCRIPTS.get_current_head() == HEAD
    assert REVISIONS[-1] == HEAD


def test_the_migrated_schema_is_the_one_of_the_tables(engine: Engine):
    migrate(engine, "head")
    with engine.connect() as connection:
        context = MigrationContext.configure(connection, opts={"compare_type": True})
        assert compare_metadata(context, Base.metadata) == []


def test_every_table_carries_its_guards(engine: Engine):
    migrate(engine, "head")
    found = guards(engine)
    assert {table for table, _ in found} == set(APPEND_ONLY) | {"person"}
    if engine.dialect.name == "sqlite":
        expected = {f"append_only_{table}_{kind}" for table in APPEND_ONLY for kind in ("update", "delete", "replace")}
        expected |= {"name_only_person", "keep_person", "keep_person_replace"}
    else:
        expected = {f"append_only_{table}" for table in APPEND_ONLY} | {"name_only_person", "keep_person"}
    assert {name for _, name in found} == expected


def test_up_down_and_up_again_with_a_row_in_every_table(engine: Engine, bare_url: str):
    store = Store.open(bare_url)
    fill(store)
    store.close()
    with engine.connect() as connection:
        for table in Base.metadata.sorted_tables:
            assert connection.execute(text(f"SELECT count(*) FROM {table.name}")).scalar_one() >= 1, table.name
    before = guards(engine)
    for revision in reversed([None, *REVISIONS[:-1]]):
        migrate(engine, revision or "base", down=True)
    assert set(inspect(engine).get_table_names()) <= {"alembic_version"}
    assert guards(engine) == set()
    again = Store.open(bare_url)
    fill(again)
    with again.read(None) as reading:
        assert reading.audit.first_broken() is None
    again.close()
    assert guards(engine) == before


def test_opening_again_changes_nothing(bare_url: str):
    for _ in range(2):
        store = Store.open(bare_url)
        fill(store)
        with store.read(None) as reading:
            assert reading.audit.count() == 11
        store.close()


def test_a_migration_that_fails_half_way_leaves_nothing_behind(engine: Engine, monkeypatch: pytest.MonkeyPatch):
    from tuner.store import triggers

    def broken(dialect: str, table: str, keys: object) -> Iterator[str]:
        yield f"CREATE TRIGGER broken ON {table} nonsense"

    monkeypatch.setattr(triggers, "guard_statements", broken)
    with pytest.raises(Exception, match="nonsense"):
        migrate(engine, "head")
    assert inspect(engine).get_table_names() == []
    monkeypatch.undo()
    migrate(engine, "head")
    assert set(Base.metadata.tables) <= set(inspect(engine).get_table_names())


def test_a_database_of_a_newer_tool_is_refused(engine: Engine, bare_url: str):
    migrate(engine, "head")
    with engine.begin() as connection:
        connection.execute(text("UPDATE alembic_version SET version_num = '9999'"))
    with pytest.raises(StoreProblem, match="written by a newer one"):
        Store.open(bare_url)


def test_a_database_of_something_else_is_refused_and_left_alone(engine: Engine, bare_url: str):
    with engine.begin() as connection:
        connection.execute(text("CREATE TABLE invoices (id int)"))
    with pytest.raises(StoreProblem, match=r"something else \(invoices\)"):
        Store.open(bare_url)
    assert inspect(engine).get_table_names() == ["invoices"]
