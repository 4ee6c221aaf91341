from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tuner.domain import InvalidDocument
from tuner.domain.quantities import Kind, celsius_to_fahrenheit, minutes_seconds, read_quantity


@pytest.mark.parametrize(
    "text, kind, value",
    [
        ("76.4", "temperature", 76.4),
        ("76,4", "temperature", 76.4),
        (" 76,4 °C ", "temperature", 76.4),
        ("165 °F", "temperature", 73.888889),
        ("165F", "temperature", 73.888889),
        ("165 deg F", "temperature", 73.888889),
        ("165 degrees Fahrenheit", "temperature", 73.888889),
        ("76,4 deg. C", "temperature", 76.4),
        ("347.15 K", "temperature", 74.0),
        ("−18", "temperature", -18.0),
        ("-18 ºC", "temperature", -18.0),
        ("6.3 oz", "mass", 178.602),
        ("6,3 oz.", "mass", 178.602),
        ("0.4 lb", "mass", 181.436948),
        ("0.183 kg", "mass", 183.0),
        ("1.250 kg", "mass", 1250.0),
        ("1 234,5 g", "mass", 1234.5),
        ("1\u202f234.5 g", "mass", 1234.5),
        ("1'234 g", "mass", 1234.0),
        ("1.234,5 g", "mass", 1234.5),
        ("1,234.5 g", "mass", 1234.5),
        ("183 grams", "mass", 183.0),
        ("2.8 cm", "length", 28.0),
        ('1"', "length", 25.4),
        ("1.1 inches", "length", 27.94),
        ("210", "duration", 210.0),
        ("3:30", "duration", 210.0),
        ("1:02:05", "duration", 3725.0),
        ("3:30.5", "duration", 210.5),
        ("3.5 min", "duration", 210.0),
        ("3 min 30 s", "duration", 210.0),
        ("3m30", "duration", 210.0),
        ("3'30\"", "duration", 210.0),
        ("1 h", "duration", 3600.0),
        ("40 %", "share", 40.0),
        ("40pct", "share", 40.0),
        ("1.5 kW", "power", 1500.0),
        ("36 km/h", "speed", 10.0),
        (".5", "plain", 0.5),
        ("+3", "plain", 3.0),
    ],
)
def test_what_people_type_is_read_in_si(text: str, kind: Kind, value: float) -> None:
    found = read_quantity(text, kind)
    assert found.value == pytest.approx(value, rel=1e-6)
    assert not found.doubt


@pytest.mark.parametrize(
    "text, kind, unit",
    [
        ("165", "temperature", ""),
        ("1,234", "mass", ""),
        ("1,234 g", "mass", ""),
        ("1.234", "mass", ""),
        ("1.234", "mass", "g"),
        ("1,200 kg", "mass", ""),
    ],
)
def test_what_may_mean_two_things_is_asked_not_guessed(text: str, kind: Kind, unit: str) -> None:
    assert read_quantity(text, kind, unit=unit).doubt.endswith("?")


@pytest.mark.parametrize("text, unit, value", [("165", "°F", 73.888889), ("165 °C", "°F", 165.0), ("165", "C", 165.0)])
def test_a_written_unit_beats_the_headers_and_either_settles_the_doubt(text: str, unit: str, value: float) -> None:
    found = read_quantity(text, "temperature", unit=unit)
    assert found.value == pytest.approx(value)
    assert not found.doubt


@pytest.mark.parametrize(
    "text, kind, words",
    [
        ("", "mass", "not a mass"),
        ("about 180", "mass", "not a mass"),
        ("180 C", "mass", "unit 'c' is not known"),
        ("12:75", "duration", "not known"),
        ("1.2.3", "plain", "not a number"),
        ("2026.03.02", "plain", "not a number"),
        ("1,23,4", "plain", "not a number"),
        ("1.2.3,4", "mass", "not a mass"),
        ("nan", "temperature", "not a temperature"),
        ("9" * 400, "plain", "not a number"),
        ("5 g", "plain", "no unit"),
    ],
)
def test_what_is_no_quantity_is_refused_with_field_and_value(text: str, kind: Kind, words: str) -> None:
    with pytest.raises(InvalidDocument, match=words) as refused:
        read_quantity(text, kind, field="mass in")
    assert "mass in" in str(refused.value)


@settings(deadline=None)
@given(st.floats(-40, 250).map(lambda value: round(value, 1)))
def test_fahrenheit_there_and_back_is_the_same_temperature(temperature_c: float) -> None:
    typed = f"{celsius_to_fahrenheit(temperature_c):.6f} °F"
    assert read_quantity(typed, "temperature").value == pytest.approx(temperature_c, abs=1e-5)


@settings(deadline=None)
@given(st.integers(0, 7200))
def test_durations_there_and_back_are_the_same(duration_s: int) -> None:
    assert read_quantity(minutes_seconds(duration_s), "duration").value == duration_s


@settings(deadline=None, max_examples=400)
@given(st.text(max_size=12), st.sampled_from(["temperature", "mass", "length", "duration", "share", "power", "speed", "plain"]))
def test_any_text_is_read_or_refused_and_nothing_else(text: str, kind: Kind) -> None:
    problems: tuple[str, ...] = ()
    value = 0.0
    try:
        value = read_quantity(text, kind).value
    except InvalidDocument as refused:
        problems = refused.problems
    assert math.isfinite(value)
    assert len(problems) <= 1
