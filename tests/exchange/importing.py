"""Imports a log as a person would: reads it, answers questions in order, takes the cooks."""

from __future__ import annotations

import io
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from openpyxl import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from tests.exchange.invented import OVEN, brief_document
from tuner.domain import Brief, Oven, TestCook
from tuner.exchange import ColumnMapping, ImportResult, apply_mapping, guess_mapping, read_table

BRIEF = Brief.model_validate(brief_document())
OVEN_MODEL = Oven.model_validate(OVEN)


def imported(
    data: str | bytes,
    *,
    answers: Mapping[str, str] | None = None,
    filename: str = "log.csv",
    brief: Brief | None = BRIEF,
    oven: Oven | None = OVEN_MODEL,
    remembered: ColumnMapping | None = None,
) -> ImportResult:
    """What a log gives; `answers` go by the beginning of the question's code."""
    table = read_table(data.encode() if isinstance(data, str) else data, filename)
    mapping = guess_mapping(table, brief=brief, oven=oven, remembered=remembered)
    for begins, answer in (answers or {}).items():
        code = next(question.code for question in mapping.questions if question.code.startswith(begins))
        mapping = guess_mapping(table, brief=brief, oven=oven, remembered=mapping.answered(code, answer))
    return apply_mapping(table, mapping, source=filename, brief=brief, oven=oven)


def codes(result: ImportResult) -> list[str]:
    """Codes of the open questions, in order."""
    return [question.code for question in result.questions]


def program(air: float, seconds: float, *stages: tuple[float, float, float]) -> dict[str, Any]:
    """A program as a document: stages as (share, air speed, microwave)."""
    parts = [{"share_pct": share, "air_speed_pct": fan, "microwave_pct": level} for share, fan, level in stages]
    return {"air_temperature_c": air, "duration_s": seconds, "stages": parts}


TWO_STAGES = program(250, 210, (40, 30, 80), (60, 90, 20))
ONE_STAGE = program(250, 210, (100, 50, 60))


def marks(**tasters: tuple[float, float, float]) -> list[dict[str, Any]]:
    """Scores as documents: taster to (browning, texture, moisture)."""
    return [{"taster": name, "browning": b, "texture": t, "moisture": m} for name, (b, t, m) in tasters.items()]


def assert_cooks(result: ImportResult, *expected: Mapping[str, Any]) -> None:
    """Check that exactly these cooks came out, in full; numbers to six digits, ids and history apart."""
    found = [document(one.cook) for one in result.cooks]
    assert len(found) == len(expected), (found, result.refused)
    for got, wanted in zip(found, expected, strict=True):
        assert _rounded(got) == _rounded(dict(wanted))


def document(cook: TestCook) -> dict[str, Any]:
    """A cook without what the import adds to it."""
    content = cook.model_dump(mode="json", exclude_unset=True)
    return {key: value for key, value in content.items() if key not in ("client_id", "history")}


def _rounded(value: Any) -> Any:
    if isinstance(value, bool) or not isinstance(value, int | float | dict | list | tuple):
        return value
    if isinstance(value, dict):
        return {key: _rounded(part) for key, part in value.items()}
    if isinstance(value, list | tuple):
        return [_rounded(part) for part in value]
    return round(float(value), 5)


def sheet(rows: Iterable[Sequence[Any]], title: str = "Sheet1", book: Workbook | None = None) -> Worksheet:
    """A worksheet of a new or a given workbook."""
    if book is None:
        book = Workbook()
        page = book.active
        assert isinstance(page, Worksheet)
        page.title = title
    else:
        page = book.create_sheet(title)
    for row in rows:
        page.append(list(row))
    return page


def saved(page: Worksheet | Workbook) -> bytes:
    """The workbook as a file."""
    book = page if isinstance(page, Workbook) else page.parent
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def celsius(fahrenheit: float) -> float:
    """°F in °C."""
    return (fahrenheit - 32) / 1.8


def grams(ounces: float) -> float:
    """oz in g."""
    return ounces * 28.349523125
