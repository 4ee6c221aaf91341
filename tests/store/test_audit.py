"""The audit trail: one entry for each row, chained, and no row ever changed."""

from __future__ import annotations

import sqlite3
from pathlib import Path

import pytest
from sqlalchemy import inspect, text
from sqlalchemy.exc import DBAPIError

from tests.store.invented import OVEN, PROGRAM, brief, context, cook_entry, proposal_entry
from tuner.store import RecordEntry, Store
from tuner.store.connecting import make_engine
from tuner.store.schema import APPEND_ONLY, Base


def fill(store: Store) -> str:
    """One row in every table."""
    with store.unit_of_work(context()) as work:
        oven = work.ovens.add(OVEN, client_id="o", customer=None)
        development_id = work.developments.start(brief(), client_id="d", customer=None, oven_id=oven.id).id
        development = work.developments.one(development_id)
        work.cooks.add(development, cook_entry("c"))
        proposal = work.proposals.issue(development, proposal_entry("p"))
        work.proposals.decide(proposal.id, "change", "less air", PROGRAM, client_id="d")
        work.developments.change_state(development_id, "closed", "done", client_id="s")
        work.mappings.remember("layout", {"a": 1}, client_id="m", customer=None)
        work.records.add(development, RecordEntry("recipe", {"yield": 12}, client_id="r"))
        work.files.keep(development, b"picture", media_type="image/jpeg")
        work.derived.put("assessment", development_id, "h", "{}")
        work.commit()
    return development_id


def test_every_row_has_its_entry_with_who_when_what_and_why(store: Store):
    development_id = fill(store)
    with store.read(None) as reading:
        entries = reading.audit.entries()
    assert [(entry.sequence, entry.what, entry.subject_kind) for entry in entries] == [
        (1, "add oven", "oven"),
        (2, "describe oven", "oven_version"),
        (3, "start development", "development"),
        (4, "write brief", "brief_version"),
        (5, "log cook", "cook"),
        (6, "issue proposal", "proposal"),
        (7, "change proposal", "decision"),
        (8, "mark closed", "development_state"),
        (9, "remember mapping", "import_mapping"),
        (10, "record recipe", "record"),
        (11, "keep file", "kept_file"),
    ]
    assert {entry.by for entry in entries} == {"Ann"}
    assert [entry.reason for entry in entries if entry.reason] == ["less air", "done"]
    assert [entry.development_id for entry in entries] == [
        None,
        None,
        *[development_id] * 6,
        None,
        *[development_id] * 2,
    ]


def test_the_chain_holds_and_tells_its_head(store: Store):
    fill(store)
    with store.read(None) as reading:
        entries = reading.audit.entries()
        assert reading.audit.first_broken() is None
        assert reading.audit.head() == (11, entries[-1].entry_hash)
        assert [entry.previous_hash for entry in entries[1:]] == [entry.entry_hash for entry in entries[:-1]]


def tables_without_guard(url: str, statement: str) -> list[str]:
    """Tables on which a statement is not refused."""
    engine, _ = make_engine(url)
    let_through = []
    for table in [*APPEND_ONLY, "person"]:
        key = "sequence" if table == "audit" else "id"
        try:
            with engine.begin() as connection:
                connection.execute(text(statement.format(table=table, key=key)))
        except DBAPIError as error:
            if "append-only" not in str(error.orig):
                raise
        else:
            let_through.append(table)
    engine.dispose()
    return let_through


@pytest.mark.parametrize("statement", ["UPDATE {table} SET {key} = {key}", "DELETE FROM {table}"])
def test_no_row_can_be_changed_or_removed(store: Store, url: str, statement: str):
    fill(store)
    expected = ["person"] if statement.startswith("UPDATE") else []  # an update that changes nothing of a person
    assert tables_without_guard(url, statement) == expected


def test_no_row_can_be_replaced_on_sqlite_or_truncated_on_postgresql(store: Store, url: str):
    fill(store)
    if url.startswith("sqlite"):
        assert tables_without_guard(url, "REPLACE INTO {table} SELECT * FROM {table}") == []
    else:
        assert tables_without_guard(url, "TRUNCATE {table} CASCADE") == []


def test_replacing_by_another_unique_key_is_refused_even_with_foreign_settings(tmp_path: Path):
    path = tmp_path / "store.sqlite"
    store = Store.open(f"sqlite:///{path}")
    fill(store)
    store.close()
    other = sqlite3.connect(path)  # another program, without our settings
    other.row_factory = sqlite3.Row
    row = dict(other.execute("SELECT * FROM brief_version").fetchone()) | {"id": "new", "sequence": 2}
    marks = ", ".join("?" for _ in row)
    with pytest.raises(sqlite3.IntegrityError, match="append-only"):
        other.execute(f"REPLACE INTO brief_version ({', '.join(row)}) VALUES ({marks})", list(row.values()))
    other.close()


def test_of_a_person_the_name_alone_can_be_removed_and_the_chain_still_holds(store: Store, url: str):
    fill(store)
    engine, _ = make_engine(url)
    with pytest.raises(DBAPIError, match="only the name"), engine.begin() as connection:
        connection.execute(text("UPDATE person SET id = 'x'"))
    with engine.begin() as connection:
        connection.execute(text("UPDATE person SET name = NULL"))
    engine.dispose()
    with store.read(None) as reading:
        assert reading.audit.first_broken() is None
        assert {entry.by for entry in reading.audit.entries()} == {"(name removed)"}
        assert reading.developments.all()[0].stamp.by == "(name removed)"


TAMPERING = {
    "an entry was changed": (("UPDATE audit SET what = 'nothing' WHERE sequence = 5",), 5),
    "a time was moved": (("UPDATE audit SET at = '2020-01-01 00:00:00+00' WHERE sequence = 3",), 3),
    "a row and its entry were removed": (
        ("DELETE FROM cook WHERE sequence = 5", "DELETE FROM audit WHERE sequence = 5"),
        6,
    ),
    "an entry was rewritten with its own hash": (("UPDATE audit SET entry_hash = content_hash WHERE sequence = 9",), 9),
}


@pytest.mark.parametrize(("statements", "found"), TAMPERING.values(), ids=TAMPERING)
def test_whoever_gets_past_the_guards_breaks_the_chain(store: Store, url: str, statements: tuple[str, ...], found: int):
    fill(store)
    engine, _ = make_engine(url)
    with engine.begin() as connection:
        for table in ("audit", "cook"):
            if engine.dialect.name == "postgresql":
                connection.execute(text(f"DROP TRIGGER append_only_{table} ON {table}"))
                continue
            for kind in ("update", "delete", "replace"):
                connection.execute(text(f"DROP TRIGGER append_only_{table}_{kind}"))
        for statement in statements:
            connection.execute(text(statement))
    engine.dispose()
    with store.read(None) as reading:
        assert reading.audit.first_broken() == found


def test_every_table_but_the_derived_answers_and_the_bookkeeping_is_guarded(store: Store, url: str):
    engine, _ = make_engine(url)
    tables = set(inspect(engine).get_table_names())
    engine.dispose()
    assert tables == set(Base.metadata.tables) | {"alembic_version"}
    assert set(APPEND_ONLY) | {"person", "derived"} == set(Base.metadata.tables)
