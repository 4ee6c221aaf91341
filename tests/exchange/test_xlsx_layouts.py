"""Cook logs as workbooks: merged headings, cells shown in ways of their own, several sheets."""

from __future__ import annotations

from datetime import date, datetime, time

from openpyxl import Workbook

from tests.exchange.importing import (
    ONE_STAGE,
    TWO_STAGES,
    assert_cooks,
    celsius,
    codes,
    grams,
    imported,
    marks,
    program,
    saved,
    sheet,
)
from tuner.exchange import read_table

PLAIN = ["Cook", "Air °C", "Sec", "Air %", "MW %", "Mass (g)", "Core"]


def test_merged_groups_titles_with_units_shares_as_per_cent_cells_and_times_typed_as_times_of_day() -> None:
    page = sheet(
        [
            ["Test cooks - turkey slice"],
            ["all temperatures in °F, weights in oz"],
            [],
            [
                "Cook",
                "Date",
                "Oven",
                None,
                "Stage 1",
                None,
                None,
                "Stage 2",
                None,
                None,
                "Weight",
                None,
                "Core",
                None,
                None,
                "Rest",
            ],
            [None, None, "temp", "time", "share", "air", "mw", "share", "air", "mw", "in", "out", 1, 2, 3],
            [1, datetime(2026, 3, 2, 10, 15), 482, time(3, 30), 0.4, 30, 80, 0.6, 90, 20, 6.4, 5.7, 168, 170, 172, time(2, 0)],
            [2, datetime(2026, 3, 2, 11, 15), 482, time(3, 20), 0.5, 30, 80, 0.5, 90, 20, 6.3, 5.6, 165, 166, 168, time(2, 0)],
            ["Average", None, "=AVERAGE(C6:C7)"],
        ]
    )
    for area in ("A1:P1", "C4:D4", "E4:G4", "H4:J4", "K4:L4", "M4:O4", "A4:A5", "B4:B5", "P4:P5"):
        page.merge_cells(area)
    for row in (6, 7):
        for column, number_format in ((4, "h:mm"), (5, "0%"), (8, "0%"), (16, "h:mm")):
            page.cell(row, column).number_format = number_format
    result = imported(saved(page), filename="log.xlsx", answers={"time_zone": "UTC"})
    assert codes(result) == []
    assert_cooks(
        result,
        {
            "program": TWO_STAGES,
            "mass_g": grams(6.4),
            "core_temperature_c": [celsius(168), celsius(170), celsius(172)],
            "rest_s": 120,
            "mass_out_g": grams(5.7),
            "cooked_at": "2026-03-02T10:15:00Z",
        },
        {
            "program": program(250, 200, (50, 30, 80), (50, 90, 20)),
            "mass_g": grams(6.3),
            "core_temperature_c": [celsius(165), celsius(166), celsius(168)],
            "rest_s": 120,
            "mass_out_g": grams(5.6),
            "cooked_at": "2026-03-02T11:15:00Z",
        },
    )
    assert [row.line for row in result.skipped] == [8]


def test_scores_on_a_sheet_of_their_own_are_joined_by_the_number_of_the_cook() -> None:
    cooks = sheet([PLAIN, [1, 250, 210, 50, 60, 183, 76], [2, 250, 210, 50, 60, 181, 77]], "Cooks")
    book = cooks.parent
    scores = [[1, "A", 2.5, 3, 3], [1, "B", 3, 3, 3.5], [2, "A", 3, 3, 3], [9, "A", 3, 3, 3]]
    sheet([["Cook", "Taster", "Browning", "Texture", "Moisture"], *scores], "Tasting", book)
    sheet([["Oven", "Serial"], ["Left", "X1"]], "Ovens", book)
    result = imported(saved(cooks), filename="log.xlsx")
    assert codes(result) == []
    assert_cooks(
        result,
        {"program": ONE_STAGE, "mass_g": 183, "core_temperature_c": [76], "scores": marks(A=(2.5, 3, 3), B=(3, 3, 3.5))},
        {"program": ONE_STAGE, "mass_g": 181, "core_temperature_c": [77], "scores": marks(A=(3, 3, 3))},
    )
    [lost] = result.refused
    assert (lost.part, lost.line) == ("Tasting", 5)
    assert "no cook has that number" in lost.reason


def test_programs_by_name_are_explained_on_a_sheet_of_their_own() -> None:
    log = sheet([["Cook", "Program", "Mass g", "Core C"], [1, "P1", 183, 76], [2, "P2", 181, 77], [3, "P9", 180, 75]], "Log")
    legend = [["P1", 250, 210, "40% 30/80 | 60% 90/20"], ["P2", 250, 210, "100% 50/60"]]
    sheet([["Program", "Air °C", "Time s", "Stages (share air/mw)"], *legend], "Programs", log.parent)
    result = imported(saved(log), filename="log.xlsx")
    assert codes(result) == []
    assert_cooks(
        result,
        {"program": TWO_STAGES, "mass_g": 183, "core_temperature_c": [76]},
        {"program": ONE_STAGE, "mass_g": 181, "core_temperature_c": [77]},
    )
    assert [(row.line, "'P9'" in row.reason) for row in result.refused] == [(4, True)]


def test_cells_merged_over_the_rows_of_tasters() -> None:
    head = [250, 210, 50, 60, "76.4/77/79"]
    page = sheet(
        [
            ["Cook", "Air °C", "Sec", "Air %", "MW %", "Core", "Taster", "Browning", "Texture", "Moisture"],
            [1, *head, "A", 2.5, 3, 3],
            [None] * 6 + ["B", 3, 3, 3],
            [2, *head, "A", 2.5, 3, 3],
            [None] * 6 + ["B", 3, 3, 3],
        ]
    )
    for letter in "ABCDEF":
        page.merge_cells(f"{letter}2:{letter}3")
        page.merge_cells(f"{letter}4:{letter}5")
    expected = {"program": ONE_STAGE, "core_temperature_c": [76.4, 77, 79], "scores": marks(A=(2.5, 3, 3), B=(3, 3, 3))}
    assert_cooks(imported(saved(page), filename="log.xlsx"), expected, expected)


def test_units_that_only_the_number_formats_show() -> None:
    page = sheet(
        [
            ["#", "Cavity", "Time", "Fan", "Microwave", "Raw", "Cooked", "Centre"],
            [1, 482, time(0, 3, 30), 0.5, 0.6, 6.4, 5.7, 168.5],
        ]
    )
    formats = {2: '0" °F"', 3: "mm:ss", 4: "0%", 5: "0%", 6: '0.0" oz"', 7: '0.0\\ "oz"', 8: '0.0"°F"'}
    for column, number_format in formats.items():
        page.cell(2, column).number_format = number_format
    result = imported(saved(page), filename="log.xlsx")
    assert codes(result) == []
    expected = {"program": ONE_STAGE, "mass_g": grams(6.4), "core_temperature_c": [celsius(168.5)], "mass_out_g": grams(5.7)}
    assert_cooks(result, expected)


def test_a_sheet_turned_on_its_side_with_two_lines_of_groups() -> None:
    page = sheet(
        [
            ["Cook", 1, 2],
            ["Air temperature [°C]", 250, 250],
            ["Total time", time(3, 30), time(3, 30)],
            ["Stage 1 share %", 40, 40],
            ["Stage 1 air %", 30, 30],
            ["Stage 1 mw %", 80, 80],
            ["Stage 2 share %", 60, 60],
            ["Stage 2 air %", 90, 90],
            ["Stage 2 mw %", 20, 20],
            ["Weight in g", 183, 181],
            ["Core 1 °C", 76.4, 75],
            ["Core 2 °C", 77, 76],
            ["Notes", "ok", "power cut"],
        ]
    )
    result = imported(saved(page), filename="log.xlsx")
    assert codes(result) == []
    first = {"program": TWO_STAGES, "mass_g": 183, "core_temperature_c": [76.4, 77], "note": "ok"}
    second = {"program": TWO_STAGES, "mass_g": 181, "core_temperature_c": [75, 76], "note": "power cut"}
    assert_cooks(result, first, {**second, "completed": False, "interrupted_by": "power cut"})


def test_sheets_named_by_day_are_all_read_and_numbers_may_start_again() -> None:
    monday = sheet([PLAIN, [1, 250, 210, 50, 60, 183, 76], [2, 250, 210, 50, 60, 181, 77]], "Monday")
    sheet([PLAIN, [1, 250, 210, 50, 60, 182, 75], [2, 250, 210, 50, 60, 181, 77]], "Tuesday", monday.parent)
    result = imported(saved(monday), filename="log.xlsx")
    assert codes(result) == []
    assert [(one.part, one.line, one.cook.mass_g) for one in result.cooks] == [
        ("Monday", 2, 183),
        ("Monday", 3, 181),
        ("Tuesday", 2, 182),
        ("Tuesday", 3, 181),
    ]
    assert len({one.cook.client_id for one in result.cooks}) == 4


def test_sheets_named_by_dish_are_asked_about_unless_one_is_this_dish() -> None:
    def book(other: str) -> bytes:
        first = sheet([PLAIN, [1, 250, 210, 50, 60, 150, 76]], "Barley pie")
        sheet([PLAIN, [1, 250, 210, 50, 60, 183, 76]], other, first.parent)
        return saved(first)

    asked = imported(book("Lentil loaf"), filename="log.xlsx")
    assert codes(asked) == ["parts"]
    assert asked.cooks == ()
    answered = imported(book("Lentil loaf"), filename="log.xlsx", answers={"parts": "Lentil loaf"})
    assert [one.cook.mass_g for one in answered.cooks] == [183]
    known = imported(book("Turkey and barley slice"), filename="log.xlsx")
    assert codes(known) == []
    assert [one.cook.mass_g for one in known.cooks] == [183]


def test_days_without_times_text_that_looks_like_numbers_and_yes_as_truth() -> None:
    page = sheet([[*PLAIN, "Day", "Lot", "Covered"], [1, 250, 210, 50, 60, 183, 76, date(2026, 3, 2), "007", True]])
    result = imported(saved(page), filename="log.xlsx", answers={"time_zone": "UTC"})
    [one] = result.cooks
    assert (one.cook.lot, one.cook.rest_covered) == ("007", True)
    assert one.cook.cooked_at is not None
    assert one.cook.cooked_at.isoformat() == "2026-03-02T00:00:00+00:00"


def test_a_number_with_three_decimals_is_never_a_thousand_in_a_workbook() -> None:
    page = sheet([["Cook", "Air °C", "Sec", "Air %", "MW %", "Mass kg", "Core"], [1, 250, 210, 50, 60, 1.183, 76]])
    result = imported(saved(page), filename="log.xlsx")
    assert codes(result) == []
    assert result.cooks[0].cook.mass_g == 1183


def test_a_formula_that_was_never_calculated_is_listed_not_taken_for_empty() -> None:
    page = sheet([PLAIN, [1, 250, 210, 50, 60, "=100+83", 76]])
    result = imported(saved(page), filename="log.xlsx")
    assert result.cooks[0].cook.mass_g is None
    assert [(one.column, "formula" in one.reason) for one in result.left_out] == [("Mass (g)", True)]


def test_hidden_sheets_are_not_read() -> None:
    page = sheet([PLAIN, [1, 250, 210, 50, 60, 183, 76]], "Log")
    hidden = sheet([PLAIN, [1, 250, 210, 50, 60, 999, 76]], "Old", page.parent)
    hidden.sheet_state = "hidden"
    assert read_table(saved(page), "log.xlsx").sheets == ("Log",)


def test_a_workbook_without_rows_is_refused_in_words() -> None:
    import pytest

    from tuner.domain import InvalidDocument

    with pytest.raises(InvalidDocument, match="no rows"):
        read_table(saved(Workbook()), "log.xlsx")
