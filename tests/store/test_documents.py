"""Kept text: exact, equal for equal content, checked on the way out."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta, timezone

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sqlalchemy import text

from tests.store.invented import OVEN, brief, context, cook, cook_entry
from tuner.domain import StoreProblem, TestCook
from tuner.store import Store, canonical_text, content_hash, document_text
from tuner.store.connecting import make_engine
from tuner.store.instants import UtcInstant


def test_the_text_does_not_depend_on_the_order_of_keys_and_adds_nothing():
    one, other = TestCook.model_validate({"mass_g": 1, "purpose": "benchmark"}), {"purpose": "benchmark", "mass_g": 1.0}
    assert document_text(one) == document_text(TestCook.model_validate(other)) == '{"mass_g":1.0,"purpose":"benchmark"}'


def test_numbers_that_are_not_finite_are_refused():
    with pytest.raises(ValueError, match="not JSON compliant"):
        canonical_text({"a": float("nan")})


@settings(deadline=None, max_examples=60)
@given(
    st.dictionaries(
        st.text(max_size=4), st.one_of(st.floats(allow_nan=False, allow_infinity=False), st.text(max_size=4)), max_size=4
    )
)
def test_equal_content_has_equal_hashes_whatever_the_order(content: dict[str, float | str]):
    assert content_hash(content) == content_hash(dict(reversed(content.items())))


def test_a_document_damaged_from_outside_is_told_not_shown(store: Store, url: str):
    with store.unit_of_work(context()) as work:
        oven = work.ovens.add(OVEN, client_id="o", customer=None)
        development = work.developments.start(brief(), client_id="d", customer=None, oven_id=oven.id)
        work.cooks.add(work.developments.one(development.id), cook_entry("c"))
        work.commit()
    engine, _ = make_engine(url)
    with engine.begin() as connection:
        sqlite = engine.dialect.name == "sqlite"
        connection.execute(text("DROP TRIGGER append_only_cook_update" if sqlite else "DROP TRIGGER append_only_cook ON cook"))
        connection.execute(text("UPDATE cook SET document = '{\"mass_g\":-5}'"))
    engine.dispose()
    with pytest.raises(StoreProblem, match=r"Cook 1 of development .* can't be read any more"), store.read(None) as reading:
        reading.cooks.of_development(development.id)


@pytest.mark.parametrize("value", [1e22, -0.0, 0.1 + 0.2, 1e-300, 123456789.12345679])
def test_numbers_come_back_to_the_last_bit(store: Store, value: float):
    with store.unit_of_work(context()) as work:
        work.mappings.remember("layout", {"value": value}, client_id="m", customer=None)
        work.commit()
    with store.read(None) as reading:
        kept = reading.mappings.newest("layout")
    assert kept is not None
    assert repr(kept.mapping["value"]) == repr(value)


def test_times_come_back_as_the_same_instant_in_utc(store: Store):
    at = datetime(2026, 3, 2, 23, 59, 59, 123456, tzinfo=timezone(timedelta(hours=-7)))
    given_context = context()
    with store.unit_of_work(type(given_context)("Ann", None, "developer", at)) as work:
        oven = work.ovens.add(OVEN, client_id="o", customer=None)
        work.commit()
    with store.read(None) as reading:
        kept = reading.ovens.current(oven.id).stamp.at
    assert kept == at
    assert kept.tzinfo is UTC


def test_a_time_without_zone_is_refused():
    with pytest.raises(ValueError, match="has no zone"):
        UtcInstant().process_bind_param(datetime(2026, 3, 2), None)  # type: ignore[arg-type]


def test_a_cook_with_everything_comes_back_whole(store: Store):
    sent = cook(
        trace=[{"place": 1, "time_s": [0, 10], "temperature_c": [4, 40.5]}],
        confirmed=["mass_g=183"],
        history=True,
        scores=[{"taster": "A", "other": {"crisp": 4.0}}],
    )
    with store.unit_of_work(context()) as work:
        oven = work.ovens.add(OVEN, client_id="o", customer=None)
        development = work.developments.start(brief(), client_id="d", customer=None, oven_id=oven.id)
        added = work.cooks.add(work.developments.one(development.id), cook_entry("c", cook=sent))
        work.commit()
    with store.read(None) as reading:
        assert document_text(reading.cooks.one(added.id).cook) == document_text(sent)
