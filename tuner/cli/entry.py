"""Runs one command: reads what was typed, calls its handler, turns refusals into sentences and exit codes."""

from __future__ import annotations

import argparse
import json
import os
import sys
from collections.abc import Callable, Sequence
from importlib import import_module
from typing import TYPE_CHECKING, Any

from tuner.cli.arguments import USAGE_EXIT, Parser, build_parser

if TYPE_CHECKING:
    from tuner.cli.output import Output

DONE, REFUSED, CONFIRM = 0, 1, 3
INTERRUPTED = 130
"""Exit codes; the one for a command typed wrongly is `arguments.USAGE_EXIT`."""

_SHARED = {"json": False, "db": None, "actor": None, "customer": None}

Handler = Callable[[argparse.Namespace, "Output"], int]


class UsageError(Exception):
    """A command that reads well but can't be meant: its message says what to type."""


def _read(argv: Sequence[str]) -> argparse.Namespace:
    Parser.typed = argv
    arguments = build_parser().parse_args(argv)
    for name, value in _SHARED.items():
        if not hasattr(arguments, name):
            setattr(arguments, name, value)
    return arguments


def _handler(run: str) -> Handler:
    module, function = run.split(":")
    handler: Handler = getattr(import_module(f"tuner.cli.{module}"), function)
    return handler


def _describe(error: Exception) -> tuple[dict[str, Any], int]:
    """What to report of an error, and the exit code."""
    from pydantic import ValidationError

    from tuner.domain import InvalidDocument, NeedsConfirmation, TunerError
    from tuner.domain.wording import problems_of

    report: dict[str, Any] = {"kind": type(error).__name__, "message": str(error)}
    if isinstance(error, UsageError):
        return {**report, "kind": "Usage"}, USAGE_EXIT
    if isinstance(error, NeedsConfirmation):
        questions = [question.model_dump(mode="json") for question in error.questions]
        return {**report, "questions": questions}, CONFIRM
    if isinstance(error, ValidationError):
        problems = problems_of(error)
        return {"kind": "InvalidDocument", "message": "\n".join(problems), "problems": problems}, REFUSED
    if isinstance(error, InvalidDocument):
        return {**report, "problems": list(error.problems)}, REFUSED
    if isinstance(error, OSError):
        place = f"{error.filename}: " if error.filename else ""
        return {"kind": "File", "message": f"{place}{error.strerror or error}. Check the file and its folder."}, REFUSED
    if isinstance(error, TunerError):
        return report, REFUSED
    words = f"something went wrong that was not foreseen ({type(error).__name__}: {error}). Nothing was half saved. "
    return {**report, "kind": "Unforeseen", "message": words + "TUNER_DEBUG=1 shows where."}, REFUSED


def _report(error: Exception, *, as_json: bool) -> int:
    report, code = _describe(error)
    if as_json:
        sys.stderr.write(json.dumps({"error": {**report, "exit_code": code}}, ensure_ascii=False) + "\n")
        return code
    sys.stderr.write(f"tuner: {report['message']}\n")
    for question in report.get("questions", ()):
        sys.stderr.write(f"  to confirm: --confirm '{question['code']}'\n")
    return code


def _run(arguments: argparse.Namespace) -> int:
    from tuner.cli.output import Output

    return _handler(arguments.run)(arguments, Output(as_json=arguments.json))


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command.

    Parameters
    ----------
    argv
        What was typed after `tuner`; None takes it from the process.

    Returns
    -------
    int
        Exit code: 0 done, 1 refused or failed, 2 typed wrongly, 3 needs a confirmation.
    """
    try:
        arguments = _read(list(sys.argv[1:] if argv is None else argv))
    except SystemExit as left:  # argparse has said all: help, version, or what was typed wrongly
        return int(left.code or 0)
    try:
        return _run(arguments)
    except KeyboardInterrupt:
        return INTERRUPTED
    except BrokenPipeError:
        # The reader (head, less) has had enough; without this the interpreter complains at its end.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return DONE
    except Exception as error:
        if os.environ.get("TUNER_DEBUG"):
            raise
        return _report(error, as_json=arguments.json)
