"""The export as JSON: same state, same bytes, and back."""

from __future__ import annotations

import contextlib
import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.exchange.snapshots import snapshots
from tuner.domain import InvalidDocument, Snapshot
from tuner.exchange import read_json, write_json


@settings(deadline=None, max_examples=40)
@given(snapshots())
def test_an_export_comes_back_as_the_same_state(snapshot: Snapshot) -> None:
    data = write_json(snapshot)
    again = read_json(data)
    assert again == snapshot
    assert write_json(again) == data


def test_an_export_carries_its_format_tag() -> None:
    assert json.loads(write_json(Snapshot(format="test-cook-tuner/1")))["format"] == "test-cook-tuner/1"


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "not JSON"),
        (b"{", "not JSON"),
        (b"\xff\xfe\x00", "not UTF-8"),
        (b"[]", "an object with named fields"),
        (b"{}", "has no 'format'"),
        (b'{"format": "test-cook-tuner/1", "format": "test-cook-tuner/1"}', "stands twice"),
        (b'{"format": "test-cook-tuner/1", "ovens": [{"id": NaN}]}', "NaN is not a number"),
        (b'{"format": "test-cook-tuner/2"}', "must be one of"),
        (b'{"format": "test-cook-tuner/1", "sheets": []}', "not a field"),
        (b"[" * 200_000, "nested too deeply"),
        (b"1" * 6000, "not a legal export"),
        (
            b'{"format": "test-cook-tuner/1", "mappings": [{"layout": "a", "mapping": {"x": "\\ud800"}, "by": "m", '
            b'"at": "2026-01-01T00:00:00Z"}]}',
            "can't be written",
        ),
    ],
)
def test_what_is_no_export_is_refused_in_words(data: bytes, words: str) -> None:
    with pytest.raises(InvalidDocument) as refused:
        read_json(data)
    assert words in str(refused.value)


@settings(deadline=None, max_examples=200)
@given(st.binary(max_size=200) | st.text(max_size=200).map(lambda text: text.encode("utf-8", "surrogatepass")))
def test_any_bytes_are_an_export_or_an_invalid_document(data: bytes) -> None:
    with contextlib.suppress(InvalidDocument):
        assert read_json(data).format
