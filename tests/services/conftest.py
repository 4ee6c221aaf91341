from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path

import pytest

from tests.services.invented import Clock
from tests.store.databases import copied_database, empty_database
from tuner.services import Workspace, open_workspace
from tuner.services.memory import Memory
from tuner.store import Store


@pytest.fixture(scope="session")
def template(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """A database at the newest schema and closed: copying it is quicker than migrating anew."""
    with empty_database("sqlite", tmp_path_factory.mktemp("template")) as url:
        Store.open(url).close()
        yield url


@pytest.fixture(scope="session")
def memories() -> dict[str, Memory]:
    """What was computed for one test is remembered for the next: answers depend on nothing but their key."""
    return {"learned": Memory(64), "assessments": Memory(512), "feasibilities": Memory(128)}


@pytest.fixture
def clock() -> Clock:
    return Clock()


@contextmanager
def opened(template: str, clock: Clock, folder: Path, memories: dict[str, Memory]) -> Iterator[Workspace]:
    with copied_database("sqlite", template, folder) as url:
        space = replace(open_workspace(url, clock=clock), **memories)
        yield space
        space.close()


@pytest.fixture
def space(template: str, clock: Clock, tmp_path: Path, memories: dict[str, Memory]) -> Iterator[Workspace]:
    """An empty workspace whose clock the test sets."""
    with opened(template, clock, tmp_path, memories) as made:
        yield made


@pytest.fixture
def other_space(template: str, clock: Clock, tmp_path: Path, memories: dict[str, Memory]) -> Iterator[Workspace]:
    """A second, empty workspace."""
    folder = tmp_path / "other"
    folder.mkdir()
    with opened(template, clock, folder, memories) as made:
        yield made
