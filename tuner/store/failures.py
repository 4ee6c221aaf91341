"""What a database says when it can't, turned into sentences for a person, in this one place."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from sqlalchemy.exc import DBAPIError, IntegrityError, SQLAlchemyError
from sqlalchemy.exc import TimeoutError as PoolTimeout

from tuner.domain import Conflict, StoreProblem, TunerError

_SAVED_NOTHING = "Nothing was saved now; what was saved before is safe."

_LOCKED = f"The database is in use by another program or person and did not become free in time. {_SAVED_NOTHING} Try again."
_FULL = f"The disk of the database is full. {_SAVED_NOTHING} Free some space, then try again."
_READ_ONLY = f"The database can only be read. {_SAVED_NOTHING} Open it where it may be written, or ask who keeps it."
_NOT_A_DATABASE = (
    "The file is not a database of this tool, or it is damaged. Nothing was changed. Check the address, or restore a backup."
)
_GONE = f"The connection to the database was lost. {_SAVED_NOTHING} Check that the database server runs, then try again."
_CANT_OPEN = "The database file can't be opened. Nothing was changed. Check that it is where the address says and may be read."
_REFUSED = "The database refused the sign-in. Nothing was changed. Check user, password and name in the address."
_NO_DATABASE = "There is no database of that name on the server. Nothing was changed. Make it first, or correct the address."
_BUSY_SERVER = f"The database server takes no more connections. {_SAVED_NOTHING} Try again in a moment."

_SQLITE = {
    "SQLITE_BUSY": _LOCKED,
    "SQLITE_LOCKED": _LOCKED,
    "SQLITE_FULL": _FULL,
    "SQLITE_IOERR": f"The disk of the database could not be read or written. {_SAVED_NOTHING} Check the disk, then try again.",
    "SQLITE_READONLY": _READ_ONLY,
    "SQLITE_NOTADB": _NOT_A_DATABASE,
    "SQLITE_CORRUPT": _NOT_A_DATABASE,
    "SQLITE_CANTOPEN": _CANT_OPEN,
    "SQLITE_PERM": _CANT_OPEN,
}
_POSTGRES = {
    "55P03": _LOCKED,
    "40001": _LOCKED,
    "40P01": _LOCKED,
    "57014": _LOCKED,
    "53100": _FULL,
    "53200": _FULL,
    "53300": _BUSY_SERVER,
    "25006": _READ_ONLY,
    "42501": _READ_ONLY,
    "3D000": _NO_DATABASE,
    "28P01": _REFUSED,
    "28000": _REFUSED,
    "57P01": _GONE,
    "57P02": _GONE,
    "57P03": _GONE,
}


def in_words(error: SQLAlchemyError) -> TunerError:
    """The error for a person that stands for a database error."""
    if isinstance(error, PoolTimeout):
        return StoreProblem(_BUSY_SERVER)
    if isinstance(error, IntegrityError):
        return _collision(error)
    if isinstance(error, DBAPIError):
        return StoreProblem(_sentence(error))
    return StoreProblem(f"The database could not do that ({type(error).__name__}). {_SAVED_NOTHING} Try again.")


def _collision(error: IntegrityError) -> TunerError:
    if "append-only" in str(error.orig):
        return Conflict(
            "A row that was kept already would have been changed. Rows are never changed. "
            "Load the newest state and send the change as a new version or correction."
        )
    return Conflict("Somebody else saved a change to the same thing first. Load the newest state and make the change again.")


def _sentence(error: DBAPIError) -> str:
    name = getattr(error.orig, "sqlite_errorname", None) or ""
    known = next((text for start, text in _SQLITE.items() if name == start or name.startswith(f"{start}_")), None)
    state = getattr(error.orig, "sqlstate", None) or ""
    known = known or _POSTGRES.get(state) or _while_connecting(error)
    if known is None and (error.connection_invalidated or state.startswith("08") or "connection" in str(error.orig).lower()):
        known = _GONE
    if known is not None:
        return known
    return f"The database could not do that ({name or state or type(error.orig).__name__}). {_SAVED_NOTHING} Try again."


def _while_connecting(error: DBAPIError) -> str | None:
    """PostgreSQL gives no code while connecting, only words."""
    said = str(error.orig)
    if "database" in said and "does not exist" in said:
        return _NO_DATABASE
    if "authentication failed" in said or ("role" in said and "does not exist" in said):
        return _REFUSED
    return None


@contextmanager
def told_in_words() -> Iterator[None]:
    """Turn every database error inside the block into one that may be shown.

    Raises
    ------
    Conflict
        If a key exists already, or a kept row would have been changed.
    StoreProblem
        For every other trouble with the database.
    """
    try:
        yield
    except SQLAlchemyError as error:
        raise in_words(error) from error
