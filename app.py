"""The test-cook tuner as a web app: `streamlit run app.py` serves this file and runs it for every visitor."""

from __future__ import annotations

from pathlib import Path

import streamlit as st
from streamlit.runtime.scriptrunner import get_script_run_ctx

from tuner.oven_page import oven_routes
from tuner.screens import show_screens, sorry

app = st.App(__file__, routes=oven_routes(), middleware=[], on_script_error=sorry)

if get_script_run_ctx(suppress_warning=True):
    show_screens(Path(__file__).resolve().parent)
