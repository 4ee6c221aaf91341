"""The command line: the same services as the screens, no logic of its own."""

from tuner.cli.entry import main

__all__ = ["main"]
