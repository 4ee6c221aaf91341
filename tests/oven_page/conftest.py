from __future__ import annotations

import warnings
from collections.abc import Iterator
from pathlib import Path

import pytest
from starlette.applications import Starlette

from tests.oven_page.orders import sheets, taken
from tests.services.invented import Clock
from tests.store.databases import copied_database, empty_database
from tuner.oven_page import oven_routes
from tuner.services import Workspace, open_workspace
from tuner.services.cook_sheets import CookSheetRecord

with warnings.catch_warnings():
    # Newer versions ask for the successor of httpx, older ones know only httpx.
    warnings.filterwarnings("ignore", message="Using `httpx`")
    from starlette.testclient import TestClient


@pytest.fixture(scope="session")
def template(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[str, str]]:
    """A closed database with a development whose programs were taken, and its id."""
    with empty_database("sqlite", tmp_path_factory.mktemp("orders")) as url:
        space = open_workspace(url, clock=Clock())
        development = taken(space)
        space.close()
        yield url, development


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def development(template: tuple[str, str]) -> str:
    return template[1]


@pytest.fixture
def space(template: tuple[str, str], clock: Clock, tmp_path: Path) -> Iterator[Workspace]:
    with copied_database("sqlite", template[0], tmp_path) as url:
        made = open_workspace(url, clock=clock)
        yield made
        made.close()


@pytest.fixture
def client(space: Workspace) -> Iterator[TestClient]:
    with TestClient(Starlette(routes=oven_routes(lambda: space)), raise_server_exceptions=False) as made:
        yield made


@pytest.fixture
def sheet(space: Workspace, development: str) -> CookSheetRecord:
    return sheets(space, development)[0]
