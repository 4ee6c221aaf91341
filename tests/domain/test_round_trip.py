"""Documents are read and written back unchanged."""

from __future__ import annotations

import json
from datetime import datetime
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests import example
from tests.domain import random_documents
from tuner.domain import Brief, Oven, Program, TestCook
from tuner.domain.model import Model

EXAMPLES: list[tuple[type[Model], dict[str, Any]]] = [
    (Oven, example.OVEN),
    (Brief, example.BRIEF),
    (Program, example.PROGRAM),
    (TestCook, example.COOK),
]
IDS = [model.__name__ for model, _ in EXAMPLES]


def same(left: Any, right: Any) -> bool:
    """Equal documents; times are equal when they are the same instant."""
    if isinstance(left, dict) and isinstance(right, dict):
        return left.keys() == right.keys() and all(same(value, right[key]) for key, value in left.items())
    if isinstance(left, list) and isinstance(right, list):
        return len(left) == len(right) and all(same(one, other) for one, other in zip(left, right, strict=True))
    if isinstance(left, bool) or isinstance(right, bool):
        return left is right
    if left == right:
        return True
    try:
        return datetime.fromisoformat(left) == datetime.fromisoformat(right)
    except (TypeError, ValueError):
        return False


def comes_back(model: type[Model], document: dict[str, Any]) -> None:
    read = model.model_validate(document)
    written = read.model_dump(mode="json", exclude_unset=True)
    assert same(written, document)
    assert model.model_validate(written) == read
    assert model.model_validate_json(json.dumps(document)) == read
    assert model.model_validate_json(read.model_dump_json(exclude_unset=True)) == read


@pytest.mark.parametrize("model, document", EXAMPLES, ids=IDS)
def test_the_examples_come_back_as_they_were(model: type[Model], document: dict[str, Any]) -> None:
    comes_back(model, document)


@pytest.mark.parametrize("model, document", EXAMPLES, ids=IDS)
def test_models_are_frozen_and_hashable(model: type[Model], document: dict[str, Any]) -> None:
    read = model.model_validate(document)
    with pytest.raises(ValueError, match="frozen"):
        setattr(read, next(iter(document)), None)
    assert len({read, model.model_validate(document)}) == 1


def test_a_cook_with_further_marks_can_be_kept_in_a_set() -> None:
    scores = [{"taster": "A", "other": {"liking": 4}}]
    assert len({example.cook(scores=scores), example.cook(scores=scores), example.cook()}) == 2


@pytest.mark.slow
def test_ten_thousand_random_documents_come_back_as_they_were() -> None:
    rng = np.random.default_rng(20260302)
    makers: list[tuple[type[Model], Any]] = [
        (Brief, random_documents.brief),
        (Oven, random_documents.oven),
        (TestCook, random_documents.cook),
    ]
    for number in range(10_000):
        model, make = makers[number % 3]
        document = make(rng)
        read = model.model_validate(document)
        assert same(read.model_dump(mode="json", exclude_unset=True), document)


@settings(deadline=None, max_examples=150)
@given(st.integers(0, 2**32 - 1))
def test_any_document_survives_every_way_in_and_out(seed: int) -> None:
    rng = np.random.default_rng(seed)
    comes_back(Brief, random_documents.brief(rng))
    comes_back(Oven, random_documents.oven(rng))
    comes_back(TestCook, random_documents.cook(rng))


STORABLE = st.text(st.characters(exclude_categories=("Cs",), exclude_characters="\x00"), min_size=1, max_size=50)


@settings(deadline=None, max_examples=150)
@given(STORABLE, st.floats(1, 20000), st.floats(-2, 10), st.lists(STORABLE, max_size=4), st.integers(1, 50))
def test_any_text_and_number_in_range_comes_back(
    dish: str, mass_g: float, start_c: float, allergens: list[str], places: int
) -> None:
    comes_back(
        Brief,
        example.changed(
            example.BRIEF,
            dish=dish,
            portion__mass_g=mass_g,
            portion__start_temperature_c=start_c,
            allergens=allergens,
            places=places,
        ),
    )


@pytest.mark.parametrize("written", ["2026-03-02T10:15:00Z", "2026-03-02T11:15:00+01:00", "2026-03-02T10:15:00.250Z"])
def test_times_keep_their_instant(written: str) -> None:
    read = example.cook(cooked_at=written)
    assert read.cooked_at == datetime.fromisoformat(written)
