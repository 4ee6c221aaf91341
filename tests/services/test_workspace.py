"""Opening work: where it is kept, and that it is shared by threads."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime
from pathlib import Path

import pytest

from tests.services.invented import ANN, cook, oven, started
from tuner.domain import InvalidDocument, StoreProblem
from tuner.services import Actor, add_oven, list_developments, list_ovens, log_cook, open_workspace, view_development


def test_without_an_address_the_variable_counts_else_a_file_here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("TUNER_DB", raising=False)
    open_workspace().close()
    assert (tmp_path / "tuner.sqlite").is_file()
    monkeypatch.setenv("TUNER_DB", f"sqlite:///{tmp_path / 'named.sqlite'}")
    open_workspace().close()
    assert (tmp_path / "named.sqlite").is_file()


def test_a_bare_path_is_a_file(tmp_path: Path):
    open_workspace(str(tmp_path / "bare.sqlite")).close()
    assert (tmp_path / "bare.sqlite").is_file()


def test_what_can_not_be_opened_is_told_in_words(tmp_path: Path):
    with pytest.raises(StoreProblem, match="does not exist"):
        open_workspace(str(tmp_path / "nowhere" / "a.sqlite"))


def test_the_clock_that_was_passed_in_tells_the_time_of_writes(space, clock):
    view = started(space)
    assert view.started_at == clock.now
    clock.forward(hours=2)
    record = log_cook(space, ANN, development_id=view.id, cook=cook(scores=None))
    assert record.logged_at == clock.now


def test_without_a_clock_the_system_tells_the_time_with_its_zone(tmp_path: Path):
    space = open_workspace(str(tmp_path / "a.sqlite"))
    before = datetime.now(UTC)
    view = started(space)
    assert before <= view.started_at <= datetime.now(UTC)
    space.close()


@pytest.mark.parametrize("name", ["", "   ", "x" * 201, "a\x00b"])
def test_a_person_needs_a_name_that_can_be_kept(name: str):
    with pytest.raises(InvalidDocument, match="name"):
        Actor(name)


def test_work_is_shared_by_threads(space):
    view = started(space)

    def work(index: int) -> None:
        add_oven(space, ANN, oven=oven(name=f"Oven {index}"))
        log_cook(space, ANN, development_id=view.id, cook=cook(scores=None), client_id=f"c{index}")
        list_ovens(space, ANN)
        view_development(space, ANN, development_id=view.id)
        list_developments(space, ANN)

    with ThreadPoolExecutor(6) as pool:
        list(pool.map(work, range(6)))
    assert len(list_ovens(space, ANN)) == 7
    cooks = view_development(space, ANN, development_id=view.id).cooks
    assert sorted(record.number for record in cooks) == list(range(1, 7))
