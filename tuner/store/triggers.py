"""Triggers that keep rows as they were written. They stop accidents; the hash chain of the audit shows the rest.

SQLite rebuilds a table in batch migrations and drops its triggers without a word: call `guard_statements` again after
every such step.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

_REFUSE = "append-only: rows of {table} are never changed or removed; write a new row that points to the old one"

POSTGRES_FUNCTIONS = (
    """
    CREATE OR REPLACE FUNCTION tuner_refuse_change() RETURNS trigger LANGUAGE plpgsql AS $body$
    BEGIN
        RAISE EXCEPTION 'append-only: rows of % are never changed or removed; write a new row that points to the old one',
            TG_TABLE_NAME USING ERRCODE = 'restrict_violation';
    END $body$
    """,
    """
    CREATE OR REPLACE FUNCTION tuner_refuse_all_but_name() RETURNS trigger LANGUAGE plpgsql AS $body$
    BEGIN
        IF NEW.id IS DISTINCT FROM OLD.id OR NEW.customer IS DISTINCT FROM OLD.customer THEN
            RAISE EXCEPTION 'append-only: of a person only the name may be changed' USING ERRCODE = 'restrict_violation';
        END IF;
        RETURN NEW;
    END $body$
    """,
)
DROP_POSTGRES_FUNCTIONS = (
    "DROP FUNCTION IF EXISTS tuner_refuse_change() CASCADE",
    "DROP FUNCTION IF EXISTS tuner_refuse_all_but_name() CASCADE",
)


def guard_statements(dialect: str, table: str, keys: Sequence[Sequence[str]]) -> Iterator[str]:
    """SQL that lets rows of `table` be added and read only.

    Parameters
    ----------
    dialect
        `sqlite` or `postgresql`.
    table
        Name of the table.
    keys
        Every set of columns that identifies a row. On SQLite `REPLACE INTO` removes a row that has such a key in common
        without firing the delete trigger, so an insert with a known key is refused before it gets that far.
    """
    if dialect == "postgresql":
        yield (
            f"CREATE TRIGGER append_only_{table} BEFORE UPDATE OR DELETE OR TRUNCATE ON {table} "
            "FOR EACH STATEMENT EXECUTE FUNCTION tuner_refuse_change()"
        )
        return
    refuse = f"BEGIN SELECT RAISE(ABORT, '{_REFUSE.format(table=table)}'); END"
    yield f"CREATE TRIGGER append_only_{table}_update BEFORE UPDATE ON {table} {refuse}"
    yield f"CREATE TRIGGER append_only_{table}_delete BEFORE DELETE ON {table} {refuse}"
    same = " OR ".join("(" + " AND ".join(f"{column} = NEW.{column}" for column in key) + ")" for key in keys)
    yield (
        f"CREATE TRIGGER append_only_{table}_replace BEFORE INSERT ON {table} "
        f"WHEN EXISTS (SELECT 1 FROM {table} WHERE {same}) {refuse}"
    )


def person_statements(dialect: str) -> Iterator[str]:
    """SQL that lets the name of a person be changed, and nothing else of it."""
    if dialect == "postgresql":
        yield (
            "CREATE TRIGGER name_only_person BEFORE UPDATE ON person FOR EACH ROW EXECUTE FUNCTION tuner_refuse_all_but_name()"
        )
        yield (
            "CREATE TRIGGER keep_person BEFORE DELETE OR TRUNCATE ON person "
            "FOR EACH STATEMENT EXECUTE FUNCTION tuner_refuse_change()"
        )
        return
    yield (
        "CREATE TRIGGER name_only_person BEFORE UPDATE ON person WHEN NEW.id IS NOT OLD.id OR NEW.customer IS NOT OLD.customer "
        "BEGIN SELECT RAISE(ABORT, 'append-only: of a person only the name may be changed'); END"
    )
    refuse = f"BEGIN SELECT RAISE(ABORT, '{_REFUSE.format(table='person')}'); END"
    yield f"CREATE TRIGGER keep_person BEFORE DELETE ON person {refuse}"
    yield (
        "CREATE TRIGGER keep_person_replace BEFORE INSERT ON person "
        f"WHEN EXISTS (SELECT 1 FROM person WHERE id = NEW.id) {refuse}"
    )
