"""Invented cooks written in layouts chosen at random come back as they were, or a question is asked and its answer gives them."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from tests.exchange.importing import BRIEF, OVEN_MODEL
from tests.exchange.invented import cook_documents
from tests.exchange.log_writing import WORDS, Cook, Layout, write_log
from tuner.exchange import ColumnMapping, ImportQuestion, apply_mapping, guess_mapping, read_table


@st.composite
def layouts(draw: st.DrawFn) -> Layout:
    """Any layout that a writer of logs would choose."""
    comma = draw(st.booleans())

    def choice(*options: Any) -> Any:
        return draw(st.sampled_from(options))

    return Layout(
        file=choice("csv", "csv", "xlsx"),
        separator=choice(";", "\t", "|") if comma else choice(",", ";", "\t", "|"),
        encoding=choice("utf-8", "utf-8-sig", "utf-16", "cp1252"),
        comma=comma,
        language=choice(*WORDS),
        units=choice("brackets", "round", "bare", "comma", "none"),
        heat=choice("°C", "°C", "°F"),
        mass=choice("g", "g", "oz", "kg"),
        time=choice("s", "mm:ss", "min", "worded"),
        stages=choice("columns", "columns", "cell", "labelled", "lists"),
        shares=choice("%", "fraction", "s"),
        cores=choice("columns", "cell"),
        tasters=choice("columns", "rows"),
        groups=draw(st.booleans()),
        titles=choice(0, 0, 1, 2),
        blank_every=choice(0, 0, 2),
        totals=draw(st.booleans()),
        missing=choice("", "-", "n/a"),
        dates=choice("none", "iso", "dots", "slashes", "zone"),
        ids=choice(True, True, False),
    )


@st.composite
def whole_cooks(draw: st.DrawFn) -> list[Cook]:
    """Cooks with everything a log can hold."""
    cooks = draw(cook_documents(max_size=4))
    for cook in cooks:
        cook["rest_s"] = draw(st.sampled_from([60, 90, 120, 180]))
        cook["rest_covered"] = draw(st.booleans())
        cook["note"] = draw(st.sampled_from(["", "nice crust", "a; b", "mean looking"]))
    return cooks


def _truth(question: ImportQuestion, layout: Layout) -> str | None:
    """What the writer of the log would answer."""
    meant = {layout.heat, layout.mass, {"worded": "s"}.get(layout.time, layout.time)}
    if question.code.startswith("unit"):
        return next((choice for choice in question.choices if choice in meant), None)
    if question.code.startswith("order"):
        return next(choice for choice in question.choices if choice in ("air / microwave", "share / air / microwave"))
    if question.code.startswith("level"):
        return "per cent"
    if question.code.startswith("field"):
        return "duration of the program"
    if question.code.startswith("scale"):
        return "1-5"
    return {"time_zone": "UTC"}.get(question.code) or ("day/month/year" if question.code.startswith("dates") else None)


def _settled(mapping: ColumnMapping, layout: Layout, table: Any) -> ColumnMapping:
    for _ in range(4):
        for question in mapping.open_questions:
            answer = _truth(question, layout)
            if answer is not None:
                mapping = mapping.answered(question.code, answer)
        mapping = guess_mapping(table, brief=BRIEF, oven=OVEN_MODEL, remembered=mapping)
    return mapping


@pytest.mark.slow
@settings(deadline=None, max_examples=120)
@given(layouts(), whole_cooks())
def test_cooks_come_back_from_any_layout(layout: Layout, cooks: list[Cook]) -> None:
    try:
        data, name, written = write_log(layout, cooks)
    except UnicodeEncodeError:
        assume(False)
        raise
    table = read_table(data, name)
    mapping = _settled(guess_mapping(table, brief=BRIEF, oven=OVEN_MODEL), layout, table)
    result = apply_mapping(table, mapping, source=name)
    assert result.questions == ()
    assert len(result.cooks) == len(written), result.refused
    for one, truth in zip(result.cooks, written, strict=True):
        _assert_same(one.cook.model_dump(mode="json", exclude_unset=True), truth)


def _assert_same(got: dict[str, Any], truth: Cook) -> None:
    for key in ("mass_g", "mass_out_g", "start_temperature_c", "rest_s"):
        assert got[key] == pytest.approx(truth[key], abs=1e-4), key
    assert got["core_temperature_c"] == pytest.approx(truth["core_temperature_c"], abs=1e-4)
    assert got["rest_covered"] == truth["rest_covered"]
    assert got.get("note", "") == truth["note"]
    assert got["scores"] == truth["scores"]
    program, wanted = got["program"], truth["program"]
    assert program["air_temperature_c"] == pytest.approx(wanted["air_temperature_c"], abs=1e-4)
    assert program["duration_s"] == pytest.approx(wanted["duration_s"], abs=0.05)
    assert program["stages"] == wanted["stages"]
