"""Asking why a cook came out as it did, and what the model knows."""

from __future__ import annotations

import pytest

from tests.services.invented import ANN, NORTH, YES, cook, scores, started
from tuner.domain import InvalidDocument, NotFound
from tuner.learning import ModelCard, diagnose, model_card
from tuner.services import log_cook
from tuner.services.diagnosing import diagnose_cook, diagnosis_signs
from tuner.services.loading import load
from tuner.services.model_cards import view_model_card


def _logged(space, development_id, **changes):
    document = cook(**changes)
    return log_cook(space, ANN, development_id=development_id, cook=document, may_taste=YES)


def test_the_last_cook_is_diagnosed_and_any_other_on_request(space):
    view = started(space)
    pale = _logged(space, view.id, scores=[{"taster": "A", "browning": 1.5, "texture": 3, "moisture": 3}])
    _logged(space, view.id, scores=scores())
    loaded = load(space, ANN, view.id)
    assert diagnose_cook(space, ANN, development_id=view.id) == diagnose(loaded.brief, loaded.oven, loaded.cooks)
    first = diagnose_cook(space, ANN, development_id=view.id, cook_id=pale.id)
    assert first.cook == 1
    assert [symptom.words for symptom in first.symptoms] == ["too pale"]
    with pytest.raises(NotFound, match="no cook 'nowhere'"):
        diagnose_cook(space, ANN, development_id=view.id, cook_id="nowhere")


def test_signs_that_can_be_ticked_are_accepted(space):
    view = started(space)
    _logged(space, view.id)
    assert diagnosis_signs()["soggy base"]
    found = diagnose_cook(space, ANN, development_id=view.id, seen=["soggy base"])
    assert 20 in [remedy.rule for remedy in found.remedies]
    with pytest.raises(InvalidDocument, match="Only known signs"):
        diagnose_cook(space, ANN, development_id=view.id, seen=["purple"])


def test_nothing_to_diagnose_is_said_and_other_customers_see_nothing(space):
    view = started(space)
    with pytest.raises(InvalidDocument, match="nothing to diagnose"):
        diagnose_cook(space, ANN, development_id=view.id)
    with pytest.raises(NotFound):
        diagnose_cook(space, NORTH, development_id=view.id)
    with pytest.raises(NotFound):
        view_model_card(space, NORTH, development_id=view.id)


def test_the_model_card_is_made_once_for_the_same_data(space, monkeypatch):
    view = started(space)
    _logged(space, view.id)
    card = view_model_card(space, ANN, development_id=view.id)
    loaded = load(space, ANN, view.id)
    assert card == model_card(loaded.brief, loaded.oven, loaded.cooks)
    assert card.cooks == 1

    def refuse(*_: object, **__: object) -> ModelCard:
        raise AssertionError("computed again")

    monkeypatch.setattr("tuner.learning.model_card", refuse)
    assert view_model_card(space, ANN, development_id=view.id) == card
    monkeypatch.undo()
    _logged(space, view.id, client_id="second")
    assert view_model_card(space, ANN, development_id=view.id).cooks == 2
