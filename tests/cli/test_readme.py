"""What the README says to type works as it says."""

import contextlib
import io
import re
import shlex

import pytest

from tuner.cli import main
from tuner.cli.serving import served_folder

ROOT = served_folder()
README = (ROOT / "README.md").read_text(encoding="utf-8")


def blocks(language):
    return re.findall(rf"```{language}\n(.*?)```", README, flags=re.DOTALL)


def typed_commands():
    """Commands of the walk, in their order, as they are typed after `tuner`."""
    text = "\n".join(block for block in blocks("sh") if "tuner status" in block or "tuner check" in block)
    lines = re.sub(r"\\\n\s*", " ", text).splitlines()
    return [shlex.split(line, comments=True)[1:] for line in lines if line.startswith(".venv/bin/tuner ")]


@pytest.fixture
def checkout(tmp_path, monkeypatch):
    """A folder that holds the demo as a clone does, and the settings that the walk makes."""
    (tmp_path / "trials_demo").symlink_to(ROOT / "trials_demo")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("TUNER_DB", "walk.sqlite")
    monkeypatch.setenv("TUNER_USER", "R. Osei")
    return tmp_path


@pytest.mark.slow
def test_the_walk_on_the_command_line_goes_from_a_brief_to_a_proven_recipe(checkout, capsys):
    walked = typed_commands()
    assert {command[0] for command in walked} >= {"demo", "check", "start", "next", "decide", "log", "status"}
    said = {}
    for command in walked:
        assert main(command) == 0, (command, capsys.readouterr().err)
        said.setdefault(command[0], []).append(capsys.readouterr().out)
    assert "✕ NOT SAFE: do not taste" in said["log"][0]
    assert "● safe to taste" in said["log"][-1]
    assert re.search(r"● proven, 3 confirmations passed, 3 needed", said["status"][-1])


@pytest.mark.slow
def test_the_calls_from_python_run_as_they_stand(monkeypatch):
    monkeypatch.chdir(ROOT)
    (code,) = blocks("python")
    heard = io.StringIO()
    with contextlib.redirect_stdout(heard), open(ROOT / "trials_demo" / "demo.json") as demo:
        exec(code.replace('open("trials_demo/demo.json")', "demo"), {"demo": demo})
    assert "safe_to_taste" in heard.getvalue()


def test_every_command_that_the_readme_names_is_there(capsys):
    named = set(re.findall(r"`tuner ([a-z]+)", README)) - {"--help"}
    assert main(["--help"]) == 0
    listed = set(re.findall(r"^ {4}([a-z]+) ", capsys.readouterr().out, flags=re.MULTILINE))
    assert named <= listed


def test_the_two_commands_stand_in_the_readme_as_the_gates_run_them():
    text = "\n".join(blocks("sh"))
    assert "python3 -m venv .venv && .venv/bin/pip install -e . && .venv/bin/tuner demo --open" in text
    assert ".venv/bin/pip install -e '.[dev]' && .venv/bin/pytest" in text
