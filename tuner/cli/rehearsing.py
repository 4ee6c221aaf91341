"""The command that plays a whole development in a simulated kitchen."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from typing import TYPE_CHECKING

from rich.text import Text

from tuner import services
from tuner.cli import tables
from tuner.cli.output import Output
from tuner.cli.words import chance

if TYPE_CHECKING:
    from rich.console import RenderableType

    from tuner.services import RehearsalReport


def rehearse(arguments: argparse.Namespace, output: Output) -> int:
    """Play a development from first guess to proof; without a kitchen, list their names."""
    if arguments.kitchen is None:
        names = services.rehearsal_names()
        output.answer({"kitchens": names}, lambda: [tables.heading("Kitchens"), tables.sentences(names)])
        return 0
    kitchen = int(arguments.kitchen) if arguments.kitchen.isdecimal() else arguments.kitchen
    with output.progress(arguments.budget) as bar:
        report = services.rehearse(kitchen=kitchen, seed=arguments.seed, budget=arguments.budget, progress=bar)
    output.answer(report, lambda: _story(report))
    return 0


def _story(report: RehearsalReport) -> Iterator[RenderableType]:
    yield tables.heading(f"Rehearsal in {report.kitchen}: {len(report.cooks)} cooks, {report.status}")
    yield tables.sentences(report.story)
    if report.best_program is not None:
        yield tables.program_table(report.best_program, title="Best program")
    if report.truly_inside is not None:
        yield Text(
            f"Truly inside every window in {chance(report.truly_inside)} of further portions (only a rehearsal can know)."
        )
