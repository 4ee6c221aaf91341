"""Cook logs as kitchens keep them: shown first, then taken in; the mapping of a layout is remembered."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from typing import TYPE_CHECKING

from pydantic import ValidationError

from tuner.domain import NeedsConfirmation, TestCook
from tuner.domain.plausibility import Question
from tuner.services.actor import Actor
from tuner.services.documents import changed
from tuner.services.loading import Loaded, load, read_development, refuse_unless_open
from tuner.services.memory import Memory
from tuner.services.taken_rows import TakenRows, taken_rows
from tuner.services.tasting import tastings
from tuner.services.texts import given_or_made_id
from tuner.services.views import ImportedRow, ImportPreview, ImportReport
from tuner.services.workspace import Workspace
from tuner.store import CookEntry, UnitOfWork, canonical_text, content_hash

if TYPE_CHECKING:
    from tuner.exchange import ColumnMapping, ImportedCook, ImportQuestion, ImportResult, Table

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

    from tuner.exchange import read_table

    key = hashlib.sha256(data).hexdigest()
    table = _TABLES.get(f"{key} {filename}", lambda: read_table(data, filename))
    remembered = _remembered(space, who, table) if mapping is None else None
    result = _read(table, key, mapping or remembered, loaded, _source(filename))
    return ImportPreview(table, result.mapping, result, result.questions, remembered is not None)


_TABLES: Memory[Table] = Memory(4)
_RESULTS: Memory[ImportResult] = Memory(4)
"""Files and readings seen last: a preview, its answers and the import read the same file again and again."""


def _read(table: Table, key: str, mapping: ColumnMapping | None, loaded: Loaded, source: str) -> ImportResult:
    from tuner.exchange import apply_mapping, guess_mapping

    brief, oven = loaded.brief, loaded.oven

    def read() -> ImportResult:
        used = guess_mapping(table, brief=brief, oven=oven, remembered=mapping)
        return apply_mapping(table, used, source=source, brief=brief, oven=oven)

    given = mapping.model_dump(mode="json") if mapping is not None else None
    told = {"file": key, "source": source, "name": table.filename, "mapping": given}
    about = {"brief": brief.model_dump(mode="json"), "oven": oven.model_dump(mode="json")}
    result = _RESULTS.get(content_hash({**told, **about}), read)
    settled = content_hash({**told, **about, "mapping": result.mapping.model_dump(mode="json")})
    return _RESULTS.get(settled, lambda: result)  # reading on from what came out gives the same again


def _remembered(space: Workspace, who: Actor, table: Table) -> ColumnMapping | None:
    from tuner.exchange import ColumnMapping, layout_of

    layout = layout_of(table)
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
    with space.store.unit_of_work(space.context(who)) as work:
        loaded = read_development(work, development_id)
        refuse_unless_open(loaded.development)
        rows = taken_rows(work, loaded)
        added, otherwise = _add(work, loaded, preview.result.cooks, rows, source)
        rows.keep(work, who)
        _remember(work, who, preview.mapping)
        work.commit()
    return ImportReport(
        added=added,
        known=len(preview.result.cooks) - added,
        refused=tuple(ImportedRow(row.line, row.reason) for row in preview.result.refused),
        skipped=(*(ImportedRow(row.line, row.reason) for row in preview.result.skipped), *otherwise),
        left_out=tuple(
            ImportedRow(value.line, f"{value.column} {value.value!r}: {value.reason}") for value in preview.result.left_out
        ),
    )


def _asked(question: ImportQuestion) -> Question:
    return Question(code=question.code, field="import", value=None, text=question.text)


def _as_history(cook: TestCook, source: str) -> TestCook:
    if cook.history or not tastings(cook):
        return cook
    return changed(cook, history=f"imported from {source}")


_OTHERWISE = "the row went in before, read with other answers or holding less; that cook is kept. Correct it to change it"


def _add(
    work: UnitOfWork, loaded: Loaded, found: Iterable[ImportedCook], rows: TakenRows, source: str
) -> tuple[int, tuple[ImportedRow, ...]]:
    """Add the cooks that are not there yet; how many, and the rows that went in before but read otherwise now.

    Ids of cooks are made of their content, so a known id is a known cook.
    """
    known = {row.stamp.client_id for row in loaded.rows}
    added = 0
    otherwise = []
    for one in found:
        cook = _as_history(one.cook, source)
        client_id = given_or_made_id(cook.client_id)
        before = rows.known_as(one)
        rows.take(one, before or client_id)
        if before not in (None, client_id):
            otherwise.append(ImportedRow(one.line, _OTHERWISE))
        elif client_id not in known:
            known.add(client_id)
            entry = CookEntry(cook, client_id, source=source, oven_version=loaded.oven_record.version)
            work.cooks.add(loaded.development, entry)
            added += 1
    return added, tuple(otherwise)


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
