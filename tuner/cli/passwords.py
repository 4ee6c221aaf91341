"""Passwords at the command line: asked for unseen; from standard input, a line each, where there is no terminal."""

from __future__ import annotations

import getpass
import sys

from tuner.cli.entry import UsageError


def asked_password(whose: str) -> str:
    """A password, asked for now.

    Raises
    ------
    UsageError
        If none was given.
    """
    given = getpass.getpass(f"{whose}: ") if sys.stdin.isatty() else sys.stdin.readline().rstrip("\n")
    if not given:
        raise UsageError(f"{whose} is missing. Type it when asked, or send it as a line on standard input.")
    return given
