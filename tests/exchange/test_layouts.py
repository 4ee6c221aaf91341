"""Cook logs as kitchens keep them: each layout is read rightly, or what is doubtful is asked."""

from __future__ import annotations

import io
from contextlib import suppress

import pytest
from openpyxl import Workbook

from tests.exchange.invented import OVEN, brief_document
from tuner.domain import Brief, InvalidDocument, Oven
from tuner.exchange import ImportResult, apply_mapping, guess_mapping, read_table

BRIEF = Brief.model_validate(brief_document())
KITCHEN_OVEN = Oven.model_validate(OVEN)


def imported(data: str | bytes, name: str = "log.csv") -> tuple[ImportResult, list[str]]:
    table = read_table(data.encode() if isinstance(data, str) else data, name)
    mapping = guess_mapping(table, brief=BRIEF, oven=KITCHEN_OVEN)
    return apply_mapping(table, mapping, source=name), [question.text for question in mapping.questions]


PLAIN = """cook,air temperature C,duration s,stages,mass in g,start C,core 1 C,core 2 C,core 3 C,rest s,covered,mass out g,taster,browning,texture,moisture
1,250,210,40% 30/80 | 60% 90/20,183,4.6,76.4,77.0,79.1,120,yes,160.2,A,2.5,3,3
"""


def test_which_of_two_levels_is_the_air_speed_is_asked_and_the_answer_taken() -> None:
    table = read_table(PLAIN.encode(), "log.csv")
    mapping = guess_mapping(table, brief=BRIEF, oven=KITCHEN_OVEN)
    [question] = [question for question in mapping.questions if "air speed" in question.text]
    assert not apply_mapping(table, mapping, source="log.csv").cooks
    answered = type(mapping).model_validate({**mapping.model_dump(), "answers": {question.code: question.choices[0]}})
    cook = apply_mapping(table, answered, source="log.csv").cooks[0].cook
    assert cook.program is not None
    first = cook.program.stages[0]
    assert {first.air_speed_pct, first.microwave_pct} == {30, 80}
    assert cook.mass_g == 183
    assert cook.readings_c == (76.4, 77.0, 79.1)
    assert cook.rest_s == 120


GERMAN = """Versuch;Luft °C;Dauer;S1 Anteil %;S1 Luft %;S1 Mikrowelle %;S2 Anteil %;S2 Luft %;S2 Mikrowelle %;Gewicht vorher g;Starttemperatur °C;Kern 1 °C;Kern 2 °C;Kern 3 °C;Gewicht nachher g;Bemerkung
1;250;3:30;40;30;80;60;90;20;183,0;4,6;76,4;77,0;79,1;160,2;gut
2;250;3:45;40;30;80;60;90;20;181,5;4,1;78,9;79,2;80,0;157,9;
Mittel;;;;;;;;;182,3;4,4;77,7;78,1;79,6;159,1;
"""


def test_semicolons_decimal_commas_and_german_headings_with_a_row_of_means() -> None:
    result, _ = imported(GERMAN)
    assert [found.cook.mass_g for found in result.cooks] == [183.0, 181.5]
    first = result.cooks[0].cook
    assert first.program is not None
    assert first.program.duration_s == 210
    assert [(s.share_pct, s.air_speed_pct, s.microwave_pct) for s in first.program.stages] == [(40, 30, 80), (60, 90, 20)]
    assert first.readings_c == (76.4, 77.0, 79.1)
    assert first.mass_out_g == 160.2
    assert len(result.skipped) == 1


FAHRENHEIT = """Cook\tOven air °F\tTime m:ss\tStage 1 share %\tStage 1 air speed %\tStage 1 microwave %\tStage 2 share %\tStage 2 air speed %\tStage 2 microwave %\tWeight in oz\tStart °F\tCore °F\tWeight out oz
1\t482\t3:30\t40\t30\t80\t60\t90\t20\t6.4\t40\t169.5/170.6/174.4\t5.65
"""


def test_fahrenheit_ounces_and_tabs_with_units_in_the_headings() -> None:
    result, _ = imported(FAHRENHEIT)
    cook = result.cooks[0].cook
    assert cook.program is not None
    assert cook.program.air_temperature_c == pytest.approx(250, abs=0.1)
    assert cook.mass_g == pytest.approx(181.4, abs=0.1)
    assert cook.start_temperature_c == pytest.approx(4.44, abs=0.01)
    assert cook.readings_c == pytest.approx((76.39, 77.0, 79.11), abs=0.01)


def test_readings_without_a_unit_that_fit_both_scales_are_asked_about() -> None:
    text = """cook,air,duration,stage 1 share,stage 1 air speed,stage 1 microwave,mass,core
1,250,210,100,50,60,183,168
2,250,210,100,50,60,182,171
"""
    result, questions = imported(text)
    assert any("°F" in question for question in questions)
    assert all(not found.cook.readings_c for found in result.cooks)


def test_one_row_a_taster_becomes_one_cook() -> None:
    text = """cook;air temperature °C;duration s;stage 1 share %;stage 1 air speed %;stage 1 microwave %;mass in g;core 1 °C;core 2 °C;core 3 °C;taster;browning;texture;moisture
1;250;210;100;60;60;183;76,4;77,0;79,1;A;2,5;3;3
1;250;210;100;60;60;183;76,4;77,0;79,1;B;3;3;3,5
2;250;230;100;60;60;181;78,0;78,5;80,2;A;3,5;3;2,5
"""
    result, _ = imported(text)
    assert len(result.cooks) == 2
    marks = [(score.taster, score.browning) for score in result.cooks[0].cook.scores or ()]
    assert marks == [("A", 2.5), ("B", 3.0)]


def test_merged_headings_in_a_workbook() -> None:
    book = Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.append(["Trial log, left oven"])
    sheet.append([])
    sheet.append(["No", "Program", None, "Stage 1", None, None, "Stage 2", None, None, "Mass", None, "Core °C", None, None])
    sheet.append(
        [
            None,
            "air °C",
            "time s",
            "share %",
            "air %",
            "microwave %",
            "share %",
            "air %",
            "microwave %",
            "in g",
            "out g",
            1,
            2,
            3,
        ]
    )
    for start, end in ((2, 3), (4, 6), (7, 9), (10, 11), (12, 14)):
        sheet.merge_cells(start_row=3, end_row=3, start_column=start, end_column=end)
    sheet.append([1, 250, 210, 40, 30, 80, 60, 90, 20, 183, 160.2, 76.4, 77, 79.1])
    sheet.append([2, 255, 220, 40, 30, 80, 60, 90, 20, 180, 158, 77.4, 78, 80.1])
    data = io.BytesIO()
    book.save(data)
    result, _ = imported(data.getvalue(), "log.xlsx")
    assert [found.cook.mass_g for found in result.cooks] == [183, 180]
    cook = result.cooks[1].cook
    assert cook.program is not None
    assert (cook.program.air_temperature_c, cook.program.duration_s) == (255, 220)
    assert cook.program.stages[0].microwave_pct == 80
    assert cook.readings_c == (77.4, 78, 80.1)
    assert cook.mass_out_g == 158


def test_a_row_whose_shares_do_not_add_up_is_refused_with_its_line_and_the_rest_goes_in() -> None:
    text = GERMAN.replace("2;250;3:45;40;30;80;60", "2;250;3:45;40;30;80;70")
    result, _ = imported(text)
    assert len(result.cooks) == 1
    assert len(result.refused) == 1
    assert result.refused[0].line == 3
    assert "100" in result.refused[0].reason


def test_the_same_file_gives_the_same_ids_and_replicates_keep_their_own() -> None:
    twice = "\n".join([*GERMAN.splitlines()[:2], GERMAN.splitlines()[1].replace("1;", "2;", 1), ""])
    first, _ = imported(twice)
    again, _ = imported(twice)
    assert [found.cook.client_id for found in first.cooks] == [found.cook.client_id for found in again.cooks]
    assert len({found.cook.client_id for found in first.cooks}) == 2


def test_missing_cells_are_left_out_not_zero() -> None:
    text = GERMAN.replace("183,0;4,6;76,4;77,0;79,1;160,2", "---;n/a;76,4;?;79,1;-")
    result, _ = imported(text)
    cook = result.cooks[0].cook
    assert cook.mass_g is None
    assert cook.start_temperature_c is None
    assert cook.readings_c == (76.4, 79.1)
    assert cook.mass_out_g is None


def test_windows_encoding_and_a_separator_line_are_understood() -> None:
    result, _ = imported(("sep=;\r\n" + GERMAN.replace("\n", "\r\n")).encode("cp1252"))
    assert len(result.cooks) == 2


@pytest.mark.parametrize("data", [b"", b"\x00\xff\xfe", b"PK\x03\x04 not a workbook", b"a;b\n", "ünï".encode("utf-16")])
def test_what_is_no_log_is_answered_not_crashed(data: bytes) -> None:
    for name in ("log.csv", "log.xlsx"):
        with suppress(InvalidDocument):
            result, _ = imported(data, name)
            assert not result.cooks
