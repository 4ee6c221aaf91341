"""Files to take away: everything as JSON, the cooks as one tidy table."""

from __future__ import annotations

import streamlit as st

from tuner import services
from tuner.screens.loading import workspace
from tuner.screens.who import actor


def export_buttons(development_id: str | None = None) -> None:
    """Two buttons; the file is made when one is pressed. Without an id it holds all developments."""
    space, who = workspace(), actor()
    name = f"development-{development_id[:8]}" if development_id else "developments"
    with st.container(horizontal=True):
        st.download_button(
            "Everything as JSON",
            lambda: services.export_json(space, who, development_id=development_id),
            file_name=f"{name}.json",
            mime="application/json",
            on_click="ignore",
            key=f"json-{name}",
        )
        st.download_button(
            "Cooks as CSV",
            lambda: services.export_csv(space, who, development_id=development_id),
            file_name=f"{name}.csv",
            mime="text/csv",
            on_click="ignore",
            key=f"csv-{name}",
        )
