"""Records of any kind and kept files: once per id, in order, corrected by new rows, each customer's own."""

from __future__ import annotations

import pytest

from tests.store.invented import context
from tests.store.test_contract import start
from tuner.domain import Conflict, InvalidDocument, NotFound
from tuner.store import Added, KeptRecord, RecordEntry, Store, file_hash


def add(store: Store, development_id: str, client_id: str, content: dict[str, object], **given: object) -> Added:
    entry = RecordEntry(given.pop("kind", "proof_plan"), content, client_id, **given)  # type: ignore[arg-type]
    with store.unit_of_work(context("Ben", minutes=3)) as work:
        added = work.records.add(work.developments.one(development_id), entry)
        work.commit()
    return added


def kept(store: Store, development_id: str, kind: str | None = None, **asked: bool) -> tuple[KeptRecord, ...]:
    with store.read(None) as reading:
        return reading.records.of_development(development_id, kind, **asked)


def test_what_went_in_comes_out_with_who_and_when(store: Store):
    development_id = start(store)
    added = add(
        store, development_id, "p1", {"cooks": 28, "words": "Grüße", "parts": [1.5, None, True]}, schema_version=2, about="x"
    )
    [row] = kept(store, development_id)
    assert row.id == added.id
    assert row.content == {"cooks": 28, "words": "Grüße", "parts": [1.5, None, True]}
    assert (row.kind, row.schema_version, row.about, row.stamp.by, row.stamp.client_id) == ("proof_plan", 2, "x", "Ben", "p1")


def test_the_same_id_with_the_same_content_is_kept_once_and_with_other_content_refused(store: Store):
    development_id = start(store)
    first = add(store, development_id, "p1", {"cooks": 28})
    assert add(store, development_id, "p1", {"cooks": 28}) == Added(first.id, False)
    with pytest.raises(Conflict, match="used before with other content"):
        add(store, development_id, "p1", {"cooks": 8})
    assert add(store, development_id, "p1", {"cooks": 8}, kind="proof_result").new
    assert [row.content["cooks"] for row in kept(store, development_id)] == [28, 8]


def test_records_are_listed_by_kind_in_the_order_of_writing(store: Store):
    one, other = start(store), start(store, client_id="dev-2")
    for number, (development_id, kind) in enumerate([(one, "a"), (other, "a"), (one, "b"), (one, "a")]):
        add(store, development_id, f"r{number}", {"n": number}, kind=kind)
    assert [row.content["n"] for row in kept(store, one)] == [0, 2, 3]
    assert [row.content["n"] for row in kept(store, one, "a")] == [0, 3]
    with store.read(None) as reading:
        assert [row.content["n"] for row in reading.records.of_kind("a")] == [0, 1, 3]
        newest = reading.records.newest(one, "a")
        assert newest is not None
        assert newest.content["n"] == 3
        assert reading.records.newest(one, "c") is None


def test_a_correction_is_a_new_row_with_a_reason_once_for_each_row(store: Store):
    development_id = start(store)
    first = add(store, development_id, "p1", {"cooks": 28})
    with pytest.raises(InvalidDocument, match="reason is missing"):
        add(store, development_id, "p2", {"cooks": 58}, corrects=first.id)
    second = add(store, development_id, "p2", {"cooks": 58}, corrects=first.id, reason="vulnerable guests")
    assert [(row.content["cooks"], row.superseded) for row in kept(store, development_id)] == [(28, True), (58, False)]
    assert [row.id for row in kept(store, development_id, current_only=True)] == [second.id]
    with pytest.raises(Conflict, match="corrected by somebody else"):
        add(store, development_id, "p3", {"cooks": 8}, corrects=first.id, reason="cheaper")
    again = add(store, development_id, "p2", {"cooks": 58}, corrects=first.id, reason="vulnerable guests")
    assert again == Added(second.id, False)


@pytest.mark.parametrize("kind", ["proof_result", "proof_plan"])
def test_only_a_record_of_the_same_kind_and_development_can_be_corrected(store: Store, kind: str):
    one, other = start(store), start(store, client_id="dev-2")
    first = add(store, one, "p1", {"cooks": 28})
    target = one if kind == "proof_result" else other
    with pytest.raises(NotFound):
        add(store, target, "p2", {"cooks": 58}, kind=kind, corrects=first.id, reason="other")


@pytest.mark.parametrize("content", [{"x": float("nan")}, {"x": object()}, {"x": b"bytes"}])
def test_content_that_is_no_json_is_refused(store: Store, content: dict[str, object]):
    development_id = start(store)
    with pytest.raises(InvalidDocument, match="can't be kept as JSON"):
        add(store, development_id, "p1", content)


@pytest.mark.parametrize("kind", ["", "Proof", "proof plan", "1st", "a" * 61])
def test_a_kind_is_a_plain_word(store: Store, kind: str):
    development_id = start(store)
    with pytest.raises(InvalidDocument, match="small letters"):
        add(store, development_id, "p1", {}, kind=kind)


def test_another_customers_records_are_not_found(store: Store):
    development_id = start(store, customer="Vale")
    added = add(store, development_id, "p1", {"cooks": 28})
    with store.read("North") as reading:
        assert reading.records.of_kind("proof_plan") == ()
        with pytest.raises(NotFound):
            reading.records.one(added.id)
    with store.read("Vale") as reading:
        assert reading.records.one(added.id).content == {"cooks": 28}


def test_records_of_no_development_belong_to_a_customer_or_the_house(store: Store):
    with store.unit_of_work(context()) as work:
        work.records.add_general(RecordEntry("account", {"name": "Ann"}, "a1"), customer=None)
        work.records.add_general(RecordEntry("account", {"name": "Vi"}, "a1"), customer="Vale")
        work.commit()
    with store.read(None) as reading:
        assert [row.content["name"] for row in reading.records.of_kind("account")] == ["Ann", "Vi"]
    with store.read("Vale") as reading:
        assert [row.content["name"] for row in reading.records.of_kind("account")] == ["Vi"]


def test_a_record_moves_its_development_on(store: Store):
    development_id = start(store)
    with store.read(None) as reading:
        before = reading.developments.one(development_id)
    add(store, development_id, "p1", {"cooks": 28})
    with store.read(None) as reading:
        after = reading.developments.one(development_id)
    assert after.token > before.token
    assert after.moved_at > before.moved_at


def test_a_file_is_kept_once_byte_by_byte(store: Store):
    development_id = start(store, customer="Vale")
    data = bytes(range(256)) * 10
    with store.unit_of_work(context()) as work:
        development = work.developments.one(development_id)
        assert work.files.keep(development, data, media_type="image/jpeg").new
        assert not work.files.keep(development, data, media_type="image/jpeg").new
        with pytest.raises(Conflict):
            work.files.keep(development, data, media_type="image/png")
        work.commit()
    with store.read("Vale") as reading:
        assert (reading.files.get(file_hash(data)).data, len(reading.files.of_development(development_id))) == (data, 1)
    with store.read("North") as reading, pytest.raises(NotFound):
        reading.files.get(file_hash(data))
