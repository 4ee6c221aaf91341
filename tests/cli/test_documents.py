"""Documents and programs as they are named on the command line."""

import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tuner.cli.documents import in_short, read_json, read_model, read_program
from tuner.domain import InvalidDocument, Oven, Program

PROGRAM = {
    "air_temperature_c": 250,
    "duration_s": 210,
    "stages": [
        {"share_pct": 40, "air_speed_pct": 30, "microwave_pct": 80},
        {"share_pct": 60, "air_speed_pct": 90, "microwave_pct": 20},
    ],
}


@pytest.mark.parametrize(
    "text",
    [
        "250, 3:30, 40/30/80, 60/90/20",
        "250 3:30 40/30/80 60/90/20",
        "250 210 40/30/80 60/90/20",
        "250; 3:30; 40/30/80; 60/90/20",
        "482°F, 210s, 40%/30%/80%, 60/90/20",
        json.dumps(PROGRAM),
    ],
)
def test_a_program_is_read_from_its_short_form_or_json_text(text):
    assert read_program(text) == Program.model_validate(PROGRAM)


def test_a_decimal_comma_in_a_short_form_stays_inside_its_number():
    assert read_program("250, 210, 37,5/30/80, 62,5/90/20").stages[0].share_pct == 37.5


def test_a_program_is_read_from_a_file_also_where_it_stands_under_its_name(tmp_path):
    (tmp_path / "bare.json").write_text(json.dumps(PROGRAM))
    (tmp_path / "named.json").write_text(json.dumps({"program": PROGRAM}))
    assert read_program(str(tmp_path / "bare.json")) == read_program(str(tmp_path / "named.json"))


@given(
    air=st.integers(50, 400),
    duration=st.integers(5, 3600),
    levels=st.lists(st.tuples(st.integers(0, 100), st.integers(0, 100)), min_size=1, max_size=4),
)
@settings(deadline=None, max_examples=60)
def test_the_short_form_of_a_program_reads_back_as_the_same_program(air, duration, levels):
    share = 100 // len(levels)
    shares = [share] * (len(levels) - 1) + [100 - share * (len(levels) - 1)]
    stages = [
        {"share_pct": part, "air_speed_pct": speed, "microwave_pct": level}
        for part, (speed, level) in zip(shares, levels, strict=True)
    ]
    program = Program.model_validate({"air_temperature_c": air, "duration_s": duration, "stages": stages})
    assert read_program(in_short(program)) == program


@pytest.mark.parametrize("text", ["", "250", "250, 3:30", "hot, 3:30, 100/50/50", "250, 3:30, 40/30", "250, soon, 100/50/50"])
def test_what_is_no_program_is_refused_with_what_to_write(text):
    with pytest.raises(InvalidDocument) as caught:
        read_program(text)
    assert str(caught.value)


def test_shares_that_do_not_add_up_are_refused_with_the_sum():
    with pytest.raises(ValueError, match="100"):
        read_program("250, 3:30, 40/30/80, 50/90/20")


def test_a_name_given_twice_in_one_object_is_refused(tmp_path):
    path = tmp_path / "double.json"
    path.write_text('{"name": "A", "name": "B"}')
    with pytest.raises(InvalidDocument, match="'name' is given twice"):
        read_json(str(path))


@pytest.mark.parametrize("content", [b"{", b"", b"\xff\xfe{", b"[1,]", b"[" * 100_000])
def test_what_is_not_json_is_refused_in_words(tmp_path, content):
    path = tmp_path / "broken.json"
    path.write_bytes(content)
    with pytest.raises(InvalidDocument, match=r"broken\.json"):
        read_json(str(path))


def test_a_byte_order_mark_is_no_obstacle(tmp_path):
    path = tmp_path / "oven.json"
    path.write_bytes(b"\xef\xbb\xbf" + json.dumps({"name": 1}).encode())
    assert read_json(str(path)) == {"name": 1}


def test_a_misspelt_field_is_named_with_the_near_one(tmp_path):
    path = tmp_path / "oven.json"
    path.write_text(json.dumps({"nam": "Bench"}))
    with pytest.raises(ValueError, match="Did you mean 'name'"):
        read_model(str(path), Oven)
