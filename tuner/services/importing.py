"""Cook logs as kitchens keep them: shown first, then taken in; the mapping of a layout is remembered."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pydantic import ValidationError

from tuner.domain import NeedsConfirmation, TestCook
from tuner.domain.plausibility import Question
from tuner.services.actor import Actor
from tuner.services.documents import changed
from tuner.services.loading import Loaded, load, read_development, refuse_unless_open
from tuner.services.tasting import tastings
from tuner.services.texts import given_or_made_id
from tuner.services.views import ImportedRow, ImportPreview, ImportReport
from tuner.services.workspace import Workspace
from tuner.store import CookEntry, UnitOfWork, canonical_text, content_hash

if TYPE_CHECKING:
    from tuner.exchange import ColumnMapping, ImportQuestion, Table

LONGEST_SOURCE = 200


def preview_import(
    space: Workspace,
    who: Actor,
    *,
    development_id: str,
    data: bytes,
    filename: str,
    mapping: ColumnMapping | None = None,
) -> ImportPreview:
    """How a log would be read. Nothing is saved.

    Parameters
    ----------
    mapping
        How to read it; None takes what was said of this layout before, else a guess.

    Raises
    ------
    InvalidDocument
        If it is no table of text.
    NotFound
        If there is no such development, or none this person may see.
    """
    loaded = load(space, who, development_id)

    from tuner.exchange import apply_mapping, guess_mapping, read_table

    table = read_table(data, filename)
    brief, oven = loaded.brief, loaded.oven
    remembered = _remembered(space, who, loaded, table) if mapping is None else None
    used = guess_mapping(table, brief=brief, oven=oven, remembered=mapping or remembered)
    result = apply_mapping(table, used, source=_source(filename), brief=brief, oven=oven)
    return ImportPreview(table, result.mapping, result, result.questions, remembered is not None)


def _remembered(space: Workspace, who: Actor, loaded: Loaded, table: Table) -> ColumnMapping | None:
    from tuner.exchange import ColumnMapping, guess_mapping

    layout = guess_mapping(table, brief=loaded.brief, oven=loaded.oven).layout
    with space.store.read(who.customer) as reading:
        kept = reading.mappings.newest(layout)
    if kept is None:
        return None
    try:
        return ColumnMapping.model_validate(dict(kept.mapping))
    except ValidationError:  # remembered by a version that described mappings otherwise: guessed anew and shown
        return None


def _source(filename: str) -> str:
    return filename.replace("\\", "/").rsplit("/", 1)[-1].strip()[:LONGEST_SOURCE] or "file"


def import_cooks(
    space: Workspace, who: Actor, *, development_id: str, data: bytes, filename: str, mapping: ColumnMapping
) -> ImportReport:
    """Take a log in. Refused rows are listed and the rest goes in; what went in before does not go in twice.

    Cooks that hold tastings come in as history: they were tasted before the tool could say anything.

    Raises
    ------
    InvalidDocument
        If it is no table of text.
    NeedsConfirmation
        If questions of the mapping are open.
    NotAllowed
        If the development is closed.
    NotFound
        If there is no such development, or none this person may see.
    """
    preview = preview_import(space, who, development_id=development_id, data=data, filename=filename, mapping=mapping)
    if preview.result.questions:
        raise NeedsConfirmation([_asked(question) for question in preview.result.questions])
    source = _source(filename)
    cooks = [_as_history(found.cook, source) for found in preview.result.cooks]
    with space.store.unit_of_work(space.context(who)) as work:
        loaded = read_development(work, development_id)
        refuse_unless_open(loaded.development)
        added = _add(work, loaded, cooks, source)
        _remember(work, who, preview.mapping)
        work.commit()
    return ImportReport(
        added=added,
        known=len(cooks) - added,
        refused=tuple(ImportedRow(row.line, row.reason) for row in preview.result.refused),
        skipped=tuple(ImportedRow(row.line, row.reason) for row in preview.result.skipped),
    )


def _asked(question: ImportQuestion) -> Question:
    return Question(code=question.code, field="import", value=None, text=question.text)


def _as_history(cook: TestCook, source: str) -> TestCook:
    if cook.history or not tastings(cook):
        return cook
    return changed(cook, history=f"imported from {source}")


def _add(work: UnitOfWork, loaded: Loaded, cooks: list[TestCook], source: str) -> int:
    """Add the cooks that are not there yet. Their ids are made of their content, so a known id is a known cook."""
    known = {row.stamp.client_id for row in loaded.rows}
    added = 0
    for cook in cooks:
        client_id = given_or_made_id(cook.client_id)
        if client_id in known:
            continue
        known.add(client_id)
        work.cooks.add(loaded.development, CookEntry(cook, client_id, source=source, oven_version=loaded.oven_record.version))
        added += 1
    return added


def _remember(work: UnitOfWork, who: Actor, mapping: ColumnMapping) -> None:
    document = mapping.model_dump(mode="json", exclude_unset=True)
    newest = work.mappings.newest(mapping.layout)
    if newest is not None and canonical_text(dict(newest.mapping)) == canonical_text(document):
        return
    before = newest.stamp.sequence if newest else 0
    client_id = content_hash({"mapping": document, "after": before})
    work.mappings.remember(mapping.layout, document, client_id=client_id, customer=who.customer)


def import_fields() -> dict[str, str]:
    """What a column of a cook log can hold: the name that mappings use, and the words for a person."""
    from tuner.exchange.fields import FIELDS

    return {name: field.words for name, field in FIELDS.items()}
