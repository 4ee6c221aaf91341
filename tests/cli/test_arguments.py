"""What can be typed."""

import json

import pytest

from tuner.cli import main
from tuner.cli.arguments import build_parser
from tuner.cli.entry import _handler


def commands():
    parser = build_parser()
    group = next(action for action in parser._actions if action.dest == "command")
    return group.choices


def test_every_command_of_the_tool_is_there():
    wanted = {"demo", "open", "start", "import", "log", "next", "forecast", "status", "export", "rehearse"}
    assert wanted <= set(commands())


@pytest.mark.parametrize("name", sorted(commands()))
def test_every_command_has_a_handler_and_a_help_page(name, capsys):
    parser = commands()[name]
    assert callable(_handler(parser.get_default("run")))
    with pytest.raises(SystemExit) as caught:
        parser.parse_args(["--help"])
    assert caught.value.code == 0
    assert "--json" in capsys.readouterr().out


@pytest.mark.parametrize("typed", [["--json", "status"], ["status", "--json"], ["--json", "status", "--json"]])
def test_json_is_accepted_before_and_after_the_command(typed):
    assert build_parser().parse_args(typed).json is True


def test_a_shared_option_before_the_command_is_not_wiped_by_the_command():
    arguments = build_parser().parse_args(["--db", "a.sqlite", "--as", "R. Osei", "status"])
    assert (arguments.db, arguments.actor) == ("a.sqlite", "R. Osei")
    assert build_parser().parse_args(["--db", "a.sqlite", "status", "--db", "b.sqlite"]).db == "b.sqlite"


@pytest.mark.parametrize(
    "typed", [[], ["cook"], ["start"], ["open", "--port", "0"], ["next", "--count", "21"], ["status", "--jso"]]
)
def test_what_is_typed_wrongly_ends_with_2_and_one_line(typed, capsys):
    assert main(typed) == 2
    heard = capsys.readouterr()
    assert heard.out == ""
    assert heard.err.startswith("tuner")
    assert heard.err.count("\n") == 1


def test_with_json_a_usage_error_is_one_json_object(capsys):
    assert main(["start", "--json"]) == 2
    error = json.loads(capsys.readouterr().err)["error"]
    assert (error["kind"], error["exit_code"]) == ("Usage", 2)
    assert "BRIEF.json" in error["message"]


def test_help_and_version_end_with_0(capsys):
    assert main(["--help"]) == 0
    assert "exit codes" in capsys.readouterr().out
    assert main(["--version"]) == 0
