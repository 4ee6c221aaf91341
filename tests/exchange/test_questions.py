"""What is doubtful is asked, never guessed; what is not doubtful is not asked."""

from __future__ import annotations

import pytest

from tests.exchange.importing import ONE_STAGE, assert_cooks, celsius, codes, grams, imported, marks, program
from tuner.domain import InvalidDocument
from tuner.exchange import LEAVE_OUT


def log(heading: str, *cells: str, base: str = "Air °C,Sec,Air %,MW %", values: str = "250,210,50,60") -> str:
    """A log of plain programs with further columns."""
    return f"No,{base},{heading}\n" + "".join(f"{number},{values},{cell}\n" for number, cell in enumerate(cells, start=1))


def test_core_temperatures_without_a_unit_that_can_only_be_fahrenheit_are_asked_about_never_converted_silently() -> None:
    result = imported(log("Core", "168", "171"))
    assert codes(result) == ["unit:5"]
    assert result.questions[0].choices == ("°F", "°C", LEAVE_OUT)
    assert [one.cook.core_temperature_c for one in result.cooks] == [None, None]
    assert [(one.line, one.value) for one in result.left_out] == [(2, "168"), (3, "171")]
    answered = imported(log("Core", "168", "171"), answers={"unit": "°F"})
    expected = [{"program": ONE_STAGE, "core_temperature_c": [celsius(value)]} for value in (168, 171)]
    assert_cooks(answered, *expected)
    left = imported(log("Core", "168", "171"), answers={"unit": LEAVE_OUT})
    assert codes(left) == []
    assert [one.cook.core_temperature_c for one in left.cooks] == [None, None]


def test_core_temperatures_that_can_only_be_celsius_are_not_asked_about() -> None:
    result = imported(log("Core", "76.4", "71"))
    assert codes(result) == []
    assert [one.cook.readings_c for one in result.cooks] == [(76.4,), (71,)]


def test_a_single_reading_typed_in_the_other_scale_is_asked_about_alone() -> None:
    cells = ("76", "77", "168", "75")
    result = imported(log("Core C", *cells))
    assert codes(result) == ["value:5:168"]
    assert [one.cook.readings_c for one in result.cooks] == [(76,), (77,), (), (75,)]
    answered = imported(log("Core C", *cells), answers={"value": "°F"})
    assert answered.cooks[2].cook.readings_c == pytest.approx((celsius(168),))
    kept = imported(log("Core C", *cells), answers={"value": "°C"})
    assert kept.cooks[2].cook.readings_c == (168,)
    assert any("boils" in remark for remark in kept.cooks[2].remarks)


def test_a_heading_whose_unit_its_values_contradict_is_asked_about() -> None:
    result = imported(log("Core [°C]", "168", "171", "166"))
    assert codes(result) == ["unit:5"]
    assert "heading says °C" in result.questions[0].text


def test_start_temperatures_that_fit_both_scales_are_asked_about_without_a_brief() -> None:
    rows = log("Start temp", "4", "5", base="Oven F,Sec,Air %,MW %", values="482,210,50,60")
    assert codes(imported(rows, brief=None)) == ["unit:5"]
    assert codes(imported(rows)) == []


def test_masses_without_a_unit_are_grams_where_that_fits_and_asked_about_elsewhere() -> None:
    assert codes(imported(log("Mass", "183", "181"))) == []
    result = imported(log("Mass", "6.4", "6.3"))
    assert codes(result) == ["unit:5"]
    assert result.questions[0].choices[0] == "oz"
    answered = imported(log("Mass", "6.4", "6.3"), answers={"unit": "oz"})
    assert [one.cook.mass_g for one in answered.cooks] == pytest.approx([grams(6.4), grams(6.3)])


def test_mass_out_takes_the_unit_that_leaves_a_possible_part_of_mass_in() -> None:
    result = imported(log("Mass in (oz),Mass out", "6.4,5.7", "6.3,5.6"))
    assert codes(result) == []
    assert result.cooks[0].cook.mass_out_g == pytest.approx(grams(5.7))


def test_times_without_a_unit_that_are_no_seconds_are_asked_about() -> None:
    rows = log("Core C", "76", "77", base="Air °C,Time,Air %,MW %", values="250,3.5,50,60")
    result = imported(rows)
    assert codes(result) == ["unit:2"]
    assert result.questions[0].choices[:2] == ("min", "min.ss")
    assert result.cooks == ()
    answered = imported(rows, answers={"unit": "min"})
    assert_cooks(answered, *({"program": ONE_STAGE, "core_temperature_c": [core]} for core in (76, 77)))


def test_a_point_that_may_stand_for_a_colon_is_asked_about() -> None:
    rows = log("Core C", "76", base="Air °C,Time,Air %,MW %", values="250,3.30,50,60")
    assert imported(rows).questions[0].choices[:2] == ("min.ss", "min")
    assert_cooks(imported(rows, answers={"unit": "min.ss"}), {"program": ONE_STAGE, "core_temperature_c": [76]})


def test_a_comma_or_point_before_three_digits_is_asked_about_where_both_readings_are_possible() -> None:
    rows = "No;Air °C;Sec;Air %;MW %;Mass g\n1;250;210;50;60;1.250\n2;250;210;50;60;1.310\n"
    result = imported(rows, brief=None)
    assert [one.cook.mass_g for one in result.cooks] == [1250, 1310]  # 1.25 g is no portion
    pieces = "No;Air °C;Sec;Air %;MW %;Since last cook s\n1;250;210;50;60;1.250\n2;250;210;50;60;9.900\n"
    assert codes(imported(pieces)) == []
    doubtful = imported(rows)
    assert codes(doubtful) == ["decimal"]
    answered = imported(rows, answers={"decimal": "thousands mark"})
    assert [one.cook.mass_g for one in answered.cooks] == [1250, 1310]


def test_other_numbers_of_the_file_tell_its_decimal_mark() -> None:
    rows = "No;Air °C;Sec;Air %;MW %;Mass g;Core C\n1;250;210;50;60;1.250;76,4\n2;250;210;50;60;1.310,5;77\n"
    result = imported(rows)
    assert codes(result) == []
    assert [one.cook.mass_g for one in result.cooks] == [1250, 1310.5]


def test_days_are_read_without_a_question_once_one_of_them_tells_the_order() -> None:
    told = imported(log("Date", "3/2/2026 10:00Z", "13/2/2026 10:00Z"))
    assert codes(told) == []
    assert [str(one.cook.cooked_at)[:10] for one in told.cooks] == ["2026-02-03", "2026-02-13"]
    asked = imported(log("Date", "3/2/2026 10:00Z", "4/2/2026 10:00Z"))
    assert codes(asked) == ["dates:5"]
    assert [one.cook.cooked_at for one in asked.cooks] == [None, None]
    answered = imported(log("Date", "3/2/2026 10:00Z", "4/2/2026 10:00Z"), answers={"dates": "month/day/year"})
    assert [str(one.cook.cooked_at)[:10] for one in answered.cooks] == ["2026-03-02", "2026-04-02"]


def test_the_zone_is_asked_for_naive_times_only_and_a_title_may_tell_it() -> None:
    assert codes(imported(log("Date", "2026-03-02T10:15:00Z"))) == []
    assert codes(imported(log("Date", "2026-03-02 10:15"))) == ["time_zone"]
    titled = imported("All times in UTC\n" + log("Date", "2026-03-02 10:15"))
    assert codes(titled) == []
    assert str(titled.cooks[0].cook.cooked_at) == "2026-03-02 10:15:00+00:00"
    left = imported(log("Date", "2026-03-02 10:15"), answers={"time_zone": LEAVE_OUT})
    assert left.cooks[0].cook.cooked_at is None


def test_a_zone_nobody_knows_leaves_the_times_out() -> None:
    result = imported(log("Date", "2026-03-02 10:15"), answers={"time_zone": "Atlantis/Centre"})
    assert result.cooks[0].cook.cooked_at is None
    assert [one.value for one in result.left_out] == ["2026-03-02 10:15"]


def test_days_without_a_year_ask_for_it() -> None:
    result = imported(log("Date", "2 Mar", "3 Mar"))
    assert codes(result) == ["year", "time_zone"]
    answered = imported(log("Date", "2 Mar", "3 Mar"), answers={"year": "2026", "time_zone": "UTC"})
    assert [str(one.cook.cooked_at)[:10] for one in answered.cooks] == ["2026-03-02", "2026-03-03"]


@pytest.mark.parametrize(
    ("heading", "cells", "first", "answer", "expected"),
    [
        ("Browning (1-10),Texture,Moisture", ("5,6,5", "7,5,10"), "1-10", "1-10", [(3, 3, 3), (3.5, 3, 5)]),
        ("Browning,Texture,Moisture", ("-1,0,0", "2,0,-2"), "-2 to 2", "-2 to 2", [(2, 3, 3), (5, 3, 1)]),
        ("Browning,Texture,Moisture", ("0,50,50", "100,50,75"), "0-100", "0-100", [(1, 3, 3), (5, 3, 4)]),
    ],
)
def test_marks_on_other_scales_are_asked_about(
    heading: str, cells: tuple[str, ...], first: str, answer: str, expected: list
) -> None:
    result = imported(log(heading, *cells))
    assert codes(result) == ["scale:browning+texture+moisture"]
    assert result.questions[0].choices[0] == first
    assert all(one.cook.scores is None for one in result.cooks)
    answered = imported(log(heading, *cells), answers={"scale": answer})
    assert [document for one in answered.cooks for document in (one.cook.scores or ())] == [
        type(answered.cooks[0].cook.scores[0]).model_validate(marks(panel=wanted)[0])  # type: ignore[index]
        for wanted in expected
    ]


def test_marks_that_crowd_at_the_top_are_asked_about_and_ordinary_ones_are_not() -> None:
    assert codes(imported(log("Browning,Texture,Moisture", "4,5,4", "5,5,4"))) == ["scale:browning+texture+moisture"]
    assert codes(imported(log("Browning,Texture,Moisture", "4,3,4", "3,3.5,4"))) == []


def test_marks_between_halves_are_asked_about() -> None:
    rows = log("Browning,Texture", "2.7,3", "3,3.2")
    assert codes(imported(rows)) == ["halves"]
    answered = imported(rows, answers={"halves": "nearest half mark"})
    assert [(score.browning, score.texture) for one in answered.cooks for score in one.cook.scores or ()] == [(2.5, 3), (3, 3)]


def test_levels_that_go_only_to_ten_are_asked_about() -> None:
    rows = log("Core C", "76", "77", base="Air °C,Sec,Air,MW", values="250,210,5,6")
    assert codes(imported(rows)) == ["level:levels"]
    answered = imported(rows, answers={"level": "steps of ten (8 is 80 %)"})
    assert_cooks(answered, *({"program": ONE_STAGE, "core_temperature_c": [core]} for core in (76, 77)))


def test_microwave_in_watts_is_asked_about_and_read_against_the_rated_power() -> None:
    from tests.exchange.invented import OVEN
    from tuner.domain import Oven

    rows = log("Core C", "76", base="Air °C,Sec,Air %,MW W", values="250,210,50,900")
    assert codes(imported(rows)) == ["level:stage_microwave"]
    rated = Oven.model_validate({**OVEN, "microwave_rated_w": 1500})
    answered = imported(rows, oven=rated, answers={"level": "watts of the rated power"})
    assert_cooks(answered, {"program": ONE_STAGE, "core_temperature_c": [76]})


def test_fractions_are_plain() -> None:
    rows = log(
        "Core C", "76", base="Air °C,Sec,S1 share,S1 air,S1 mw,S2 share,S2 air,S2 mw", values="250,210,0.4,0.3,0.8,0.6,0.9,0.2"
    )
    result = imported(rows)
    assert codes(result) == []
    assert_cooks(result, {"program": program(250, 210, (40, 30, 80), (60, 90, 20)), "core_temperature_c": [76]})


def test_a_value_that_no_column_tells_but_every_program_needs_is_asked_for_once() -> None:
    rows = log("Core C", "76", "77", base="Sec,Air %,MW %", values="210,50,60")
    result = imported(rows)
    assert codes(result) == ["constant:air_temperature"]
    assert result.cooks == ()
    assert all("Answer the question" in row.reason for row in result.refused)
    answered = imported(rows, answers={"constant": "482 °F"})
    assert_cooks(answered, *({"program": ONE_STAGE, "core_temperature_c": [core]} for core in (76, 77)))


def test_columns_whose_headings_say_nothing_are_asked_about_where_something_is_missing() -> None:
    result = imported(log("Foo,Bar", "183,x", "181,y"))
    assert codes(result) == ["field:5"]
    answered = imported(log("Foo,Bar", "183,x", "181,y"), answers={"field": "mass before cooking"})
    assert [one.cook.mass_g for one in answered.cooks] == [183, 181]


def test_programs_written_once_for_several_rows_are_carried_down_only_on_an_answer() -> None:
    rows = "No,Air °C,Sec,Air %,MW %,Core C\n1,250,210,50,60,76\n2,,,,,77\n3,250,200,50,60,75\n"
    asked = imported(rows)
    assert codes(asked) == ["above:program"]
    assert [one.label for one in asked.cooks] == ["1", "3"]
    answered = imported(rows, answers={"above": "as in the row above"})
    assert_cooks(
        answered,
        {"program": ONE_STAGE, "core_temperature_c": [76]},
        {"program": ONE_STAGE, "core_temperature_c": [77]},
        {"program": program(250, 200, (100, 50, 60)), "core_temperature_c": [75]},
    )


def test_several_dishes_are_told_apart_by_the_brief_or_asked_about() -> None:
    rows = log("Dish,Core C", "Turkey and barley slice,76", "Lentil loaf,70")
    known = imported(rows)
    assert codes(known) == []
    assert [one.line for one in known.cooks] == [2]
    assert "Lentil loaf" in known.refused[0].reason
    asked = imported(rows, brief=None)
    assert codes(asked) == ["dish:5"]
    assert asked.cooks == ()


def test_cooks_on_another_oven_carry_its_name_so_that_they_do_not_count() -> None:
    result = imported(log("Oven,Core C", "Left,76", "Right,70"))
    assert codes(result) == []
    assert [one.cook.oven_serial for one in result.cooks] == [None, "Right"]


def test_answers_may_be_shortened_or_numbered_but_must_be_among_the_choices() -> None:
    from tests.exchange.importing import BRIEF, OVEN_MODEL
    from tuner.exchange import guess_mapping, read_table

    table = read_table(log("Core", "168").encode(), "log.csv")
    mapping = guess_mapping(table, brief=BRIEF, oven=OVEN_MODEL)
    assert mapping.answered("unit:5", "2").answers == {"unit:5": "°C"}
    assert mapping.answered("unit:5", "leave").answers == {"unit:5": LEAVE_OUT}
    with pytest.raises(InvalidDocument, match="none of"):
        mapping.answered("unit:5", "K")
    with pytest.raises(InvalidDocument, match="not asked"):
        mapping.answered("unit:99", "°C")
