"""Commands about programs: the next one, a decision about it, a forecast of one's own."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from typing import TYPE_CHECKING

from rich.text import Text

from tuner import services
from tuner.cli import tables
from tuner.cli.developing import usable_low_c
from tuner.cli.documents import read_program
from tuner.cli.entry import UsageError
from tuner.cli.output import Output
from tuner.cli.session import chosen_development, chosen_proposal, opened, viewed

if TYPE_CHECKING:
    from rich.console import RenderableType

    from tuner.domain import Forecast
    from tuner.services import DevelopmentView, ProposalRecord


FIRST_DAY_COOKS = 6
"""Cooks of a first day's plan where no other number is asked for (common practice: 6 to 8)."""


def following(arguments: argparse.Namespace, output: Output) -> int:
    """The next program to cook, or a first day's plan."""
    with opened(arguments) as session:
        identity = chosen_development(session, arguments.development)
        if arguments.first_day:
            records = services.first_day_plan(
                session.space, session.who, development_id=identity, count=arguments.count or FIRST_DAY_COOKS
            )
        else:
            records = services.next_proposals(
                session.space, session.who, development_id=identity, count=arguments.count or 1, seed=arguments.seed
            )
        view = services.view_development(session.space, session.who, development_id=identity)
    output.answer({"proposals": records}, lambda: _proposals(records, view))
    return 0


def _proposals(records: tuple[ProposalRecord, ...], view: DevelopmentView) -> Iterator[RenderableType]:
    yield tables.view_heading(view)
    for record in records:
        yield from tables.proposal_parts(record, view.brief, usable_low_c=usable_low_c(view))
    if any(record.state == "open" for record in records):
        yield Text("Decide: tuner decide accept --reason '...' (or change, refuse). Then log the cook with `tuner log`.")


def decide(arguments: argparse.Namespace, output: Output) -> int:
    """Accept, change or refuse a proposal."""
    if arguments.decision == "change" and not arguments.program:
        raise UsageError("`decide change` needs the program to cook instead. Give --program.")
    if arguments.decision != "change" and arguments.program:
        raise UsageError(f"`decide {arguments.decision}` takes no --program. Use `decide change` to cook another program.")
    program = read_program(arguments.program) if arguments.program else None
    with opened(arguments) as session:
        proposal = chosen_proposal(viewed(session, arguments.development), arguments.proposal)
        record = services.decide_proposal(
            session.space,
            session.who,
            proposal_id=proposal.id,
            decision=arguments.decision,
            program=program,
            reason=arguments.reason,
        )

    def show() -> Iterator[RenderableType]:
        yield Text(f"Proposal {record.number} is {record.state}.")
        if record.state in {"accepted", "changed"}:
            yield tables.program_table(record.program, title="To be cooked")

    output.answer(record, show)
    return 0


def forecast(arguments: argparse.Namespace, output: Output) -> int:
    """What programs would do to the portion of the brief."""
    programs = [read_program(text) for text in arguments.program]
    with opened(arguments) as session:
        view = viewed(session, arguments.development)
        forecasts = services.forecast_programs(session.space, session.who, development_id=view.id, programs=programs)
    output.answer({"forecasts": forecasts}, lambda: _forecasts(forecasts, view))
    return 0


def _forecasts(forecasts: tuple[Forecast, ...], view: DevelopmentView) -> Iterator[RenderableType]:
    yield tables.view_heading(view)
    for found in forecasts:
        yield tables.program_table(found.program)
        yield tables.forecast_table(found, view.brief, usable_low_c=usable_low_c(view))
