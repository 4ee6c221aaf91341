"""Ovens: added once, listed by owner, described anew."""

from __future__ import annotations

import pytest

from tests.services.invented import ANN, BEN, NORTH, VALE, oven, started
from tuner.domain import Conflict, NotFound
from tuner.services import add_oven, edit_oven, list_ovens, view_development


def test_the_same_oven_sent_twice_is_there_once(space):
    first = add_oven(space, ANN, oven=oven(), client_id="o1")
    assert add_oven(space, ANN, oven=oven(), client_id="o1") == first
    assert list_ovens(space, ANN) == (first,)
    with pytest.raises(Conflict):
        add_oven(space, ANN, oven=oven(name="Other"), client_id="o1")


def test_an_oven_without_client_id_is_a_new_one_each_time(space):
    assert add_oven(space, ANN, oven=oven()).id != add_oven(space, ANN, oven=oven()).id


def test_an_edit_counts_up_and_the_same_edit_changes_nothing(space):
    record = add_oven(space, ANN, oven=oven())
    changed = edit_oven(space, BEN, oven_id=record.id, oven=oven(name="Renamed"))
    assert (changed.id, changed.version, changed.oven.name) == (record.id, 2, "Renamed")
    assert edit_oven(space, ANN, oven_id=record.id, oven=oven(name="Renamed")).version == 2
    sent = edit_oven(space, ANN, oven_id=record.id, oven=oven(name="Third"), client_id="e")
    assert edit_oven(space, ANN, oven_id=record.id, oven=oven(name="Third"), client_id="e") == sent


def test_a_development_goes_on_with_the_oven_as_it_is_described_now(space):
    view = started(space)
    edit_oven(space, ANN, oven_id=view.oven_id, oven=oven(microwave_rated_w=1300))
    after = view_development(space, ANN, development_id=view.id)
    assert (after.oven.microwave_rated_w, after.oven_version) == (1300, 2)
    assert after.token > view.token


def test_a_customer_sees_its_own_ovens_only(space):
    add_oven(space, ANN, oven=oven(name="House"))
    vale = add_oven(space, VALE, oven=oven(name="Vale"))
    assert [record.oven.name for record in list_ovens(space, ANN)] == ["House", "Vale"]
    assert list_ovens(space, VALE) == (vale,)
    assert list_ovens(space, NORTH) == ()
    with pytest.raises(NotFound):
        edit_oven(space, NORTH, oven_id=vale.id, oven=oven())
