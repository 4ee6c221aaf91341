"""Each row that is not taken is listed with its line and reason, the rest goes in, and nothing goes in twice."""

from __future__ import annotations

import pytest

from tests.exchange.importing import BRIEF, ONE_STAGE, OVEN_MODEL, assert_cooks, codes, imported
from tuner.exchange import guess_mapping, read_table

STAGED = "No,Oven C,Time s,Share 1,Air 1,MW 1,Share 2,Air 2,MW 2,Mass g,Core C\n"
PLAIN = "No,Oven C,Time s,Air,MW,Mass g,Core C\n"


def test_each_bad_row_is_refused_with_its_line_and_reason_and_the_rest_goes_in() -> None:
    result = imported(
        STAGED
        + """1,250,210,40,30,80,60,90,20,183,76
2,250,210,40,30,80,55,90,20,183,76
3,250,210,40,30,80,60,90,20,abc,76
4,250,210,40,30,80,60,90,20,-5,76
5,250,210,40,30,80,60,90,20,183,999
6,250,210,40,30,80,60,90,120,183,76
7,250,,40,30,80,60,90,20,183,76
8,250,210,40,30,,60,90,20,183,76
9,250,210,40,30,80,60,90,20,183,76
"""
    )
    assert codes(result) == []
    assert [one.line for one in result.cooks] == [2, 10]
    assert [row.line for row in result.refused] == [3, 4, 5, 6, 7, 8, 9]
    for row, words in zip(
        result.refused,
        (
            "40 + 55 add up to 95",
            "'abc'",
            "-5.0 g",
            "999 °C",
            "microwave_pct is 120",
            "duration",
            "microwave of a stage is missing",
        ),
        strict=True,
    ):
        assert words in row.reason
        assert row.reason.endswith(".")


def test_missing_cells_in_every_spelling_are_gaps_and_bounds_are_listed() -> None:
    result = imported(
        """No;Ofen °C;Zeit s;Luft %;MW %;Masse g;Kern 1;Kern 2;Kern 3
1;250;210;50;60;~183;76,4;?;79
2;250;210;50;60;---;k.A.;n/a;<79
3;250;210;50;60;--;-;;#N/A
"""
    )
    assert_cooks(
        result,
        {"program": ONE_STAGE, "mass_g": 183, "core_temperature_c": [76.4, 79]},
        {"program": ONE_STAGE},
        {"program": ONE_STAGE},
    )
    assert [(one.line, one.value) for one in result.left_out] == [(3, "<79")]
    assert any("approximate" in remark for remark in result.cooks[0].remarks)


def test_undercooked_cooks_keep_their_readings_and_tastings_and_are_marked_as_history() -> None:
    result = imported(
        "No,Oven C,Time s,Air,MW,Core C,Browning,Texture,Moisture\n1,250,210,50,60,58,2,2,4\n", filename="old log.csv"
    )
    [one] = result.cooks
    assert one.cook.readings_c == (58,)
    assert one.cook.scores is not None
    assert one.cook.history == "imported from old log.csv"
    assert imported(PLAIN + "1,250,210,50,60,183,58\n").cooks[0].cook.history is None


@pytest.mark.parametrize(
    ("note", "completed"),
    [
        ("power cut at 2 min", False),
        ("door opened", False),
        ("Stromausfall", False),
        ("aborted, smoke", False),
        ("coupure de courant", False),
        ("no power cut this time", None),
        ("did not open the door", None),
        ("nice crust", None),
    ],
)
def test_a_note_tells_an_interrupted_cook_unless_it_denies_it(note: str, completed: bool | None) -> None:
    result = imported(f'No,Oven C,Time s,Air,MW,Core C,Notes\n1,250,210,50,60,76,"{note}"\n')
    assert result.cooks[0].cook.completed is completed
    assert result.cooks[0].cook.note == note


def test_a_column_tells_whether_cooks_were_completed() -> None:
    result = imported(
        "No,Oven C,Time s,Air,MW,Core C,Completed?\n1,250,210,50,60,76,yes\n2,250,210,50,60,56,no\n3,250,210,50,60,56,aborted at 90 s\n4,250,210,50,60,76,\n"
    )
    assert [one.cook.completed for one in result.cooks] == [True, False, False, None]
    assert result.cooks[2].cook.interrupted_by == "aborted at 90 s"


def test_benchmarks_have_no_program() -> None:
    result = imported(
        "No,Purpose,Oven C,Time s,Air %,MW %,Mass g,Core C\n1,benchmark,190,1500,,,183,76\n2,search,250,210,50,60,183,76\n"
    )
    assert codes(result) == []
    assert_cooks(
        result,
        {"program": None, "purpose": "benchmark", "mass_g": 183, "core_temperature_c": [76]},
        {"program": ONE_STAGE, "purpose": "search", "mass_g": 183, "core_temperature_c": [76]},
    )


def test_rows_with_unlikely_values_go_in_with_remarks() -> None:
    result = imported(PLAIN + "1,250,210,50,0,250,76\n")
    assert any("mass_g 250" in remark for remark in result.cooks[0].remarks)
    assert any("no microwave" in remark for remark in result.cooks[0].remarks)


def test_true_replicates_without_numbers_are_both_kept() -> None:
    result = imported("Oven C,Time s,Air,MW,Mass g,Core C\n250,210,50,60,183,76\n250,210,50,60,183,76\n250,210,50,60,183,77\n")
    assert len({one.cook.client_id for one in result.cooks}) == 3


def test_the_same_file_gives_the_same_ids_in_any_order_separator_and_under_any_name() -> None:
    rows = ["1,250,210,50,60,183,76", "2,250,210,50,60,183,76", "3,250,210,50,60,181,77"]
    log = PLAIN + "\n".join(rows)
    first = {one.cook.client_id for one in imported(log).cooks}
    assert {one.cook.client_id for one in imported(log, filename="copy.csv").cooks} == first
    assert {one.cook.client_id for one in imported(log.replace(",", ";")).cooks} == first
    assert {one.cook.client_id for one in imported(PLAIN + "\n".join(reversed(rows))).cooks} == first
    grown = imported(log + "\n4,250,210,50,60,180,75")
    assert {one.cook.client_id for one in grown.cooks} > first


def test_a_row_that_stands_twice_under_one_number_is_taken_once_and_a_contradiction_not_at_all() -> None:
    result = imported(
        PLAIN
        + "1,250,210,50,60,183,76\n1,250,210,50,60,183,76\n2,250,210,50,60,183,77\n2,250,210,50,60,190,77\n3,250,210,50,60,183,77\n4,250,210,50,60,183,77\n"
    )
    assert [one.label for one in result.cooks] == ["1", "3", "4"]
    assert [(row.line, "taken once" in row.reason) for row in result.skipped] == [(3, True)]
    assert [row.line for row in result.refused] == [4, 5]
    assert "mass before cooking '183' and '190'" in result.refused[0].reason


def test_numbers_that_start_again_every_day_are_different_cooks() -> None:
    result = imported(
        "No,Date,Oven C,Time s,Air,MW,Core C\n1,2026-03-02T10:00Z,250,210,50,60,76\n1,2026-03-03T10:00Z,250,210,50,60,77\n"
    )
    assert [one.cook.readings_c for one in result.cooks] == [(76,), (77,)]


def test_a_number_that_names_the_program_and_not_the_cook_leaves_each_row_a_cook() -> None:
    result = imported(
        "Test,Oven C,Time s,Air,MW,Mass g,Core C\nA,250,210,50,60,183,76\nA,250,210,50,60,181,77\nB,250,200,50,60,182,75\nB,250,200,50,60,180,74\n"
    )
    assert len(result.cooks) == 4
    assert result.refused == ()


def test_rows_of_means_without_a_name_are_told_by_their_numbers() -> None:
    result = imported(
        PLAIN + "1,250,210,50,60,183,76\n2,250,210,50,60,181,77\n3,250,220,50,60,179,75\n,250,213.33,50,60,181,76\n"
    )
    assert len(result.cooks) == 3
    assert [row.line for row in result.skipped] == [5]


def test_a_taster_called_max_is_no_maximum() -> None:
    result = imported(
        "Taster,No,Oven C,Time s,Air,MW,Core C,Browning\nMax,1,250,210,50,60,76,3\nMin-Ji,1,250,210,50,60,76,3.5\n"
    )
    assert [score.taster for one in result.cooks for score in one.cook.scores or ()] == ["Max", "Min-Ji"]


def test_decimal_commas_without_quotes_in_a_comma_file_are_refused_not_shifted() -> None:
    result = imported("No,Oven C,Time s,Air,MW,Mass g,Core\n1,250,210,50,60,183,5,76,4\n2,250,210,50,60,181,77\n")
    assert [one.line for one in result.cooks] == [3]
    assert "9 cells where the heading has 7" in result.refused[0].reason


def test_a_taster_with_two_different_marks_for_one_cook_is_refused() -> None:
    result = imported("No,Oven C,Time s,Air,MW,Core C,Taster,Browning\n1,250,210,50,60,76,A,3\n1,250,210,50,60,76,A,4\n")
    assert result.cooks == ()
    assert "one mark each" in result.refused[0].reason


def test_a_remembered_mapping_answers_the_next_file_of_the_layout() -> None:
    first = imported(
        "No,Air °C,Sec,Air %,MW %,Core,Foo\n1,250,210,50,60,168,183\n", answers={"unit": "°F", "field": "mass before cooking"}
    )
    assert codes(first) == []
    kept = type(first.mapping).model_validate_json(first.mapping.model_dump_json())
    second = imported("No,Air °C,Sec,Air %,MW %,Core,Foo\n7,250,200,50,60,170,181\n", remembered=kept)
    assert codes(second) == []
    assert second.cooks[0].cook.mass_g == 181
    assert second.cooks[0].cook.readings_c == pytest.approx(((170 - 32) / 1.8,))
    other = imported("No,Air °C,Sec,Air %,MW %,Core,Bar\n7,250,200,50,60,170,181\n", remembered=kept)
    assert codes(other) == ["field:6", "unit:5"] or codes(other) == ["unit:5", "field:6"]


def test_a_person_may_correct_what_a_column_holds() -> None:
    table = read_table(b"No,Air C,Sec,Air %,MW %,Mass g,Core C,Depth\n1,250,210,50,60,183,76,74\n", "log.csv")
    mapping = guess_mapping(table, brief=BRIEF, oven=OVEN_MODEL)
    corrected = mapping.changed(7, field="core", unit="°C")
    again = guess_mapping(table, brief=BRIEF, oven=OVEN_MODEL, remembered=corrected)
    assert (again.columns[7].field, again.columns[7].by_person) == ("core", True)
    from tuner.exchange import apply_mapping

    assert apply_mapping(table, corrected, source="log.csv").cooks[0].cook.readings_c == (76, 74)


def test_answers_put_straight_into_a_mapping_are_carried_out_too() -> None:
    from tuner.exchange import apply_mapping

    table = read_table(b"No,Air C,Sec,Air %,MW %,Core\n1,250,210,50,60,168\n", "log.csv")
    mapping = guess_mapping(table, brief=BRIEF, oven=OVEN_MODEL)
    answered = type(mapping).model_validate({**mapping.model_dump(), "answers": {"unit:5": "°F"}})
    assert apply_mapping(table, answered, source="log.csv").cooks[0].cook.readings_c == pytest.approx(((168 - 32) / 1.8,))
