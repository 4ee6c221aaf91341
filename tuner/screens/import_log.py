"""Import: what was read, what is asked, what was left out and why, before anything is kept."""

from __future__ import annotations

import streamlit as st

from tuner.screens.choosing import chosen_development, development_head


def show() -> None:
    """Draw the page."""
    view = chosen_development("Import")
    if view is None:
        return
    development_head(view, "import_log")
    st.subheader("Import a cook log")


if __name__ == "__main__":
    show()
