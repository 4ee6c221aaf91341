"""Logs kept as workbooks: merged headings, several sheets, turned sheets, forms, formulas, hidden columns, typed times."""

from __future__ import annotations

import io
import re
import zipfile
from datetime import date, datetime, time, timedelta
from typing import Any

from openpyxl.comments import Comment

from tests.exchange.unseen.kitchen_log import Shelf, facts, fahrenheit

SHELF = Shelf()
TWO = "40/30/80 60/90/20"
ONE_CELL = "40% 30/80 + 60% 90/20"
HEAD = ["Cook", "Oven °C", "Time s", "Stages (share fan/mw)", "Raw g", "Cooked g", "Core °C"]
ROWS = [[1, 250, 210, ONE_CELL, 181, 158, 76], [2, 250, 220, ONE_CELL, 180, 155, 78]]
PLAIN = [
    facts(air=250, s=210, st=TWO, m=181, out=158, core=[76]),
    facts(air=250, s=220, st=TWO, m=180, out=155, core=[78]),
]


def _fill(sheet: Any, rows: list[list[Any]]) -> None:
    for row in rows:
        sheet.append(row)


def _merged(book: Any) -> None:
    sheet = book.active
    _fill(sheet, [
        ["Bench log thigh"],
        ["Cook", "Oven", None, "Stage 1", None, None, "Stage 2", None, None, "Weight", None, "Core (°C)", None, None,
         "Anna", None, None, "Ben", None, None],
        [None, "°C", "s", "%", "fan", "MW", "%", "fan", "MW", "in (g)", "out (g)", "P1", "P2", "P3",
         "colour", "bite", "juice", "colour", "bite", "juice"],
        [1, 250, 210, 40, 30, 80, 60, 90, 20, 181.5, 158.2, 76.4, 77.0, 79.2, 2.5, 3, 3, 3, 3, 3.5],
        [2, 250, 220, 40, 30, 80, 60, 90, 20, 180.0, 155.2, 78.4, 79.0, 81.2, 3, 3.5, 2.5, 3, None, 3],
    ])  # fmt: skip
    for cells in ("A1:T1", "A2:A3", "B2:C2", "D2:F2", "G2:I2", "J2:K2", "L2:N2", "O2:Q2", "R2:T2"):
        sheet.merge_cells(cells)


SHELF.book(
    "merged headings in two rows",
    _merged,
    [
        facts(air=250, s=210, st=TWO, m=181.5, out=158.2, core=[76.4, 77, 79.2],
              sc={"Anna": "2.5/3/3", "Ben": "3/3/3.5"}),
        facts(air=250, s=220, st=TWO, m=180, out=155.2, core=[78.4, 79, 81.2],
              sc={"Anna": "3/3.5/2.5", "Ben": "3/-/3"}),
    ],
)  # fmt: skip


def _turned(book: Any) -> None:
    _fill(book.active, [
        ["What", "Unit", "Run 1", "Run 2", "Run 3"],
        ["Oven", "°F", 480, 480, 475],
        ["Cook time", "min:sec", "3:30", "3:40", "3:50"],
        ["Stage 1 time", "%", 40, 40, 50],
        ["Stage 1 fan", "%", 30, 30, 30],
        ["Stage 1 microwave", "%", 80, 80, 80],
        ["Stage 2 time", "%", 60, 60, 50],
        ["Stage 2 fan", "%", 90, 90, 90],
        ["Stage 2 microwave", "%", 20, 20, 20],
        ["Raw weight", "g", 181.5, 180, 182.3],
        ["Cooked weight", "g", 158.2, 155.2, 157],
        ["Core", "°F", 169, 172, 176],
    ])  # fmt: skip


SHELF.book(
    "turned, with a column of units",
    _turned,
    [
        facts(air=fahrenheit(480), s=210, st=TWO, m=181.5, out=158.2, core=[fahrenheit(169)]),
        facts(air=fahrenheit(480), s=220, st=TWO, m=180, out=155.2, core=[fahrenheit(172)]),
        facts(air=fahrenheit(475), s=230, st="50/30/80 50/90/20", m=182.3, out=157, core=[fahrenheit(176)]),
    ],
)


def _two_sheets(book: Any) -> None:
    cooks = book.active
    cooks.title = "Cooks"
    _fill(cooks, [HEAD, *ROWS])
    tasting = book.create_sheet("Tasting")
    _fill(tasting, [
        ["Cook", "Taster", "Colour", "Texture", "Moisture"],
        [1, "Anna", 2.5, 3, 3], [1, "Ben", 3, 3, 3.5], [2, "Anna", 3, 3.5, 2.5], [2, "Ben", 3, 3, 3],
    ])  # fmt: skip


SHELF.book(
    "cooks on one sheet, tasting on another",
    _two_sheets,
    [
        {**PLAIN[0], "scores": {"Anna": [2.5, 3, 3], "Ben": [3, 3, 3.5]}},
        {**PLAIN[1], "scores": {"Anna": [3, 3.5, 2.5], "Ben": [3, 3, 3]}},
    ],
)


def _programs_apart(book: Any) -> None:
    cooks = book.active
    cooks.title = "Log"
    _fill(cooks, [["Cook", "Program", "Raw g", "Cooked g", "Core °C"], [1, "T3", 181, 158, 76], [2, "T4", 180, 155, 78]])
    programs = book.create_sheet("Programs")
    _fill(programs, [
        ["Program", "Oven °C", "Time s", "Stages (share fan/mw)"],
        ["T3", 250, 210, ONE_CELL], ["T4", 250, 220, "50% 30/80 + 50% 90/20"],
    ])  # fmt: skip


SHELF.book(
    "programs on a sheet of their own, named in the log",
    _programs_apart,
    [
        facts(air=250, s=210, st=TWO, m=181, out=158, core=[76]),
        facts(air=250, s=220, st="50/30/80 50/90/20", m=180, out=155, core=[78]),
    ],
    may="stages air duration",
)


def _day_sheets(book: Any) -> None:
    first = book.active
    first.title = "13 March"
    _fill(first, [HEAD, ROWS[0]])
    second = book.create_sheet("14 March")
    _fill(second, [HEAD, ROWS[1]])
    summary = book.create_sheet("Summary")
    _fill(summary, [["", "Mean", "Best"], ["Core °C", 77, 76], ["Raw g", 180.5, 181], ["Time s", 215, 210]])


SHELF.book("a sheet a day and a summary", _day_sheets, PLAIN, may="when parts")


def _forms(book: Any) -> None:
    for number, (seconds, raw, cooked, core) in enumerate([(210, 181, 158, 76), (220, 180, 155, 78)], start=1):
        sheet = book.active if number == 1 else book.create_sheet()
        sheet.title = f"Cook {number}"
        _fill(sheet, [
            ["COOK SHEET", None], ["Cook", number], ["Oven", "250 °C"], ["Time", f"{seconds} s"],
            ["Stages (share fan/mw)", ONE_CELL], ["Raw weight", f"{raw} g"], ["Cooked weight", f"{cooked} g"],
            ["Core", f"{core} °C"], ["Signed", "AK"],
        ])  # fmt: skip


SHELF.book("a form a sheet, one cook each", _forms, [{**one, "who": "AK"} for one in PLAIN], may="column rows parts")


def _forms_below(book: Any) -> None:
    rows: list[list[Any]] = []
    for number, (seconds, raw, cooked, core) in enumerate([(210, 181, 158, 76), (220, 180, 155, 78)], start=1):
        rows += [
            ["Cook no.", number], ["Oven", "250 °C"], ["Time", f"{seconds} s"], ["Stages (share fan/mw)", ONE_CELL],
            ["Raw weight", f"{raw} g"], ["Cooked weight", f"{cooked} g"], ["Core", f"{core} °C"], [None, None],
        ]  # fmt: skip
    _fill(book.active, rows)


SHELF.book("forms below each other on one sheet", _forms_below, PLAIN, may="column rows parts")


def _side_by_side(book: Any) -> None:
    _fill(book.active, [
        [*HEAD, None, "Thermometer", "Ice °C", "Boiling °C"],
        [*ROWS[0], None, "T1", 0.2, 99.8],
        [*ROWS[1], None, "T2", 0.1, 100.1],
    ])  # fmt: skip


SHELF.book("a second table stands beside the log", _side_by_side, PLAIN, may="column")


def _typed_times(book: Any) -> None:
    sheet = book.active
    _fill(sheet, [
        ["Cook", "When", "Oven °C", "Time", "Stages (share fan/mw)", "Raw g", "Core °C", "Rest"],
        [1, datetime(2026, 3, 13, 9, 15), 250, time(3, 30), ONE_CELL, 181, 76, time(0, 2)],
        [2, datetime(2026, 3, 13, 10, 40), 250, time(3, 45), ONE_CELL, 180, 78, time(0, 2)],
    ])  # fmt: skip
    for row in (2, 3):
        sheet.cell(row, 4).number_format = "h:mm"
        sheet.cell(row, 8).number_format = "h:mm:ss"


SHELF.book(
    "times typed so that the workbook holds hours and minutes",
    _typed_times,
    [
        facts(air=250, s=210, st=TWO, m=181, core=[76], rest=120, at="2026-03-13T09:15"),
        facts(air=250, s=225, st=TWO, m=180, core=[78], rest=120, at="2026-03-13T10:40"),
    ],
    may="when duration rest",
)


def _typed_spans(book: Any) -> None:
    sheet = book.active
    _fill(sheet, [
        ["Cook", "Date", "Oven °C", "Time", "S1 share", "S1 fan", "S1 MW", "S2 share", "S2 fan", "S2 MW", "Raw", "Core"],
        [1, date(2026, 3, 13), 250, timedelta(seconds=210), 0.4, 0.3, 0.8, 0.6, 0.9, 0.2, 181.5, 76.4],
        [2, date(2026, 3, 14), 250, timedelta(seconds=225), 0.4, 0.3, 0.8, 0.6, 0.9, 0.2, 180.0, 78.4],
    ])  # fmt: skip
    for row in (2, 3):
        sheet.cell(row, 4).number_format = "[mm]:ss"
        for column in range(5, 11):
            sheet.cell(row, column).number_format = "0%"
        sheet.cell(row, 11).number_format = '0.0" g"'
        sheet.cell(row, 12).number_format = '0.0" °C"'


SHELF.book(
    "spans, percent formats and units in number formats",
    _typed_spans,
    [
        facts(air=250, s=210, st=TWO, m=181.5, core=[76.4], at="2026-03-13"),
        facts(air=250, s=225, st=TWO, m=180, core=[78.4], at="2026-03-14"),
    ],
    may="when",
)


def _hidden(book: Any) -> None:
    sheet = book.active
    _fill(sheet, [
        ["Cook", "Oven °C", "Old oven °C", "Time s", "Stages (share fan/mw)", "Raw g", "Cooked g", "Core °C"],
        [1, 250, 199, 210, ONE_CELL, 181, 158, 76],
        [2, 250, 199, 215, ONE_CELL, 180, 155, 70],
        [3, 250, 199, 220, ONE_CELL, 180, 155, 78],
    ])  # fmt: skip
    sheet.column_dimensions["C"].hidden = True
    sheet["H2"].comment = Comment("second probe said 77", "AK")


SHELF.book(
    "a hidden column and a comment",
    _hidden,
    [{**PLAIN[0], "note": "second probe said 77"}, facts(air=250, s=215, st=TWO, m=180, out=155, core=[70]), PLAIN[1]],
    may="column air",
)


def _hidden_sheet(book: Any) -> None:
    _fill(book.active, [HEAD, *ROWS])
    old = book.create_sheet("old")
    _fill(old, [HEAD, [9, 230, 300, ONE_CELL, 150, 120, 90]])
    old.sheet_state = "hidden"


SHELF.book("a hidden sheet", _hidden_sheet, PLAIN, may="parts")


def _formulas(book: Any) -> bytes:
    sheet = book.active
    _fill(sheet, [
        [*HEAD, "Loss %"],
        [1, 250, "=3*60+30", ONE_CELL, 181, 158, "=AVERAGE(75,77)", "=100*(E2-F2)/E2"],
        [2, 250, "=C2+10", ONE_CELL, 180, 155, "=78", "=100*(E3-F3)/E3"],
    ])  # fmt: skip
    out = io.BytesIO()
    book.save(out)
    cached = {"C2": "210", "C3": "220", "G2": "76", "G3": "78", "H2": "12.7071823204", "H3": "13.8888888889"}
    return _with_cached(out.getvalue(), cached)


def _with_cached(data: bytes, cached: dict[str, str]) -> bytes:
    """The workbook as a spreadsheet would save it: the last value beside each formula."""
    result = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(result, "w", zipfile.ZIP_DEFLATED) as new:
        for entry in old.infolist():
            content = old.read(entry)
            if entry.filename == "xl/worksheets/sheet1.xml":
                text = content.decode()
                for cell, value in cached.items():
                    text = re.sub(rf'(<c r="{cell}"[^>]*><f>[^<]*</f>)<v ?/>|(<c r="{cell}"[^>]*><f>[^<]*</f>)<v></v>',
                                  lambda m, value=value: f"{m.group(1) or m.group(2)}<v>{value}</v>", text)  # fmt: skip
                content = text.encode()
            new.writestr(entry, content)
    return result.getvalue()


SHELF.book("formulas with their last values", _formulas, PLAIN, may="mass_out")


def _uncalculated(book: Any) -> None:
    _fill(book.active, [
        HEAD,
        [1, 250, 210, ONE_CELL, 181, 158, 76],
        [2, 250, 220, ONE_CELL, 180, "=E3-25", 78],
    ])  # fmt: skip


SHELF.book(
    "formulas that were never calculated",
    _uncalculated,
    [PLAIN[0], facts(air=250, s=220, st=TWO, m=180, core=[78])],
)


def _label_rows(book: Any) -> None:
    sheet = book.active
    _fill(sheet, [
        ["Thigh trials", None, None, None, None, None, None],
        ["Oven: left, serial TK-1", None, None, None, None, None, None],
        ["Temperatures in °F, weights in oz", None, None, None, None, None, None],
        [None] * 7,
        ["Cook", "Oven", "Time", "Stages (share fan/mw)", "Raw", "Cooked", "Core"],
        [1, 480, "3:30", ONE_CELL, 6.4, 5.6, 169],
        [2, 480, "3:40", ONE_CELL, 6.3, 5.4, 172],
        ["mean", 480, "3:35", None, 6.35, 5.5, 170.5],
    ])  # fmt: skip


SHELF.book(
    "units told once above the table",
    _label_rows,
    [
        facts(air=fahrenheit(480), s=210, st=TWO, m=6.4 * 28.349523125, out=5.6 * 28.349523125, core=[fahrenheit(169)],
              serial="TK-1"),
        facts(air=fahrenheit(480), s=220, st=TWO, m=6.3 * 28.349523125, out=5.4 * 28.349523125, core=[fahrenheit(172)],
              serial="TK-1"),
    ],
    may="mass_in mass_out air core serial",
)  # fmt: skip


def _merged_cooks(book: Any) -> None:
    sheet = book.active
    _fill(sheet, [
        [*HEAD, "Taster", "Browning", "Texture", "Moisture"],
        [*ROWS[0], "Anna", 2.5, 3, 3],
        [None] * 7 + ["Ben", 3, 3, 3.5],
        [*ROWS[1], "Anna", 3, 3.5, 2.5],
        [None] * 7 + ["Ben", 3, 3, 3],
    ])  # fmt: skip
    for first, last in ((2, 3), (4, 5)):
        for letter in "ABCDEFG":
            sheet.merge_cells(f"{letter}{first}:{letter}{last}")


SHELF.book(
    "cells of a cook merged over its tasters",
    _merged_cooks,
    [
        {**PLAIN[0], "scores": {"Anna": [2.5, 3, 3], "Ben": [3, 3, 3.5]}},
        {**PLAIN[1], "scores": {"Anna": [3, 3.5, 2.5], "Ben": [3, 3, 3]}},
    ],
)


def _merged_stages(book: Any) -> None:
    sheet = book.active
    _fill(sheet, [
        ["Cook", "Oven °C", "Time s", "Stage", "Part of time %", "Air %", "Microwave %", "Raw g", "Core °C"],
        [1, 250, 210, 1, 40, 30, 80, 181, 76],
        [None, None, None, 2, 60, 90, 20, None, None],
        [2, 250, 220, 1, 50, 30, 80, 180, 78],
        [None, None, None, 2, 50, 90, 20, None, None],
    ])  # fmt: skip
    for first, last in ((2, 3), (4, 5)):
        for letter in "ABCHI":
            sheet.merge_cells(f"{letter}{first}:{letter}{last}")


SHELF.book(
    "cells of a cook merged over its stages",
    _merged_stages,
    [
        facts(air=250, s=210, st=TWO, m=181, core=[76]),
        facts(air=250, s=220, st="50/30/80 50/90/20", m=180, core=[78]),
    ],
)


def _same_all_day(book: Any) -> None:
    sheet = book.active
    _fill(sheet, [
        ["Date", *HEAD],
        [date(2026, 3, 13), *ROWS[0]],
        [None, *ROWS[1]],
        [date(2026, 3, 16), 3, 250, 230, ONE_CELL, 182, 157, 80],
    ])  # fmt: skip


SHELF.book(
    "the day written on the first cook of the day only",
    _same_all_day,
    [
        {**PLAIN[0], "when": "2026-03-13"},
        {**PLAIN[1], "when": "2026-03-13"},
        facts(air=250, s=230, st=TWO, m=182, out=157, core=[80], at="2026-03-16"),
    ],
    may="when",
)


def _side_by_side_days(book: Any) -> None:
    short = ["Cook", "Oven °C", "Time s", "Stages (share fan/mw)", "Raw g", "Core °C"]
    _fill(book.active, [
        [*short, None, *short],
        [1, 250, 210, ONE_CELL, 181, 76, None, 3, 250, 230, ONE_CELL, 182, 80],
        [2, 250, 220, ONE_CELL, 180, 78, None, 4, 250, 240, ONE_CELL, 179, 82],
    ])  # fmt: skip


SHELF.book(
    "the log goes on in a second block beside the first",
    _side_by_side_days,
    [
        facts(air=250, s=s, st=TWO, m=m, core=[c])
        for s, m, c in ((210, 181, 76), (220, 180, 78), (230, 182, 80), (240, 179, 82))
    ],
    may="column rows parts air duration stages mass_in core",
)


def _numbers_as_text(book: Any) -> None:
    _fill(book.active, [
        HEAD,
        ["1", "250", "210", ONE_CELL, "181,5", "158,2", "76,4"],
        ["2", "250", "220", ONE_CELL, "180,0", "155,2", "78,4"],
    ])  # fmt: skip


SHELF.book(
    "numbers kept as text with decimal commas",
    _numbers_as_text,
    [
        facts(air=250, s=210, st=TWO, m=181.5, out=158.2, core=[76.4]),
        facts(air=250, s=220, st=TWO, m=180, out=155.2, core=[78.4]),
    ],
)
