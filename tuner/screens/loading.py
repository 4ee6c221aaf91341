"""What the screens load, and how long it is kept: the workspace for the server's life, answers by what they depend on."""

from __future__ import annotations

import os
from typing import Any

import streamlit as st

from tuner import services
from tuner.domain import Brief, Oven, TestCook
from tuner.screens.marks.trace import trace_spec
from tuner.services import BriefCheck, Workspace


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
