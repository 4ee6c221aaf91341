"""What the screens load, and how long it is kept: the workspace for the server's life, answers by what they depend on."""

from __future__ import annotations

import os
from typing import Any

import streamlit as st

from tuner import services
from tuner.domain import Brief, Oven, TestCook
from tuner.screens.marks.trace import trace_spec
from tuner.services import Actor, BriefCheck, ImportPreview, Workspace


@st.cache_resource(show_spinner=False)
def _opened(url: str | None) -> Workspace:
    return services.open_workspace(url)


def workspace() -> Workspace:
    """The store named by `$TUNER_DB`, opened once and shared by all sessions; every use case opens its own transaction."""
    return _opened(os.environ.get("TUNER_DB"))


@st.cache_data(show_spinner=False, max_entries=200)
def _checked(brief_json: str, oven_json: str) -> BriefCheck:
    return services.check_brief(Brief.model_validate_json(brief_json), Oven.model_validate_json(oven_json))


def brief_check(brief: Brief, oven: Oven) -> BriefCheck:
    """What can be said of a brief, kept by its content: a form asks again after every field."""
    return _checked(brief.model_dump_json(), oven.model_dump_json())


@st.cache_data(show_spinner=False, max_entries=500)
def trace_chart(
    cook_id: str, dark: bool, pass_line_c: float | None, limit_c: float | None, _cook: TestCook
) -> dict[str, Any] | None:
    """Drawing of a cook's trace, made once: a cook never changes under its id."""
    del cook_id  # the key under which the drawing is kept
    return trace_spec(_cook, pass_line_c=pass_line_c, limit_c=limit_c, dark=dark)


@st.cache_data(show_spinner="Reading the file …", max_entries=40)
def read_log(development_id: str, token: int, filename: str, data: bytes, mapping_json: str, _who: Actor) -> ImportPreview:
    """A cook log as it would be read, kept by its content and mapping (empty: the guessed or remembered one)."""
    del token  # a changed development reads a file anew: what is known already may have changed
    guessed = services.preview_import(workspace(), _who, development_id=development_id, data=data, filename=filename)
    if not mapping_json:
        return guessed
    mapping = type(guessed.mapping).model_validate_json(mapping_json)
    return services.preview_import(
        workspace(), _who, development_id=development_id, data=data, filename=filename, mapping=mapping
    )
