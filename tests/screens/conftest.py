from __future__ import annotations

from collections.abc import Iterator

import pytest
import streamlit as st

from tests.screens.desk import Desk, put_in_place


@pytest.fixture
def desk(monkeypatch: pytest.MonkeyPatch) -> Iterator[Desk]:
    """Use cases that answer from memory; every test begins without anything kept by an earlier one."""
    made = Desk()
    put_in_place(made, monkeypatch)
    monkeypatch.setenv("TUNER_ACTOR", "R. Osei")
    st.cache_data.clear()
    st.cache_resource.clear()
    yield made
    st.cache_data.clear()
    st.cache_resource.clear()
