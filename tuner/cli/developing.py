"""Commands about developments: start, check, status, ovens, close, archive, reopen."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from typing import TYPE_CHECKING

from rich.text import Text

from tuner import services
from tuner.cli import tables
from tuner.cli.confirming import confirmed_brief
from tuner.cli.documents import read_model
from tuner.cli.output import Output
from tuner.cli.session import chosen_development, described_oven, opened, oven_id, viewed
from tuner.domain import Brief, Oven

if TYPE_CHECKING:
    from rich.console import RenderableType

    from tuner.services import BriefCheck, DevelopmentView


def usable_low_c(view: DevelopmentView) -> float | None:
    """Usable low edge of the core [°C]: the higher of the window's low and critical limit + guard."""
    core = view.brief.targets.core_temperature_c
    edges = [edge for edge in (core.low if core else None, view.limit.pass_line_c) if edge is not None]
    return max(edges, default=None)


def start(arguments: argparse.Namespace, output: Output) -> int:
    """Start a development from a brief and an oven."""
    brief = read_model(arguments.brief, Brief)
    with opened(arguments) as session:
        meant = confirmed_brief(brief, arguments.confirm)
        view = services.start_development(session.space, session.who, brief=meant, oven_id=oven_id(session, arguments.oven))

    def show() -> Iterator[RenderableType]:
        yield Text(f"Started: {view.dish} on {view.oven.name} ({view.id[:8]}).")
        yield from tables.feasibility_parts(view.feasibility)
        yield Text(f"Next: tuner next -d {view.id[:8]}")

    output.answer(view, show)
    return 0


def check(arguments: argparse.Namespace, output: Output) -> int:
    """Say whether a brief can be met, before anything is saved."""
    brief = read_model(arguments.brief, Brief)
    with opened(arguments) as session:
        found = services.check_brief(brief, described_oven(session, arguments.oven))
    output.answer(found, lambda: _check_parts(brief, found))
    return 0


def _check_parts(brief: Brief, found: BriefCheck) -> Iterator[RenderableType]:
    yield tables.heading(brief.dish)
    yield from tables.feasibility_parts(found.feasibility)
    if found.missing:
        yield tables.heading("Still unanswered")
        yield tables.sentences(found.missing)
    if found.questions:
        yield tables.heading("Unlikely values")
        yield tables.sentences(question.text for question in found.questions)
    line = found.limit.pass_line_c
    yield Text("No critical limit (approved)." if line is None else f"The lowest reading must show {line:g} °C.")


def status(arguments: argparse.Namespace, output: Output) -> int:
    """Who waits for whom; or where one development stands."""
    with opened(arguments) as session:
        if arguments.development is None and not arguments.cooks:
            kept = services.list_developments(session.space, session.who, include_archived=arguments.all)
            output.answer({"developments": kept}, lambda: [tables.developments_table(kept)] if kept else [_NOTHING_YET])
            return 0
        view = viewed(session, arguments.development)
    output.answer(view, lambda: _status_parts(view, cooks=arguments.cooks))
    return 0


_NOTHING_YET = Text("Nothing here yet. `tuner demo --no-serve` loads an invented demo; `tuner start` begins a development.")


def _status_parts(view: DevelopmentView, *, cooks: bool) -> Iterator[RenderableType]:
    yield tables.view_heading(view)
    if view.state != "open":
        yield Text(f"{view.state}: {view.state_reason}")
    yield from tables.assessment_parts(view.assessment)
    for record in view.pending_proposals:
        yield tables.program_table(record.program, title=f"To be cooked, proposal {record.number}")
    if cooks:
        yield from tables.cooks_parts(view.current_cooks)


def ovens(arguments: argparse.Namespace, output: Output) -> int:
    """List the ovens, or add one."""
    with opened(arguments) as session:
        if arguments.add:
            services.add_oven(session.space, session.who, oven=read_model(arguments.add, Oven))
        kept = services.list_ovens(session.space, session.who)
    output.answer({"ovens": kept}, lambda: [tables.ovens_table(kept)])
    return 0


def close(arguments: argparse.Namespace, output: Output) -> int:
    """End a development."""
    with opened(arguments) as session:
        identity = chosen_development(session, arguments.development)
        view = services.close_development(session.space, session.who, development_id=identity, reason=arguments.reason)
    return _moved(view, output)


def archive(arguments: argparse.Namespace, output: Output) -> int:
    """Put a development out of sight."""
    with opened(arguments) as session:
        identity = chosen_development(session, arguments.development)
        view = services.archive_development(session.space, session.who, development_id=identity, reason=arguments.reason)
    return _moved(view, output)


def reopen(arguments: argparse.Namespace, output: Output) -> int:
    """Go on with a closed or archived development."""
    with opened(arguments) as session:
        identity = chosen_development(session, arguments.development)
        view = services.reopen_development(session.space, session.who, development_id=identity, reason=arguments.reason)
    return _moved(view, output)


def _moved(view: DevelopmentView, output: Output) -> int:
    output.answer(view, lambda: [Text(f"{view.dish} ({view.id[:8]}) is {view.state} now.")])
    return 0
