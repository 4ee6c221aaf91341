"""Every trouble of a database becomes one sentence that says what to do, and nothing of the machine."""

from __future__ import annotations

import sqlite3

import psycopg
import pytest
from sqlalchemy.exc import IntegrityError, InvalidRequestError, OperationalError
from sqlalchemy.exc import TimeoutError as PoolTimeout

from tuner.domain import Conflict, StoreProblem
from tuner.store.failures import in_words, told_in_words


def sqlite_error(name: str) -> OperationalError:
    raised = sqlite3.OperationalError("words of the database")
    raised.sqlite_errorname = name
    return OperationalError("SELECT secret", {}, raised)


def postgres_error(state: str) -> OperationalError:
    return OperationalError("SELECT secret", {}, psycopg.errors.lookup(state)("words of the server"))


SAID = {
    "SQLITE_BUSY": "in use",
    "SQLITE_BUSY_SNAPSHOT": "in use",
    "SQLITE_LOCKED": "in use",
    "SQLITE_FULL": "disk of the database is full",
    "SQLITE_IOERR_WRITE": "could not be read or written",
    "SQLITE_READONLY_DBMOVED": "can only be read",
    "SQLITE_NOTADB": "not a database of this tool",
    "SQLITE_CORRUPT": "damaged",
    "SQLITE_CANTOPEN": "can't be opened",
}
SAID_BY_SERVER = {
    "55P03": "in use",
    "40P01": "in use",
    "53100": "full",
    "53300": "no more connections",
    "25006": "can only be read",
    "28P01": "refused the sign-in",
    "3D000": "no database of that name",
    "57P01": "connection to the database was lost",
}


@pytest.mark.parametrize(("name", "says"), SAID.items(), ids=SAID)
def test_what_sqlite_says(name: str, says: str):
    assert_told(sqlite_error(name), says)


@pytest.mark.parametrize(("state", "says"), SAID_BY_SERVER.items(), ids=SAID_BY_SERVER)
def test_what_postgresql_says(state: str, says: str):
    assert_told(postgres_error(state), says)


def assert_told(error: OperationalError, says: str) -> None:
    told = in_words(error)
    assert isinstance(told, StoreProblem)
    assert says in str(told)
    assert "secret" not in str(told)
    assert "words of" not in str(told)
    assert "Nothing was" in str(told)


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ('FATAL:  database "x" does not exist', "no database of that name"),
        ('FATAL:  password authentication failed for user "x"', "refused the sign-in"),
        ('FATAL:  role "x" does not exist', "refused the sign-in"),
        ("connection to server failed: Connection refused", "connection to the database was lost"),
    ],
)
def test_while_connecting_the_server_gives_words_only(words: str, says: str):
    assert says in str(in_words(OperationalError("", {}, psycopg.OperationalError(words))))


def test_what_is_not_known_is_named_by_its_kind_alone():
    told = in_words(sqlite_error("SQLITE_TOOBIG"))
    assert "could not do that (SQLITE_TOOBIG)" in str(told)
    assert "InvalidRequestError" in str(in_words(InvalidRequestError("secret words")))
    assert "secret" not in str(in_words(InvalidRequestError("secret words")))


def test_no_free_connection_is_told():
    assert "no more connections" in str(in_words(PoolTimeout()))


def test_a_key_that_exists_is_a_conflict():
    duplicate = IntegrityError("", {}, sqlite3.IntegrityError("UNIQUE constraint failed: cook.id"))
    assert isinstance(in_words(duplicate), Conflict)
    guarded = IntegrityError("", {}, sqlite3.IntegrityError("append-only: rows of cook are never changed"))
    assert "never changed" in str(in_words(guarded))


def test_what_is_no_trouble_of_a_database_passes_as_it_is():
    with pytest.raises(KeyError), told_in_words():
        raise KeyError("mine")
