from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.store.databases import BACKENDS, empty_database


@pytest.fixture(params=BACKENDS)
def any_url(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[str]:
    """Address of an empty database, on every kind of database."""
    with empty_database(request.param, tmp_path) as address:
        yield address


@pytest.fixture
def file_url(tmp_path: Path) -> str:
    """Address of a database file that is made when opened."""
    return f"sqlite:///{tmp_path / 'store.sqlite'}"
