"""Databases made for one test each, on SQLite and, where a server answers, on PostgreSQL."""

from __future__ import annotations

import shutil
import uuid
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path

import psycopg
import pytest

SERVER = "postgresql://postgres@127.0.0.1:5432"


@cache
def why_no_server() -> str:
    """Empty where a PostgreSQL server answers, else why not."""
    try:
        psycopg.connect(f"{SERVER}/postgres", connect_timeout=2).close()
    except psycopg.OperationalError as error:
        return str(error).splitlines()[0]
    return ""


@contextmanager
def postgres_database(template: str = "template1") -> Iterator[str]:
    """Address of a database that lives as long as the block; empty, or a copy of `template`."""
    if why_no_server():
        pytest.skip(f"needs a PostgreSQL server at {SERVER} that trusts user postgres: {why_no_server()}")
    name = f"tuner_test_{uuid.uuid4().hex[:12]}"
    with psycopg.connect(f"{SERVER}/postgres", autocommit=True) as server:
        server.execute(f"CREATE DATABASE {name} TEMPLATE {template}")
        try:
            yield f"{SERVER}/{name}"
        finally:
            server.execute(f"DROP DATABASE {name} WITH (FORCE)")


@contextmanager
def empty_database(backend: str, folder: Path) -> Iterator[str]:
    """Address of an empty database of a kind."""
    if backend == "sqlite":
        yield f"sqlite:///{folder / 'store.sqlite'}"
    else:
        with postgres_database() as url:
            yield url


@contextmanager
def copied_database(backend: str, template: str, folder: Path) -> Iterator[str]:
    """Address of a copy of a closed database."""
    if backend == "sqlite":
        copy = folder / "store.sqlite"
        shutil.copyfile(template.removeprefix("sqlite:///"), copy)
        yield f"sqlite:///{copy}"
    else:
        with postgres_database(template.rsplit("/", 1)[1]) as url:
            yield url


BACKENDS = ("sqlite", pytest.param("postgresql", marks=pytest.mark.postgres))
