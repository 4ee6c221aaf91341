"""Guesses how a cook log is read, asks what is in doubt, and carries out what was answered."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from pydantic import ValidationError

from tuner.domain import Brief, InvalidDocument, Oven
from tuner.domain.wording import problems_of
from tuner.exchange.asking import Asker
from tuner.exchange.column_choice import choose_columns
from tuner.exchange.doubts import (
    ask_constants,
    ask_decimal,
    ask_fill_down,
    ask_single_values,
    choose_dish,
    choose_oven,
    choose_parts,
)
from tuner.exchange.fields import FIELDS
from tuner.exchange.file_hints import Hints, hints_from
from tuner.exchange.fingerprints import layout_of, reading_of
from tuner.exchange.mapping import ColumnMapping, ColumnUse, Expected, expected_of
from tuner.exchange.number_text import decimal_mark
from tuner.exchange.program_doubts import choose_orders, choose_shares
from tuner.exchange.row_groups import group_rows, without_dittos
from tuner.exchange.row_kinds import row_kinds
from tuner.exchange.row_parts import Columns
from tuner.exchange.settings import settle_levels, settle_scales, settle_units
from tuner.exchange.table import Row, Table
from tuner.exchange.time_doubts import choose_dates, choose_zone

_NUMERIC = ("temperature", "mass", "duration", "percent", "score")


def guess_mapping(
    table: Table,
    *,
    brief: Brief | None = None,
    oven: Oven | None = None,
    remembered: ColumnMapping | Mapping[str, Any] | None = None,
) -> ColumnMapping:
    """How a cook log is read.

    Parameters
    ----------
    table
        The file.
    brief, oven
        What is to be expected of portions and programs; they settle many doubts.
    remembered
        An earlier mapping of the same layout (or its JSON): a person's choices and answers in it are carried out, the rest is
        guessed anew from this file. A mapping of another layout is not used.

    Returns
    -------
    ColumnMapping
        With `open_questions` for what stays in doubt; nothing in doubt is taken before it is answered.

    Raises
    ------
    InvalidDocument
        If `remembered` is no mapping.
    """
    known = _known(remembered, table)
    expected = expected_of(brief, oven) if brief is not None or oven is not None else (known.expected if known else Expected())
    asker = Asker(known.answers if known else {})
    kinds = row_kinds(table)
    parts = choose_parts(table, expected, asker)
    rows = [row for row, kind in zip(table.rows, kinds, strict=True) if kind == "cook" and (not parts or row.part in parts)]
    rows = without_dittos(rows)
    values = _values(rows, len(table.columns))
    uses = choose_columns(table, values, known, expected, asker)
    hints = _hints(table, kinds, uses)
    settled = _Settling(table, rows, values, uses, hints, expected, asker)
    return settled.mapping(parts, kept=known.answers if known else {})


def _known(remembered: ColumnMapping | Mapping[str, Any] | None, table: Table) -> ColumnMapping | None:
    if remembered is None:
        return None
    if not isinstance(remembered, ColumnMapping):
        try:
            remembered = ColumnMapping.model_validate(dict(remembered))
        except ValidationError as error:
            raise InvalidDocument(problems_of(error)) from error
    return remembered if remembered.layout == layout_of(table) else None


def _values(rows: Sequence[Row], width: int) -> list[tuple[str, ...]]:
    return [tuple(row.cells[column] for row in rows if row.cells[column]) for column in range(width)]


def _hints(table: Table, kinds: Sequence[str], uses: Iterable[ColumnUse]) -> Hints:
    """Hints of lines above and below the rows, of headings and of sheet names."""
    said = [tuple(cell for cell in row.cells if cell) for row, kind in zip(table.rows, kinds, strict=True) if kind == "text"]
    fields = frozenset(use.field for use in uses)
    return hints_from([*table.titles, *said], [column.heading for column in table.columns], fields)


class _Settling:
    """Settles units, scales, orders and days of columns whose fields are known, one after the other."""

    def __init__(
        self,
        table: Table,
        rows: Sequence[Row],
        values: Sequence[tuple[str, ...]],
        uses: list[ColumnUse],
        hints: Hints,
        expected: Expected,
        asker: Asker,
    ) -> None:
        self.table, self.rows, self.values, self.uses = table, rows, values, uses
        self.hints, self.expected, self.asker = hints, expected, asker

    def mapping(self, parts: Sequence[str], kept: Mapping[str, str]) -> ColumnMapping:
        """The mapping, with every doubt asked."""
        asker, expected, hints = self.asker, self.expected, self.hints
        grouping = group_rows(self.rows, Columns(self.uses))
        self.uses, only = choose_dish(self.uses, self.values, expected, asker)
        self.uses = choose_oven(self.uses, self.values, expected, asker)
        mark = decimal_mark(cell for use in self.uses if FIELDS[use.field].kind in _NUMERIC for cell in self.values[use.column])
        self.uses = settle_units(self.uses, self.rows, hints, mark, expected, asker)
        self.uses = settle_levels(self.uses, self.values, mark, expected, asker)
        self.uses = settle_scales(self.uses, self.values, hints, mark, asker)
        ask_single_values(self.uses, self.values, mark, expected, asker)
        decimal = ask_decimal(self.uses, self.values, mark, expected, asker)
        constants = ask_constants(self.uses, self.values, hints, expected, asker)
        draft = self._draft(decimal, constants, only, grouping.by, parts, kept)
        self.uses = choose_orders(self.uses, grouping.groups, draft, hints, asker)
        self.uses = choose_shares(self.uses, grouping.groups, draft)
        self.uses = choose_dates(self.uses, self.values, hints, asker)
        zone = choose_zone(self.uses, self.values, self.table, hints, constants, asker)
        constants |= ask_fill_down(self.uses, grouping.groups, self.values, asker)
        return self._draft(decimal, constants, only, grouping.by, parts, kept, zone)

    def _draft(
        self,
        decimal: str | None,
        constants: dict[str, str],
        only: dict[str, str],
        by: str,
        parts: Sequence[str],
        kept: Mapping[str, str],
        zone: str | None = None,
    ) -> ColumnMapping:
        return ColumnMapping(
            layout=layout_of(self.table),
            file=reading_of(self.table, kept, self.uses),
            columns=tuple(self.uses),
            questions=tuple(self.asker.questions),
            answers=dict(kept),
            decimal=decimal,
            time_zone=zone,
            constants=constants,
            rows_by=by,
            only=only,
            parts=tuple(parts),
            expected=self.expected,
            remarks=tuple(self.asker.remarks),
        )
