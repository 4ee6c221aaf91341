"""Commands about test cooks: log one and hear the verdict, add marks, correct one."""

from __future__ import annotations

import argparse
from collections.abc import Iterator, Mapping, Sequence
from datetime import UTC, datetime
from typing import TYPE_CHECKING

from rich.text import Text

from tuner import services
from tuner.cli import tables
from tuner.cli.confirming import confirmed_cook
from tuner.cli.documents import read_model, read_program
from tuner.cli.entry import UsageError
from tuner.cli.output import Output
from tuner.cli.session import chosen_cook, opened, viewed
from tuner.cli.typed_cook import cook_of_flags, flags_typed, read_scores
from tuner.cli.words import ATTRIBUTE_WORDS, OUTCOME_WORDS
from tuner.domain import Program, Score, TestCook

if TYPE_CHECKING:
    from rich.console import RenderableType

    from tuner.cli.session import Session
    from tuner.services import CookRecord, DevelopmentView

VERDICT_PLACE = "verdict"
"""Place whose cautions go with a verdict."""


def _may_taste(names: Sequence[str]) -> Mapping[str, bool] | None:
    return dict.fromkeys(names, True) if names else None


def _ordered(view: DevelopmentView) -> tuple[Program, str] | None:
    """What is to be cooked now: the one proposal that was taken, else the one that waits for a decision."""
    for waiting in (view.pending_proposals, view.open_proposals):
        if len(waiting) == 1:
            return waiting[0].program, waiting[0].proposal.purpose
        if waiting:
            raise UsageError(f"{len(waiting)} proposals wait to be cooked. Give --program with the one that was cooked.")
    return None


def _typed_cook(arguments: argparse.Namespace, view: DevelopmentView) -> TestCook:
    program, purpose = None, None
    if arguments.program is not None:
        program = read_program(arguments.program)
    elif arguments.purpose != "benchmark":
        ordered = _ordered(view)
        if ordered is None:
            raise UsageError("what was cooked? No proposal waits to be cooked. Give --program, or a COOK.json.")
        program, purpose = ordered
    return cook_of_flags(arguments, program=program, purpose=purpose, now=datetime.now(UTC))


def _cook(arguments: argparse.Namespace, view: DevelopmentView) -> TestCook:
    typed = flags_typed(arguments) + (["--score"] if arguments.score else [])
    if arguments.file is None:
        if not typed:
            raise UsageError("nothing to log. Give a COOK.json, or flags like --mass 183 --core 76.4 77.0 79.1.")
        return _typed_cook(arguments, view)
    if typed:
        raise UsageError(f"{', '.join(typed)} beside {arguments.file}. Give a file or flags. Leave one of them out.")
    return read_model(arguments.file, TestCook)


def log(arguments: argparse.Namespace, output: Output) -> int:
    """Log a test cook; the verdict says whether anyone may taste."""
    with opened(arguments) as session:
        view = viewed(session, arguments.development)
        cook = confirmed_cook(_cook(arguments, view), arguments.confirm, brief=view.brief, oven=view.oven)
        may_taste = _may_taste(arguments.may_taste)
        if arguments.preview:
            return _preview(session, view, cook, may_taste, output)
        record = services.log_cook(
            session.space,
            session.who,
            development_id=view.id,
            cook=cook,
            may_taste=may_taste,
            client_id=arguments.client_id or cook.client_id,
        )
    output.answer(record, lambda: _logged(record, "Logged"))
    return 0


def _preview(
    session: Session, view: DevelopmentView, cook: TestCook, may_taste: Mapping[str, bool] | None, output: Output
) -> int:
    found = services.preview_cook(session.space, session.who, development_id=view.id, cook=cook, may_taste=may_taste)

    def show() -> Iterator[RenderableType]:
        yield Text("Preview, nothing is saved.")
        yield from tables.verdict_parts(found.verdict, services.cautions(VERDICT_PLACE))
        for title, lines in (
            ("Would be refused", found.problems),
            ("Would be asked", tuple(question.text for question in found.questions)),
        ):
            if lines:
                yield tables.heading(title)
                yield tables.sentences(lines)

    output.answer(found, show)
    return 0


def _logged(record: CookRecord, verb: str) -> Iterator[RenderableType]:
    yield Text(f"{verb}: cook {record.number} ({record.id[:8]}).")
    yield from tables.verdict_parts(record.verdict, services.cautions(VERDICT_PLACE))
    words = OUTCOME_WORDS[record.outcome.result]
    for title, names in (("outside", record.outcome.outside), ("not measured", record.outcome.missing)):
        if names:
            words += f"; {title}: " + ", ".join(ATTRIBUTE_WORDS.get(name, name) for name in names)
    yield Text(f"Windows: {words}")
    if not record.counts:
        yield Text("It does not count towards proof (portion, oven or program differs from the brief); it is learned from.")


def score(arguments: argparse.Namespace, output: Output) -> int:
    """Add tasters' marks to a cook that is safe to taste."""
    if not arguments.score:
        raise UsageError("no marks. Give --score 'A browning=2.5 texture=3', once for each taster.")
    scores = [Score.model_validate(document) for document in read_scores(arguments.score)]
    with opened(arguments) as session:
        view = viewed(session, arguments.development)
        record = services.add_scores(
            session.space,
            session.who,
            development_id=view.id,
            cook_id=chosen_cook(view, arguments.cook).id,
            scores=scores,
            may_taste=dict.fromkeys(arguments.may_taste, True),
        )
    output.answer(record, lambda: _logged(record, "Marks kept"))
    return 0


def correct(arguments: argparse.Namespace, output: Output) -> int:
    """Correct a cook; the first entry is kept."""
    cook = read_model(arguments.file, TestCook)
    with opened(arguments) as session:
        view = viewed(session, arguments.development)
        meant = confirmed_cook(cook, arguments.confirm, brief=view.brief, oven=view.oven)
        record = services.correct_cook(
            session.space,
            session.who,
            development_id=view.id,
            cook_id=chosen_cook(view, arguments.cook).id,
            cook=meant,
            reason=arguments.reason,
            may_taste=_may_taste(arguments.may_taste),
        )
    output.answer(record, lambda: _logged(record, "Corrected"))
    return 0
