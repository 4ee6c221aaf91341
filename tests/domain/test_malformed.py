"""Malformed documents: each is answered by an error that names the field, the value, the rule and what to do."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from typing import Any

import pytest
from pydantic import ValidationError

from tests.example import BRIEF, COOK, DROP, OVEN, PROGRAM, changed
from tuner.domain import Brief, Oven, Program, TestCook
from tuner.domain.model import Model
from tuner.domain.wording import problems_of

Case = tuple[type[Model], dict[str, Any], str]
"""Model, document, and the field that its error must name."""

NOT_NUMBERS: tuple[Any, ...] = ("5", True, None, [], {}, math.nan, math.inf, -math.inf, 10**400)
NOT_OPTIONAL_NUMBERS: tuple[Any, ...] = tuple(value for value in NOT_NUMBERS if value is not None)
NOT_TEXT: tuple[Any, ...] = (5, True, [], {}, "a\x00b", "\ud800")
NOT_TIMES: tuple[Any, ...] = (
    0,
    1,
    True,
    1_700_000_000,
    1.7e9,
    "0",
    "1700000000",
    "-1",
    "yesterday",
    "2026-03-02",
    "2026-03-02T10:15:00",
    "2026-02-30T10:15:00Z",
    "",
    [],
    {},
)

NUMBERS_OUT_OF_RANGE: tuple[tuple[type[Model], dict[str, Any], str, tuple[Any, ...]], ...] = (
    (Brief, BRIEF, "portion__mass_g", (0, -1, 20001)),
    (Brief, BRIEF, "portion__thickness_mm", (0, 251)),
    (Brief, BRIEF, "portion__water", (-0.1, 1.1, 70)),
    (Brief, BRIEF, "portion__start_temperature_c", (-41, 61, 20)),
    (Brief, BRIEF, "portion__salt", (-0.01, 1.5)),
    (Brief, BRIEF, "conventional__oven_temperature_c", (39, 401)),
    (Brief, BRIEF, "conventional__duration_s", (0, 90000)),
    (Brief, BRIEF, "critical_limit__core_temperature_c", (-1, 121)),
    (Brief, BRIEF, "critical_limit__guard_c", (-0.1, 6.1)),
    (Brief, BRIEF, "critical_limit__hold_s", (-1, 7201)),
    (Brief, BRIEF, "critical_limit__z_c", (0, -5)),
    (Brief, BRIEF, "rest_s", (-1, 3601)),
    (Brief, BRIEF, "confirmation_cooks", (0, 21, 2.5)),
    (Brief, BRIEF, "places", (0, 51, 3.5)),
    (Brief, BRIEF, "tasters", (0, 51)),
    (Brief, BRIEF, "taster_sd", (-0.1, 2.1)),
    (Brief, BRIEF, "budget_cooks", (0, 1.5)),
    (Oven, OVEN, "share_step_pct", (0, 101, 3, 7)),
    (Oven, OVEN, "max_stages", (0, 21, 2.5)),
    (Oven, OVEN, "microwave_rated_w", (99, 6001)),
    (Oven, OVEN, "air_speed_max_m_s", (0.4, 61)),
    (Oven, OVEN, "altitude_m", (-401, 5001)),
    (Program, PROGRAM, "air_temperature_c", (19, 401)),
    (Program, PROGRAM, "duration_s", (0, -5, 7201)),
    (TestCook, COOK, "mass_g", (0, 20001)),
    (TestCook, COOK, "mass_out_g", (0, 10, 300)),
    (TestCook, COOK, "start_temperature_c", (-41, 61)),
    (TestCook, COOK, "rest_s", (-1, 7201)),
    (TestCook, COOK, "held_s", (-1,)),
    (TestCook, COOK, "load", (0, 51)),
    (TestCook, COOK, "serving_age_s", (-1,)),
)

REQUIRED: tuple[tuple[type[Model], dict[str, Any], str], ...] = (
    *(
        (Brief, BRIEF, field)
        for field in ("dish", "food_class", "portion", "portion__mass_g", "portion__shape", "portion__ash")
    ),
    *((Brief, BRIEF, field) for field in ("portion__start_state", "conventional__method", "conventional__duration_s")),
    *(
        (Oven, OVEN, field)
        for field in ("name", "air_temperature_c", "microwave_pct", "duration_s", "share_step_pct", "max_stages")
    ),
    *((Program, PROGRAM, field) for field in ("air_temperature_c", "duration_s", "stages")),
    (TestCook, COOK, "program"),
    (TestCook, COOK, "program__stages"),
)

TEXTS: tuple[tuple[type[Model], dict[str, Any], str], ...] = (
    (Brief, BRIEF, "dish"),
    (Brief, BRIEF, "customer"),
    (Brief, BRIEF, "critical_limit__approved_by"),
    (Brief, BRIEF, "conventional__method"),
    (Oven, OVEN, "name"),
    (TestCook, COOK, "cook"),
    (TestCook, COOK, "note"),
    (TestCook, COOK, "lot"),
)


def stages(*shares: Any) -> list[dict[str, Any]]:
    return [{"share_pct": share, "air_speed_pct": 50, "microwave_pct": 50} for share in shares]


SINGLE: tuple[tuple[type[Model], dict[str, Any], dict[str, Any], str], ...] = (
    (Brief, BRIEF, {"colour": "golden"}, "colour"),
    (Brief, BRIEF, {"dihs": "x"}, "dihs"),
    (Brief, BRIEF, {"dish": ""}, "dish"),
    (Brief, BRIEF, {"dish": "x" * 301}, "dish"),
    (Brief, BRIEF, {"portion__mas_g": 180}, "mas_g"),
    (Brief, BRIEF, {"targets__crispness": {"low": 2}}, "crispness"),
    (Brief, BRIEF, {"food_class": "chicken"}, "food_class"),
    (Brief, BRIEF, {"food_class": 5}, "food_class"),
    (Brief, BRIEF, {"portion__shape": "cube"}, "shape"),
    (Brief, BRIEF, {"portion__start_state": "thawed"}, "start_state"),
    (Brief, BRIEF, {"portion__start_state": "frozen"}, "start_temperature_c"),
    (Brief, BRIEF, {"portion__water": 0.9}, "water"),
    (Brief, BRIEF, {"portion__tolerance": {"mass_pct": 0}}, "mass_pct"),
    (Brief, BRIEF, {"eaters": "children"}, "eaters"),
    (Brief, BRIEF, {"texture_with_heat": "crisper"}, "texture_with_heat"),
    (Brief, BRIEF, {"allergens": "milk"}, "allergens"),
    (Brief, BRIEF, {"allergens": [1]}, "allergens, entry 1"),
    (Brief, BRIEF, {"ingredients": [{"nam": "milk"}]}, "nam"),
    (Brief, BRIEF, {"ingredients": [5]}, "ingredients, entry 1"),
    (Brief, BRIEF, {"preparation": 5}, "preparation"),
    (Brief, BRIEF, {"portion": "180 g"}, "portion"),
    (Brief, BRIEF, {"targets": []}, "targets"),
    (Brief, BRIEF, {"targets__browning": {}}, "browning"),
    (Brief, BRIEF, {"targets__browning": {"low": 3, "high": 2}}, "low"),
    (Brief, BRIEF, {"targets__browning": {"low": 3, "high": 3}}, "browning"),
    (Brief, BRIEF, {"targets__browning": {"low": 0.5}}, "browning"),
    (Brief, BRIEF, {"targets__texture": {"high": 6}}, "texture"),
    (Brief, BRIEF, {"targets__core_temperature_c": {"high": 121}}, "core_temperature_c"),
    (Brief, BRIEF, {"targets__cook_loss_pct": {"low": -11}}, "cook_loss_pct"),
    (Brief, BRIEF, {"targets__duration_s": {"low": -1}}, "duration_s"),
    (Brief, BRIEF, {"critical_limit": {}}, "core_temperature_c"),
    (Brief, BRIEF, {"critical_limit": {"none": True, "core_temperature_c": 74}}, "none"),
    (Brief, BRIEF, {"critical_limit": {"none": 1}}, "none"),
    (Brief, BRIEF, {"critical_limit__required_min": 2}, "required_min"),
    (Brief, BRIEF, {"critical_limit__covered": "yes"}, "covered"),
    (Brief, BRIEF, {"critical_limit__moved": "shaken"}, "moved"),
    (Oven, OVEN, {"air_temperature_c": 220}, "air_temperature_c"),
    (Oven, OVEN, {"air_temperature_c": {"low": 200}}, "high"),
    (Oven, OVEN, {"air_temperature_c": {"low": 200, "high": 250}}, "step"),
    (Oven, OVEN, {"air_temperature_c": {"low": 250, "high": 200, "step": 5}}, "low"),
    (Oven, OVEN, {"air_temperature_c__step": 0}, "step"),
    (Oven, OVEN, {"air_temperature_c__step": -5}, "step"),
    (Oven, OVEN, {"air_temperature_c__high": 500}, "air_temperature_c"),
    (Oven, OVEN, {"microwave_pct__high": 110}, "microwave_pct"),
    (Oven, OVEN, {"air_speed_pct__low": -10}, "air_speed_pct"),
    (Oven, OVEN, {"duration_s__low": 0}, "duration_s"),
    (Oven, OVEN, {"checks": {}}, "checks"),
    (Oven, OVEN, {"checks": [{"watts": 900}]}, "watts"),
    (Oven, OVEN, {"checks": [{"watts_w": 0}]}, "watts_w"),
    (Oven, OVEN, {"checks": [{"checked_at": 5}]}, "checked_at"),
    (Program, PROGRAM, {"stages": []}, "stages"),
    (Program, PROGRAM, {"stages": {}}, "stages"),
    (Program, PROGRAM, {"stages": stages(40, 50)}, "stages"),
    (Program, PROGRAM, {"stages": stages(40, 70)}, "stages"),
    (Program, PROGRAM, {"stages": stages(0, 100)}, "share_pct"),
    (Program, PROGRAM, {"stages": stages(-10, 110)}, "share_pct"),
    (Program, PROGRAM, {"stages": stages("40", 60)}, "share_pct"),
    (Program, PROGRAM, {"stages": [{"share_pct": 100, "air_speed_pct": 101, "microwave_pct": 0}]}, "air_speed_pct"),
    (Program, PROGRAM, {"stages": [{"share_pct": 100, "air_speed_pct": 50, "microwave_pct": -1}]}, "microwave_pct"),
    (Program, PROGRAM, {"stages": [{"share_pct": 100, "air_speed_pct": 50}]}, "microwave_pct"),
    (Program, PROGRAM, {"stages": [{"share_pct": 100, "air_speed_pct": 50, "microwave_pct": 50, "power": 1}]}, "power"),
    (Program, PROGRAM, {"stages": stages(*[2.0] * 51)}, "stages"),
    (TestCook, COOK, {"program": None}, "program"),
    (TestCook, COOK, {"program_set": {"stages": []}}, "air_temperature_c"),
    (TestCook, COOK, {"core_temperature_c": 76.4}, "core_temperature_c"),
    (TestCook, COOK, {"core_temperature_c": [76.4, "77"]}, "core_temperature_c, entry 2"),
    (TestCook, COOK, {"core_temperature_c": [76.4, 251]}, "core_temperature_c"),
    (TestCook, COOK, {"core_temperature_c": [-41]}, "core_temperature_c"),
    (TestCook, COOK, {"purpose": "lunch"}, "purpose"),
    (TestCook, COOK, {"completed": 1}, "completed"),
    (TestCook, COOK, {"completed": "yes"}, "completed"),
    (TestCook, COOK, {"interrupted_by": "power cut"}, "interrupted_by"),
    (TestCook, COOK, {"rest_covered": 0}, "rest_covered"),
    (TestCook, COOK, {"scores": {}}, "scores"),
    (TestCook, COOK, {"scores": [{}]}, "taster"),
    (TestCook, COOK, {"scores": [{"taster": ""}]}, "taster"),
    (TestCook, COOK, {"scores": [{"taster": "A", "browning": 0.5}]}, "browning"),
    (TestCook, COOK, {"scores": [{"taster": "A", "texture": 5.5}]}, "texture"),
    (TestCook, COOK, {"scores": [{"taster": "A", "moisture": 2.75}]}, "moisture"),
    (TestCook, COOK, {"scores": [{"taster": "A", "crispness": 3}]}, "crispness"),
    (TestCook, COOK, {"scores": [{"taster": "A", "other": {"liking": 9}}]}, "liking"),
    (TestCook, COOK, {"scores": [{"taster": "A", "other": {"liking": "4"}}]}, "liking"),
    (TestCook, COOK, {"probe_places": [1.5]}, "probe_places"),
    (TestCook, COOK, {"probe_places": "rim"}, "probe_places"),
    (TestCook, COOK, {"history": 5}, "history"),
    (TestCook, COOK, {"client_id": ""}, "client_id"),
    (TestCook, COOK, {"trace": [{"place": "rim"}]}, "time_s"),
    (TestCook, COOK, {"trace": [{"place": "rim", "time_s": [0, 1], "temperature_c": [50]}]}, "time_s"),
    (TestCook, COOK, {"trace": [{"place": "rim", "time_s": [1, 0], "temperature_c": [50, 51]}]}, "time_s"),
    (TestCook, COOK, {"trace": [{"place": "rim", "time_s": [], "temperature_c": []}]}, "time_s"),
    (TestCook, COOK, {"trace": [{"place": "rim", "time_s": 0, "temperature_c": 401}]}, "temperature_c"),
    (TestCook, COOK, {"trace": [{"place": "rim", "time_s": 0, "temperature_c": "50"}]}, "temperature_c"),
    (TestCook, COOK, {"trace": [{"place": "rim", "time_s": [0, "1"], "temperature_c": [50, 51]}]}, "time_s, entry 2"),
    (TestCook, COOK, {"trace": [{"place": "rim", "time_s": 1e12, "temperature_c": 50}]}, "time_s"),
    (TestCook, COOK, {"trace": [{"place": 1.5, "time_s": 0, "temperature_c": 50}]}, "place"),
)


def _cases() -> Iterator[Case]:
    for model, base, path, values in NUMBERS_OUT_OF_RANGE:
        for value in (*values, *(NOT_NUMBERS if path in {"portion__mass_g", "duration_s", "places"} else ("12", True))):
            yield model, changed(base, **{path: value}), path.split("__")[-1]
    for path in ("rest_s", "mass_out_g", "held_s"):
        for value in NOT_OPTIONAL_NUMBERS:
            yield TestCook, changed(COOK, **{path: value}), path
    for model, base, path in REQUIRED:
        yield model, changed(base, **{path: DROP}), path.split("__")[-1]
    for model, base, path in TEXTS:
        for value in NOT_TEXT:
            yield model, changed(base, **{path: value}), path.split("__")[-1]
    for field in ("cooked_at", "thermometer_checked_at"):
        for value in NOT_TIMES:
            yield TestCook, changed(COOK, **{field: value}), field
    for model, base, changes, field in SINGLE:
        yield model, changed(base, **changes), field


CASES = list(_cases())
JARGON = re.compile(r"Input should|validation error|type=|function-|pydantic|\bstr\b|\bint\b|\bfloat\b|\bbool\b|Traceback")


def test_there_are_at_least_300() -> None:
    assert len(CASES) >= 300


@pytest.mark.parametrize("model, document, field", CASES, ids=[f"{number}-{case[2]}" for number, case in enumerate(CASES)])
def test_each_is_answered_in_plain_words_that_name_the_field(model: type[Model], document: dict[str, Any], field: str) -> None:
    with pytest.raises(ValidationError) as refused:
        model.model_validate(document)
    problems = problems_of(refused.value)
    assert any(field in problem for problem in problems), problems
    for problem in problems:
        assert not JARGON.search(problem)
        assert problem.endswith((".", "?"))
        # What is wrong, the rule, what to do.
        assert len(re.findall(r"[.?;](?:\s|$)", problem)) >= 2, problem
        assert len(problem) < 400


@pytest.mark.parametrize(
    "document",
    [None, [], "brief", 5, {}, {1: 2}, object()],
    ids=["nothing", "list", "text", "number", "empty", "numbered", "object"],  # fixed: workers must collect the same names
)
@pytest.mark.parametrize("model", [Brief, Oven, Program])
def test_what_is_no_document_at_all_is_refused_in_plain_words(model: type[Model], document: Any) -> None:
    with pytest.raises(ValidationError) as refused:
        model.model_validate(document)
    assert not any(JARGON.search(problem) for problem in problems_of(refused.value))


@pytest.mark.parametrize("written", ["", "{", "[]", '{"dish": NaN}', '"\\ud800"', "nonsense", '{"dish": "x"} more'])
def test_what_is_not_json_is_refused_in_plain_words(written: str) -> None:
    with pytest.raises(ValidationError) as refused:
        Brief.model_validate_json(written)
    assert not any(JARGON.search(problem) for problem in problems_of(refused.value))


def test_values_too_large_to_print_are_still_told() -> None:
    deep: Any = []
    for _ in range(100_000):
        deep = [deep]
    for value in (10**6000, deep, "x" * 10_000_000, ["y"] * 1_000_000):
        with pytest.raises(ValidationError) as refused:
            Brief.model_validate(changed_shallow(value))
        assert all(len(problem) < 400 for problem in problems_of(refused.value))
    while deep:  # taken apart level by level: freeing it at once would need the same depth of stack
        deep = deep.pop()


def changed_shallow(value: Any) -> dict[str, Any]:
    return {**BRIEF, "places": value}


def test_the_first_words_of_typical_mistakes() -> None:
    """Read by people: the whole sentence is part of what must stay."""

    def first(model: type[Model], base: dict[str, Any], **changes: Any) -> str:
        with pytest.raises(ValidationError) as refused:
            model.model_validate(changed(base, **changes))
        return problems_of(refused.value)[0]

    assert first(Brief, BRIEF, portion__mass_g=25000) == (
        "portion, mass_g is 25000 g. It must be at most 20000 g. Check the value and its unit, and type it again."
    )
    assert first(Brief, BRIEF, portion__mas_g=180).endswith("Did you mean 'mass_g'?")
    assert first(Program, PROGRAM, stages=stages(40, 50)) == (
        "stages have shares 40 + 50 = 90 %. The shares of the time must add up to exactly 100 %. Add 10 %."
    )
    assert (
        first(TestCook, COOK, cooked_at=1)
        == "cooked_at is 1, which is not a time. Write it with its zone, like 2026-03-02T10:15:00Z."
    )
    assert (
        first(TestCook, COOK, probe_places=[1.5])
        == "probe_places, entry 1 is 1.5. It must be text or a whole number. Give text or a whole number."
    )
