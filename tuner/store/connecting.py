"""Engines: how a database is connected to, so that what is answered as saved stays saved."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Callable
from pathlib import Path
from typing import Any
from urllib.parse import quote

from sqlalchemy import Connection, Engine, create_engine, event
from sqlalchemy.engine import URL, make_url
from sqlalchemy.exc import ArgumentError
from sqlalchemy.pool import QueuePool

from tuner.domain import StoreProblem

BUSY_TIMEOUT_MS = 5000
"""How long a write waits for another one before it gives up."""

_POOL = {"pool_size": 10, "max_overflow": 20, "pool_timeout": 30}
WRITERS_LOCK = 7_204_114
"""Key of the PostgreSQL advisory lock that makes writers take turns, as SQLite's own lock does."""


def make_engine(url: str) -> tuple[Engine, Callable[[], None]]:
    """Engine for a database address, and a check that the database is still the one opened.

    Parameters
    ----------
    url
        `sqlite:///path/to/file` (add `?mode=ro` to read only) or `postgresql://user@host/name`.

    Raises
    ------
    StoreProblem
        If the address is not understood, or the folder of the file is missing.
    """
    try:
        address = make_url(url)
    except ArgumentError as error:
        raise StoreProblem(
            f"{url!r} is not a database address. Use sqlite:///path/to/file or postgresql://user@host/name."
        ) from error
    kind = address.get_backend_name()
    if kind == "sqlite":
        return _sqlite(address)
    if kind == "postgresql":
        return _postgresql(address), lambda: None
    raise StoreProblem(
        f"Databases of kind {kind!r} are not supported. Use sqlite:///path/to/file or postgresql://user@host/name."
    )


def _postgresql(address: URL) -> Engine:
    try:
        engine = create_engine(
            address.set(drivername="postgresql+psycopg"),
            pool_pre_ping=True,
            connect_args={"options": f"-c lock_timeout={BUSY_TIMEOUT_MS} -c timezone=UTC"},
            **_POOL,
        )
    except ModuleNotFoundError as error:
        raise StoreProblem(
            "The PostgreSQL driver is not installed. A postgresql address needs the extra 'postgres'. "
            "Install the project with it: pip install -e '.[postgres]'."
        ) from error

    @event.listens_for(engine, "begin")
    def _begin(connection: Connection) -> None:
        if connection.get_execution_options().get("read_only"):
            connection.exec_driver_sql("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ READ ONLY")
        else:
            connection.exec_driver_sql(f"SELECT pg_advisory_xact_lock({WRITERS_LOCK})")

    return engine


def _sqlite(address: URL) -> tuple[Engine, Callable[[], None]]:
    path = _existing_file(address)
    mode = "ro" if address.query.get("mode") == "ro" else "rw"
    target = f"file:{quote(str(path))}?mode={mode}"

    def connect() -> sqlite3.Connection:
        # mode=rw: a file that was moved away must be missed, not silently made anew and empty.
        return sqlite3.connect(target, uri=True, isolation_level=None, check_same_thread=False, timeout=BUSY_TIMEOUT_MS / 1000)

    engine = create_engine("sqlite://", creator=connect, poolclass=QueuePool, **_POOL)
    still_there = _same_file(path)
    event.listen(engine, "connect", _set_pragmas)

    @event.listens_for(engine, "begin")
    def _begin(connection: Connection) -> None:
        still_there()
        # A read lock can't be upgraded while another writer waits, so writers say at once that they will write.
        read_only = connection.get_execution_options().get("read_only")
        connection.exec_driver_sql("BEGIN" if read_only else "BEGIN IMMEDIATE")

    return engine, still_there


def _existing_file(address: URL) -> Path:
    if not address.database or address.database == ":memory:":
        raise StoreProblem("sqlite:// names no file. Work is kept in a file. Use sqlite:///path/to/file.")
    path = Path(address.database).expanduser().absolute()
    if not path.parent.is_dir():
        raise StoreProblem(
            f"The folder {path.parent} does not exist. The database file is made inside it. Make the folder first."
        )
    if address.query.get("mode") != "ro":
        try:
            path.touch(exist_ok=True)
        except OSError as error:
            raise StoreProblem(
                f"The file {path} can't be opened for writing ({error.strerror}). Work is saved there. "
                "Give yourself write permission, or name another file."
            ) from error
    if not path.is_file():
        raise StoreProblem(f"{path} is not a file. Work is kept in a database file. Check the address.")
    return path


def _same_file(path: Path) -> Callable[[], None]:
    opened = os.stat(path)

    def check() -> None:
        """Refuse to go on when the opened file is no longer the one at its path: writes would be lost with it."""
        try:
            now = os.stat(path)
        except OSError:
            now = None
        if now is None or (now.st_dev, now.st_ino) != (opened.st_dev, opened.st_ino):
            raise StoreProblem(
                f"The database file {path} was moved, removed or replaced while it was open. Nothing was saved now. "
                "Put the file back, or start the tool again to open the file that is there."
            )

    return check


def _set_pragmas(connection: Any, record: object) -> None:  # noqa: ARG001
    cursor = connection.cursor()
    cursor.execute(f"PRAGMA busy_timeout={BUSY_TIMEOUT_MS}")
    try:
        cursor.execute("PRAGMA journal_mode=WAL")
    except sqlite3.OperationalError as error:
        # A file that can only be read keeps its mode; writes are refused later, with the reason.
        if not error.sqlite_errorname.startswith(("SQLITE_READONLY", "SQLITE_CANTOPEN")):
            raise
    for pragma in ("synchronous=FULL", "foreign_keys=ON", "recursive_triggers=ON"):
        cursor.execute(f"PRAGMA {pragma}")
    cursor.close()
