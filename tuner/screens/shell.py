"""What stands around every screen: sheet, menu, name, error door."""

from __future__ import annotations

from pathlib import Path

import streamlit as st

from tuner.screens import state
from tuner.screens.door import error_door
from tuner.screens.marks.notice import done_block
from tuner.screens.pages import menu
from tuner.screens.who import desk_field


def show_screens(served: Path) -> None:
    """Draw the screen that the address names.

    Parameters
    ----------
    served
        Folder that holds `static/`.
    """
    st.set_page_config(page_title="Test-cook tuner", page_icon=served / "static" / "mark.png", layout="wide")
    st.html(served / "static" / "marks.css")
    page = st.navigation(menu(), expanded=True)
    with st.sidebar:
        desk_field()
    if words := state.said():
        st.html(done_block(words))
    with error_door():
        page.run()
