"""A kitchen at the command line: a workspace with the demo, and what a command answers."""

import json
import shutil
from types import SimpleNamespace

import pytest

from tuner.cli import main


@pytest.fixture(scope="session")
def _demo_file(tmp_path_factory):
    path = tmp_path_factory.mktemp("demo") / "tuner.sqlite"
    for typed in (["demo", "--no-serve"], ["status"]):  # the list keeps its assessments: computed once for all tests
        assert main([*typed, "--json", "--db", str(path), "--as", "tests"]) == 0
    return path


@pytest.fixture
def folder(tmp_path, monkeypatch):
    """An empty folder, standing in it; nobody else's settings."""
    for name in ("TUNER_DB", "TUNER_USER", "TUNER_DEBUG"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("TUNER_USER", "R. Osei")
    monkeypatch.setenv("COLUMNS", "120")
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.fixture
def demo(folder, _demo_file):
    """A folder whose workspace holds the demo."""
    shutil.copy(_demo_file, folder / "tuner.sqlite")
    return folder


@pytest.fixture
def tuner(capsys):
    """Run one command: exit code, what it said and what it complained about."""

    def run(*typed):
        capsys.readouterr()
        code = main([str(word) for word in typed])
        heard = capsys.readouterr()
        return SimpleNamespace(code=code, out=heard.out, err=heard.err)

    return run


@pytest.fixture
def answer(tuner):
    """Run one command with `--json` that must succeed: its answer."""

    def run(*typed):
        heard = tuner(*typed, "--json")
        assert (heard.code, heard.err) == (0, "")
        return json.loads(heard.out)

    return run


@pytest.fixture
def refusal(tuner):
    """Run one command with `--json` that must not succeed: its one error object."""

    def run(*typed):
        heard = tuner(*typed, "--json")
        assert heard.out == ""
        error = json.loads(heard.err)["error"]
        assert error["exit_code"] == heard.code
        return error

    return run


@pytest.fixture
def rows(folder, answer):
    """Rows of cooks kept for a dish, as an export tells them (nothing is computed for it)."""

    def read(dish="kofta"):
        answer("export", "-o", "kept.json")
        developments = json.loads((folder / "kept.json").read_text())["developments"]
        return next(one["cooks"] for one in developments if dish in one["brief_versions"][-1]["brief"]["dish"])

    return read
