"""Where answers and errors go: tables for people on standard output, or one JSON document."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, Any

from tuner.cli.plain import plain

if TYPE_CHECKING:
    from rich.console import Console, RenderableType


def write_json(value: Any) -> None:
    """Write `value` as one JSON document on standard output."""
    sys.stdout.write(json.dumps(plain(value), ensure_ascii=False, indent=2) + "\n")
    sys.stdout.flush()


def _console(*, stderr: bool = False) -> Console:
    from rich.console import Console

    return Console(stderr=stderr, highlight=False)


class Output:
    """Answers for people, or as JSON.

    Parameters
    ----------
    as_json
        One JSON document on standard output instead of words and tables.
    """

    def __init__(self, *, as_json: bool) -> None:
        self.as_json = as_json

    def answer(self, data: Any, show: Callable[[], Iterable[RenderableType]]) -> None:
        """Give one answer: `data` as JSON, or what `show` draws."""
        if self.as_json:
            write_json(data)
            return
        console = _console()
        for part in show():
            console.print(part)
        sys.stdout.flush()  # whoever reads through a pipe must not wait for the end of long work

    def remark(self, text: str) -> None:
        """Say something beside the answer; it never disturbs what another program reads."""
        if not self.as_json:
            _console(stderr=True).print(text, markup=False)

    def progress(self, total: int) -> ProgressBar:
        """A progress bar on standard error; silent with JSON."""
        return ProgressBar(total, shown=not self.as_json)


class ProgressBar:
    """Shows how far long work has come, on standard error.

    Parameters
    ----------
    total
        Steps of the whole work.
    shown
        False draws nothing.
    """

    def __init__(self, total: int, *, shown: bool) -> None:
        from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeElapsedColumn

        columns = (TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn(), TimeElapsedColumn())
        self._progress = Progress(*columns, console=_console(stderr=True), disable=not shown, transient=True)
        self._task = self._progress.add_task("", total=total)

    def __enter__(self) -> ProgressBar:
        self._progress.start()
        return self

    def __exit__(self, *_: object) -> None:
        self._progress.stop()

    def __call__(self, done: int, text: str) -> None:
        """Move the bar to `done` steps and say what is being done."""
        self._progress.update(self._task, completed=done, description=text)
