from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.store.databases import BACKENDS, copied_database, empty_database
from tuner.store import Store


@pytest.fixture(params=BACKENDS, scope="session")
def backend(request: pytest.FixtureRequest) -> str:
    """Every kind of database."""
    return str(request.param)


@pytest.fixture(scope="session")
def template(backend: str, tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """A database at the newest schema and closed: copying it is quicker than migrating anew."""
    with empty_database(backend, tmp_path_factory.mktemp("template")) as url:
        Store.open(url).close()
        yield url


@pytest.fixture
def url(backend: str, template: str, tmp_path: Path) -> Iterator[str]:
    """Address of a database at the newest schema, on every kind of database."""
    with copied_database(backend, template, tmp_path) as address:
        yield address


@pytest.fixture
def store(url: str) -> Iterator[Store]:
    opened = Store.open(url)
    yield opened
    opened.close()
