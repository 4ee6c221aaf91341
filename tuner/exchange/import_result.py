"""What came out of a cook log: cooks, rows refused, rows skipped, and values that were not taken."""

from __future__ import annotations

from pydantic import Field

from tuner.domain import TestCook
from tuner.domain.model import Model, Text, Whole
from tuner.exchange.mapping import ColumnMapping, ImportQuestion


class ImportedCook(Model):
    """One cook read from a log.

    Attributes
    ----------
    line
        Line (or sheet row, or column of a turned sheet) where it begins, counted from 1.
    part
        Sheet, empty in a text file.
    label
        The log's own number of the cook, empty where it has none.
    cook
        The cook, with a `client_id` made from its content.
    row_mark, number_mark
        Fingerprints of its first row as it stands, and of its number (empty without one), in this layout: neither depends on
        what was answered.
    remarks
        What is unlikely, approximate or was worked out; worth a look.
    """

    line: Whole = Field(ge=0)
    part: Text = ""
    label: Text = ""
    cook: TestCook
    row_mark: Text = ""
    number_mark: Text = ""
    remarks: tuple[Text, ...] = ()


class RefusedRow(Model):
    """One row that is not taken, with the reason: what, rule, what to do."""

    line: Whole = Field(ge=0)
    part: Text = ""
    reason: Text


class LeftOut(Model):
    """One value of a cook that is taken without it, because a question is open or the cell says too little."""

    line: Whole = Field(ge=0)
    part: Text = ""
    column: Text
    value: Text
    reason: Text


class ImportResult(Model):
    """Everything that a log gave.

    Attributes
    ----------
    cooks
        Cooks in the order of the log.
    refused
        Rows that are not taken, each with its reason.
    skipped
        Blank rows, totals, titles and the like.
    left_out
        Single values that were not taken although their cook was.
    questions
        What is still open.
    mapping
        The mapping as it was used, all answers carried out.
    """

    cooks: tuple[ImportedCook, ...]
    refused: tuple[RefusedRow, ...]
    skipped: tuple[RefusedRow, ...]
    left_out: tuple[LeftOut, ...]
    questions: tuple[ImportQuestion, ...]
    mapping: ColumnMapping
