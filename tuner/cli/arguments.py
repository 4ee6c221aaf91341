"""What can be typed: sub-commands and their options.

Every sub-command names its handler as text (`module:function`), so that `tuner --help` loads nothing but argparse.
`--json`, `--db`, `--as` and `--customer` are accepted before and after the sub-command.
"""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Sequence
from typing import Any, NoReturn

from tuner import __version__

USAGE_EXIT = 2
"""Exit code of a command that was typed wrongly."""

_EPILOG = """\
exit codes: 0 done, 1 refused or failed, 2 typed wrongly, 3 needs a confirmation
the workspace is --db, else $TUNER_DB, else the file tuner.sqlite in the current folder
"""


class Parser(argparse.ArgumentParser):
    """An argument parser that reports usage errors as one JSON object where `--json` was typed."""

    typed: Sequence[str] = ()

    def error(self, message: str) -> NoReturn:
        """Say what was typed wrongly and leave with the usage exit code."""
        if "--json" in Parser.typed:
            error = {"kind": "Usage", "message": f"{message}. See `{self.prog} --help`.", "exit_code": USAGE_EXIT}
            sys.stderr.write(json.dumps({"error": error}, ensure_ascii=False) + "\n")
        else:
            sys.stderr.write(f"{self.prog}: {message}. See `{self.prog} --help`.\n")
        raise SystemExit(USAGE_EXIT)


def _shared_options() -> Parser:
    """Options of every command; left unset unless typed, so that a sub-command does not wipe what came before it."""
    shared = Parser(add_help=False, argument_default=argparse.SUPPRESS)
    group = shared.add_argument_group("everywhere")
    group.add_argument("--json", action="store_true", help="answer as one JSON document, errors as one JSON object")
    group.add_argument("--db", metavar="URL", help="workspace: sqlite:///file, a file name, or postgresql://...")
    group.add_argument("--as", dest="actor", metavar="NAME", help="who you are (else $TUNER_USER, else your user name)")
    group.add_argument("--customer", metavar="NAME", help="see and write only this customer's developments")
    return shared


class _Commands:
    """Adds sub-commands that share the options of every command."""

    def __init__(self, parser: Parser, shared: Parser) -> None:
        self._shared = shared
        self._group = parser.add_subparsers(title="commands", dest="command", metavar="COMMAND", required=True)

    def add(self, name: str, run: str, text: str, *, development: bool = False) -> argparse.ArgumentParser:
        parser: argparse.ArgumentParser = self._group.add_parser(
            name, help=text, description=text, parents=[self._shared], allow_abbrev=False
        )
        parser.set_defaults(run=run)
        if development:
            add_development(parser)
        return parser


def add_development(parser: argparse.ArgumentParser) -> None:
    """Let a development be named by id, the beginning of an id, or its dish; the only open one needs no name."""
    parser.add_argument(
        "-d", "--development", metavar="DEVELOPMENT", help="id, beginning of the id, or dish; not needed where only one is open"
    )


def _whole(low: int, high: int) -> Any:
    def read(text: str) -> int:
        try:
            value = int(text)
        except ValueError:
            raise argparse.ArgumentTypeError(f"{text!r} is not a whole number; give {low} to {high}") from None
        if not low <= value <= high:
            raise argparse.ArgumentTypeError(f"{value} is outside {low} to {high}; give a number in that range")
        return value

    return read


def _add_serving(commands: _Commands) -> None:
    demo = commands.add("demo", "demo:run_demo", "load the invented demo and serve the app")
    served = commands.add("open", "demo:run_open", "serve the app on this workspace")
    demo.add_argument("--open", action="store_true", help="open a browser, where there is one")
    demo.add_argument("--no-serve", action="store_true", help="load the demo only")
    served.add_argument("--no-browser", action="store_true", help="print the address, open no browser")
    for parser in (demo, served):
        parser.add_argument(
            "--port", type=_whole(1, 65535), default=8501, help="first port to try (8501), then the next free one"
        )
        parser.add_argument("--host", default="127.0.0.1", help="address to listen at; 0.0.0.0 for phones in the kitchen")


def _add_confirmation(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--confirm", metavar="CODE", action="append", default=[], help="an unlikely value is meant: its code, or `all`"
    )


def _add_developing(commands: _Commands) -> None:
    start = commands.add("start", "developing:start", "start a development from a brief")
    check = commands.add("check", "developing:check", "say before any cook whether a brief can be met; nothing is saved")
    for parser in (start, check):
        parser.add_argument("brief", metavar="BRIEF.json", help="the brief; `-` reads it from standard input")
        parser.add_argument("--oven", required=True, metavar="OVEN", help="an oven's JSON file, or id or name of a kept one")
    _add_confirmation(start)
    status = commands.add("status", "developing:status", "who waits for whom; with a development, where it stands")
    status.add_argument("development", nargs="?", metavar="DEVELOPMENT", help="id, beginning of the id, or dish")
    status.add_argument("--all", action="store_true", help="archived ones too")
    status.add_argument("--cooks", action="store_true", help="list the cooks of the development")
    ovens = commands.add("ovens", "developing:ovens", "list the ovens of the workspace, or add one")
    ovens.add_argument("--add", metavar="OVEN.json", help="add the oven described in this file")
    for name, text in (
        ("close", "end a development"),
        ("archive", "put a development out of sight"),
        ("reopen", "go on with a closed or archived development"),
    ):
        parser = commands.add(name, f"developing:{name}", text, development=True)
        parser.add_argument("--reason", required=True, help="why; kept with your name")


def _add_proposing(commands: _Commands) -> None:
    following = commands.add("next", "proposing:following", "the next program to cook, with its reasons", development=True)
    following.add_argument("--count", type=_whole(1, 20), help="how many side by side (1; 6 for --first-day)")
    following.add_argument("--seed", type=_whole(0, 2**31 - 1), help="seed of the search, for the same answer again")
    following.add_argument("--first-day", action="store_true", help="a plan of 6 to 8 spread cooks instead")
    decide = commands.add("decide", "proposing:decide", "accept, change or refuse a proposal", development=True)
    decide.add_argument("decision", choices=("accept", "change", "refuse"))
    decide.add_argument("--proposal", metavar="ID", help="id or its beginning; not needed where one proposal is open")
    decide.add_argument("--program", metavar="PROGRAM", help="for `change`: JSON file, or like `250, 3:30, 40/30/80, 60/90/20`")
    decide.add_argument("--reason", required=True, help="why; kept with your name")
    forecast = commands.add("forecast", "proposing:forecast", "what a program would do to the portion", development=True)
    forecast.add_argument("program", nargs="+", metavar="PROGRAM", help="JSON file, or like `250, 3:30, 40/30/80, 60/90/20`")


def _add_cook_flags(parser: argparse.ArgumentParser) -> None:
    flags = parser.add_argument_group("instead of a file (units may be typed: 76.4, 169 °F, 6.3 oz, 3:30)")
    flags.add_argument("--program", metavar="PROGRAM", help="JSON file or short form; else the open proposal's program")
    flags.add_argument("--mass", metavar="G", help="mass in")
    flags.add_argument("--start", metavar="C", help="temperature of the portion at the start")
    flags.add_argument("--core", metavar="C", nargs="+", help="one reading for each place, after the rest")
    flags.add_argument("--rest", metavar="S", help="rest before reading, seconds or m:ss")
    flags.add_argument("--covered", action=argparse.BooleanOptionalAction, help="whether it rested covered")
    flags.add_argument("--mass-out", metavar="G", help="mass after cooking and rest")
    flags.add_argument("--purpose", choices=("first_guess", "search", "confirm", "benchmark", "proof", "site_check"))
    flags.add_argument("--cooked-at", metavar="TIME", help="with zone, or 10:15 (today), or now")
    flags.add_argument("--thermometer-checked-at", metavar="TIME", help="with zone, or 7:40 (today), or now")
    flags.add_argument("--interrupted-by", metavar="CAUSE", help="the cook was not completed, and why")
    flags.add_argument("--cook", metavar="NAME", help="who cooked")
    flags.add_argument("--lot", help="lot of the main ingredient")
    flags.add_argument("--load", metavar="N", type=_whole(1, 50), help="portions cooked together")
    flags.add_argument("--oven-serial", metavar="SERIAL", help="serial number of the oven used")
    flags.add_argument("--note", metavar="TEXT", help="what you saw")


def _add_tasting(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--score",
        metavar="MARKS",
        action="append",
        default=[],
        help="one taster: `A browning=2.5 texture=3 moisture=3.5`; once for each taster",
    )
    parser.add_argument(
        "--may-taste",
        metavar="TASTER",
        nargs="+",
        default=[],
        help="tasters who said today that they may taste (allergens)",
    )


def _add_cooking(commands: _Commands) -> None:
    log = commands.add("log", "cooking:log", "log a test cook and hear whether anyone may taste", development=True)
    log.add_argument("file", nargs="?", metavar="COOK.json", help="the cook; `-` reads it from standard input")
    log.add_argument("--preview", action="store_true", help="say the verdict, save nothing")
    log.add_argument("--client-id", metavar="ID", help="your id of this cook: sent twice, it is kept once")
    _add_cook_flags(log)
    _add_tasting(log)
    _add_confirmation(log)
    score = commands.add("score", "cooking:score", "add tasters' marks to a cook that is safe to taste", development=True)
    score.add_argument("cook", metavar="COOK", help="number of the cook, or its id")
    _add_tasting(score)
    correct = commands.add("correct", "cooking:correct", "correct a cook; the first entry is kept", development=True)
    correct.add_argument("cook", metavar="COOK", help="number of the cook, or its id")
    correct.add_argument("file", metavar="COOK.json", help="the cook as it should read; `-` reads it from standard input")
    correct.add_argument("--reason", required=True, help="why; kept with your name")
    correct.add_argument("--may-taste", metavar="TASTER", nargs="+", default=[], help="tasters of new marks who may taste")
    _add_confirmation(correct)


def _add_explaining(commands: _Commands) -> None:
    diagnose = commands.add(
        "diagnose", "explaining:diagnose", "why a cook came out as it did; nothing is kept", development=True
    )
    diagnose.add_argument("cook", nargs="?", metavar="COOK", help="number of the cook, or its id; the last one by default")
    diagnose.add_argument("--seen", metavar="SIGN", action="append", default=[], help="what people saw; once for each")
    diagnose.add_argument("--signs", action="store_true", help="list the signs that can be seen")
    commands.add("model", "explaining:model", "what the cooks taught, and how well forecasts held", development=True)


def _add_files(commands: _Commands) -> None:
    taken = commands.add("import", "filing:take_in", "take in a cook log (CSV, XLSX) or an export (JSON)", development=True)
    taken.add_argument("file", metavar="FILE", help="a cook log as the kitchen keeps it, or an export of this tool")
    taken.add_argument("--mapping", metavar="MAPPING.json", help="what each column means, as printed by --preview --json")
    taken.add_argument("--answer", metavar="CODE=CHOICE", action="append", default=[], help="answer to a question")
    taken.add_argument("--preview", action="store_true", help="show what would go in, save nothing")
    export = commands.add("export", "filing:export", "everything as JSON, or the cooks as one tidy table", development=True)
    export.add_argument("--format", choices=("json", "csv"), default="json", help="json (re-imports to the same state) or csv")
    export.add_argument("-o", "--output", metavar="FILE", help="file to write; else standard output")


def _add_handing_over(commands: _Commands) -> None:
    verify = commands.add("verify", "handing_over:verify", "check a release file: whole, signed by whom; no workspace needed")
    verify.add_argument("file", metavar="FILE", help="the release file; `-` reads it from standard input")
    verify.add_argument("--key", metavar="HEX", action="append", default=[], help="a public key of the house; once for each")
    people = commands.add("people", "people:people", "list the people with accounts, add one, change one")
    people.add_argument("action", nargs="?", choices=("list", "add", "change", "password"), default="list")
    people.add_argument("--name", metavar="NAME", help="whose account")
    people.add_argument("--role", metavar="ROLE", action="append", default=[], help="a role; once for each")
    people.add_argument("--of", metavar="CUSTOMER", help="customer the new person belongs to; left out, the house")
    people.add_argument("--close", action="store_true", help="for `change`: the person has left")
    people.add_argument("--reason", help="for `change`: why; kept with your name")
    recipe = commands.add("recipe", "handing_over:recipe", "show, keep or scale the recipe around a program", development=True)
    recipe.add_argument("file", nargs="?", metavar="RECIPE.json", help="the recipe; left out, the kept one is shown")
    recipe.add_argument("--photo", metavar="PICTURE", help="photo of the result: JPEG, PNG or WEBP")
    recipe.add_argument("--portions", type=_whole(1, 100000), help="show it scaled to so many portions")
    recipe.add_argument("--reason", default="next version", help="why it changed; kept with your name")
    release = commands.add("release", "handing_over:release", "bring a program to its signed release", development=True)
    actions = ("show", "draft", "candidate", "proving", "proven", "seal", "sign", "return", "withdraw", "export", "evidence")
    release.add_argument("action", nargs="?", choices=actions, default="show")
    release.add_argument("--number", type=_whole(1, 100000), help="version; the newest by default")
    release.add_argument("--program", metavar="PROGRAM", help="for `draft`: JSON file, or like `250, 3:30, 40/30/80, 60/90/20`")
    release.add_argument("--role", metavar="ROLE", help="for `sign`: developer, food-safety approver or customer approver")
    release.add_argument(
        "--restricted-to", metavar="SITE", nargs="+", default=[], help="for `seal`: restricted, to these sites"
    )
    release.add_argument("--reason", help="for `return`, `withdraw`, and `draft` of a revision; kept with your name")
    release.add_argument("--revision", choices=("text", "minor", "major"), help="for `draft`: class, never milder than found")
    card = commands.add("card", "handing_over:card", "issue the program card of a release in force", development=True)
    card.add_argument("--number", type=_whole(1, 100000), help="version; the one in force by default")
    card.add_argument("--site", metavar="SITE", help="for which kitchen")
    card.add_argument("--unit", choices=("C", "F"), default="C", help="degrees the site's oven shows (C)")
    card.add_argument("--format", choices=("pdf", "html"), default="pdf", help="pdf for paper, html for a phone")
    card.add_argument("--address", metavar="URL", help="where the site reaches this tool (else $TUNER_ADDRESS)")
    for parser in (release, card):
        parser.add_argument("-o", "--output", metavar="FILE", help="file to write; else standard output")


def _add_rehearsing(commands: _Commands) -> None:
    rehearse = commands.add("rehearse", "rehearsing:rehearse", "play a whole development in a simulated kitchen")
    rehearse.add_argument("kitchen", nargs="?", metavar="KITCHEN", help="name or whole number; left out, the names are listed")
    rehearse.add_argument("--seed", type=_whole(0, 2**31 - 1), default=0, help="seed of portions and tasters (0)")
    rehearse.add_argument("--budget", type=_whole(1, 200), default=30, help="most cooks to play (30)")


def build_parser() -> Parser:
    """The parser of the whole command line."""
    shared = _shared_options()
    parser = Parser(
        prog="tuner",
        description="From a conventional recipe to a proven program of a rapid-cook oven, with few test cooks.",
        epilog=_EPILOG,
        formatter_class=argparse.RawDescriptionHelpFormatter,
        parents=[shared],
        allow_abbrev=False,
    )
    parser.add_argument("--version", action="version", version=f"tuner {__version__}")
    commands = _Commands(parser, shared)
    _add_serving(commands)
    _add_developing(commands)
    _add_proposing(commands)
    _add_cooking(commands)
    _add_explaining(commands)
    _add_files(commands)
    _add_handing_over(commands)
    _add_rehearsing(commands)
    return parser
