"""Bringing a database to the newest schema."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from sqlalchemy import Connection, Engine, inspect, text

from tuner.domain import StoreProblem

if TYPE_CHECKING:
    from alembic.config import Config

HEAD = "0002"
"""Newest revision; a test holds it against the migrations."""

_VERSION_TABLE = "alembic_version"


def migration_config(connection: Connection | None = None) -> Config:
    """Alembic's settings for our migrations, working on `connection`."""
    from alembic.config import Config

    config = Config()
    config.set_main_option("script_location", str(Path(__file__).parent / "migrations"))
    config.attributes["connection"] = connection
    return config


def revision_of(connection: Connection) -> str | None:
    """Revision of the schema in a database, None where there is none yet."""
    if not inspect(connection).has_table(_VERSION_TABLE):
        return None
    return connection.execute(text(f"SELECT version_num FROM {_VERSION_TABLE}")).scalar_one_or_none()


def bring_to_head(engine: Engine) -> None:
    """Upgrade to the newest schema, all or nothing; two programs that do so at once take turns.

    Raises
    ------
    StoreProblem
        If the database was written by a newer version of the tool, or holds something else.
    """
    with engine.connect().execution_options(read_only=True) as connection, connection.begin():
        found = revision_of(connection)
        if found is None:
            _refuse_foreign_tables(connection)
    if found != HEAD:
        migrate(engine, "head")


def migrate(engine: Engine, target: str, *, down: bool = False) -> None:
    """Move the schema up, or down, to the revision `target`, all or nothing.

    Raises
    ------
    StoreProblem
        If the database was written by a newer version of the tool, or rows would be left without what they point to.
    """
    from alembic import command
    from alembic.util import CommandError

    with engine.connect() as connection, _without_foreign_keys(connection), connection.begin():
        config = migration_config(connection)
        try:
            (command.downgrade if down else command.upgrade)(config, target)
        except CommandError as error:
            raise StoreProblem(
                f"The database has schema {revision_of(connection)!r}, which this version of the tool does not know. "
                "It was written by a newer one. Update the tool, then open it again."
            ) from error
        _refuse_orphans(connection)


class _without_foreign_keys:  # noqa: N801
    """Foreign keys off around a migration: rebuilding a table on SQLite would remove its children.

    The setting does nothing inside a transaction, so it is made outside.
    """

    def __init__(self, connection: Connection) -> None:
        self._sqlite = connection.dialect.name == "sqlite"
        self._connection = connection

    def __enter__(self) -> None:
        self._set("OFF")

    def __exit__(self, *details: object) -> None:
        self._set("ON")

    def _set(self, value: str) -> None:
        if self._sqlite:
            self._connection.connection.cursor().execute(f"PRAGMA foreign_keys={value}")


def _refuse_orphans(connection: Connection) -> None:
    if connection.dialect.name == "sqlite" and connection.exec_driver_sql("PRAGMA foreign_key_check").fetchall():
        raise StoreProblem(
            "After the change of schema some rows would point to nothing. The change was taken back and nothing is lost. "
            "Restore a backup, or ask for help with this database."
        )


def _refuse_foreign_tables(connection: Connection) -> None:
    tables = set(inspect(connection).get_table_names()) - {_VERSION_TABLE}
    if tables:
        raise StoreProblem(
            f"The database holds tables of something else ({', '.join(sorted(tables)[:3])}). "
            "Work is kept in a database of its own. Name another file or another database."
        )
