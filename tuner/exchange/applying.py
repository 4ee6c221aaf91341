"""Carries a mapping out: every row of a log becomes part of a cook, or is listed with the reason why not."""

from __future__ import annotations

from dataclasses import dataclass

from pydantic import ValidationError

from tuner.domain import Brief, Oven, TestCook
from tuner.domain.plausibility import questions_about_cook
from tuner.domain.wording import problems_of
from tuner.exchange.carried_down import filled_down
from tuner.exchange.cook_building import cook_document
from tuner.exchange.cook_reading import CookReading
from tuner.exchange.fingerprints import CookIds, RowMarks, reading_of
from tuner.exchange.grid import tidy
from tuner.exchange.guessing import guess_mapping
from tuner.exchange.import_result import ImportedCook, ImportResult, LeftOut, RefusedRow
from tuner.exchange.mapping import LEAVE_OUT, ColumnMapping
from tuner.exchange.row_groups import group_rows
from tuner.exchange.row_kinds import RowKind, row_kinds
from tuner.exchange.row_parts import Columns, Group
from tuner.exchange.table import Row, Table

_SKIPPED: dict[RowKind, str] = {
    "blank": "the row is blank",
    "total": "the row sums up others, or states what is wanted",
    "heading": "the row repeats the headings",
    "text": "the row only says something",
}


@dataclass
class _Lists:
    cooks: list[ImportedCook]
    refused: list[RefusedRow]
    skipped: list[RefusedRow]
    left_out: list[LeftOut]


def apply_mapping(
    table: Table, mapping: ColumnMapping, *, source: str, brief: Brief | None = None, oven: Oven | None = None
) -> ImportResult:
    """Read the cooks of a log.

    Parameters
    ----------
    table
        The file.
    mapping
        How it is read; answers and changes that were not carried out yet, or were made for another file, are carried out first.
    source
        Name of the file, kept as the history of cooks that hold tastings.
    brief, oven
        What was to be expected; only used for remarks about unlikely values.

    Returns
    -------
    ImportResult
        Cooks, refused rows, skipped rows, values not taken, open questions, and the mapping as it was used.
    """
    if mapping.file != reading_of(table, mapping.answers, mapping.columns):
        mapping = guess_mapping(table, brief=brief, oven=oven, remembered=mapping)
    columns = Columns(mapping.columns)
    lists = _Lists([], [], [], [])
    rows = _cook_rows(table, mapping, lists)
    grouping = group_rows(rows, columns, mapping.rows_by)
    lists.refused += [RefusedRow(line=row.line, part=row.part, reason=reason) for row, reason in grouping.refused]
    lists.skipped += [RefusedRow(line=row.line, part=row.part, reason=reason) for row, reason in grouping.repeated]
    ids = CookIds()
    marks = RowMarks(table)
    marked = [(marks.of_row(group.rows[0].cells), marks.of_number(group.label)) for group in grouping.groups]
    filled_down(grouping.groups, columns, mapping)
    for group, marked_as in zip(grouping.groups, marked, strict=True):
        _read(group, columns, mapping, source, ids, lists, brief, oven, marked_as)
    order = {(row.part, row.line): index for index, row in enumerate(table.rows)}
    return ImportResult(
        cooks=tuple(lists.cooks),
        refused=tuple(sorted(lists.refused, key=lambda row: order.get((row.part, row.line), 0))),
        skipped=tuple(sorted(lists.skipped, key=lambda row: order.get((row.part, row.line), 0))),
        left_out=tuple(lists.left_out),
        questions=mapping.open_questions,
        mapping=mapping,
    )


def _cook_rows(table: Table, mapping: ColumnMapping, lists: _Lists) -> list[Row]:
    """Rows that are cooks of this development; the others are listed."""
    rows = []
    for row, kind in zip(table.rows, row_kinds(table), strict=True):
        if kind != "cook":
            lists.skipped.append(RefusedRow(line=row.line, part=row.part, reason=_SKIPPED[kind]))
            continue
        reason = _not_meant(row, mapping)
        if reason:
            lists.refused.append(RefusedRow(line=row.line, part=row.part, reason=reason))
        else:
            rows.append(row)
    return rows


def _not_meant(row: Row, mapping: ColumnMapping) -> str:
    """Why a row is none of this development's, empty where it is."""
    if mapping.parts and row.part not in mapping.parts:
        return f"{row.part!r} is not among the parts that are read. Answer the question about parts to take it"
    for column, wanted in mapping.only.items():
        cell = row.cells[int(column)] if int(column) < len(row.cells) else ""
        heading = next((use.heading for use in mapping.columns if use.column == int(column)), column)
        if wanted == LEAVE_OUT:
            return f"which {heading!r} is meant was not told. Answer the question about it"
        if cell and cell.strip().lower() != wanted.strip().lower():
            return f"{heading} is {cell!r}, not {wanted!r}. Only cooks of that one are read here"
    return ""


def _read(
    group: Group,
    columns: Columns,
    mapping: ColumnMapping,
    source: str,
    ids: CookIds,
    lists: _Lists,
    brief: Brief | None,
    oven: Oven | None,
    marked_as: tuple[str, str],
) -> None:
    reading = CookReading(group, columns, mapping)
    first = group.rows[0]
    content = cook_document(reading)
    problems = list(dict.fromkeys(reading.problems))
    cook: TestCook | None = None
    if not problems:
        content["client_id"] = ids.of(content, group.label)
        if content.get("scores"):
            content["history"] = f"imported from {tidy(source)}"
        try:
            cook = TestCook.model_validate(content)
        except ValidationError as error:
            problems = problems_of(error)
    if cook is None:
        reason = " ".join(problem if problem.endswith(".") else f"{problem}." for problem in problems)
        own = [row for row in group.rows if row.layout == first.layout or columns.in_part(row.layout).has("cook_id")]
        lists.refused += dict.fromkeys(RefusedRow(line=row.line, part=row.part, reason=reason) for row in own)
        return
    remarks = [*reading.remarks, *(question.text for question in questions_about_cook(cook, brief, oven))]
    lists.left_out += dict.fromkeys(reading.left_out)
    lists.cooks.append(
        ImportedCook(
            line=first.line,
            part=first.part,
            label=group.label,
            cook=cook,
            row_mark=marked_as[0],
            number_mark=marked_as[1],
            remarks=tuple(dict.fromkeys(remarks)),
        )
    )
