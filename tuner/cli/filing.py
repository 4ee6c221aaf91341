"""Commands about files: take in a cook log or an export, write everything out."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, Protocol

from rich.text import Text

from tuner import services
from tuner.cli import tables
from tuner.cli.documents import read_bytes, read_json
from tuner.cli.entry import CONFIRM, DONE, REFUSED, UsageError
from tuner.cli.output import Output, write_json
from tuner.cli.session import Session, chosen_development, opened

if TYPE_CHECKING:
    from rich.console import RenderableType

    from tuner.services import ImportPreview, ImportReport

SAMPLES_SHOWN = 2
ROWS_SHOWN = 20
"""Refused rows that are listed; JSON lists all."""


class _Row(Protocol):
    """A row that was not taken."""

    @property
    def line(self) -> int: ...

    @property
    def reason(self) -> str: ...


def take_in(arguments: argparse.Namespace, output: Output) -> int:
    """Take in a cook log, or an export of this tool."""
    data = read_bytes(arguments.file)
    with opened(arguments) as session:
        if arguments.file.lower().endswith(".json"):
            report = services.import_json(session.space, session.who, data=data)
        else:
            identity = chosen_development(session, arguments.development)
            found = _read_log(session, identity, arguments, data)
            if arguments.preview or found.questions:
                return _show_preview(found, arguments, output)
            report = services.import_cooks(
                session.space,
                session.who,
                development_id=identity,
                data=data,
                filename=Path(arguments.file).name,
                mapping=found.mapping,
            )
    output.answer(report, lambda: _reported(report))
    nothing_taken = report.refused and not report.added and not report.known
    return REFUSED if nothing_taken else DONE


def _answers(texts: Sequence[str]) -> list[tuple[str, str]]:
    pairs = [text.partition("=") for text in texts]
    wrong = next((text for text, (code, equals, choice) in zip(texts, pairs) if not (code and equals and choice)), None)
    if wrong is not None:
        raise UsageError(f"--answer {wrong!r} is not CODE=CHOICE. The codes stand beside the questions.")
    return [(code, choice) for code, _, choice in pairs]


def _read_log(session: Session, identity: str, arguments: argparse.Namespace, data: bytes) -> ImportPreview:
    """How the log is read: with the guessed or remembered mapping or the one given, and the answers typed, in their order."""

    def preview(mapping: Any) -> ImportPreview:  # the room that reads files knows its type
        filename = Path(arguments.file).name
        return services.preview_import(
            session.space, session.who, development_id=identity, data=data, filename=filename, mapping=mapping
        )

    found = preview(None)
    if arguments.mapping:
        found = preview(type(found.mapping).model_validate(read_json(arguments.mapping)))
    for code, choice in _answers(arguments.answer):
        found = preview(found.mapping.answered(code, choice))  # an answer may raise further questions
    return found


def _show_preview(found: ImportPreview, arguments: argparse.Namespace, output: Output) -> int:
    open_questions = bool(found.questions)
    if output.as_json:
        write_json({"saved": False, "mapping": found.mapping, "questions": found.questions, "result": found.result})
    else:
        output.answer(None, lambda: _previewed(found))
    return DONE if arguments.preview and not open_questions else CONFIRM


def _previewed(found: ImportPreview) -> Iterator[RenderableType]:
    cooks, refused, skipped = found.result.cooks, found.result.refused, found.result.skipped
    known = " (as this layout was read before)" if found.remembered else ""
    yield Text(
        f"Nothing is saved yet. {len(cooks)} cooks would go in, {len(refused)} rows refused, {len(skipped)} skipped{known}."
    )
    drawn = tables.table("Column", "Read as", "Unit", "First cells")
    for use in found.mapping.columns:
        samples = ", ".join(use.samples[:SAMPLES_SHOWN])
        drawn.add_row(*(Text(cell) for cell in (use.heading, use.words, use.unit or "", samples)))
    yield drawn
    if found.mapping.remarks:
        yield tables.heading("Worth a look")
        yield tables.sentences(found.mapping.remarks)
    yield from _rows("Refused", refused)
    if found.questions:
        yield tables.heading("To be answered first")
        for question in found.mapping.open_questions:
            yield Text(f"- {question.text}")
            yield Text(f"  --answer '{question.code}=CHOICE', CHOICE is one of: {'; '.join(question.choices)}")


def _rows(title: str, rows: Sequence[_Row]) -> Iterator[RenderableType]:
    if not rows:
        return
    yield tables.heading(title)
    yield tables.sentences(f"line {row.line}: {row.reason}" for row in rows[:ROWS_SHOWN])
    if len(rows) > ROWS_SHOWN:
        yield Text(f"and {len(rows) - ROWS_SHOWN} more; --json lists all")


def _reported(report: ImportReport) -> Iterator[RenderableType]:
    yield Text(
        f"{report.added} added, {report.known} known already, {len(report.refused)} refused, "
        f"{len(report.skipped)} skipped (blank rows, totals, rows that went in before)."
    )
    yield from _rows("Refused", report.refused)
    yield from _rows("Left out", report.left_out)


def export(arguments: argparse.Namespace, output: Output) -> int:
    """Write everything, or one development, as JSON or as a tidy table."""
    with opened(arguments) as session:
        one = chosen_development(session, arguments.development) if arguments.development else None
        write = services.export_json if arguments.format == "json" else services.export_csv
        data = write(session.space, session.who, development_id=one)
    if arguments.output is None:
        sys.stdout.buffer.write(data)
        sys.stdout.flush()
        return DONE
    _write_whole(Path(arguments.output), data)
    output.answer(
        {"file": arguments.output, "bytes": len(data), "format": arguments.format},
        lambda: [Text(f"{len(data)} bytes written to {arguments.output}.")],
    )
    return DONE


def _write_whole(path: Path, data: bytes) -> None:
    """Write a file whole or not at all: beside it first, then in its place."""
    part = path.with_name(path.name + ".part")
    with part.open("wb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())
    part.replace(path)
