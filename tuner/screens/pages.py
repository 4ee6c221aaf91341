"""The screens, their addresses and the menu."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from types import MappingProxyType
from typing import Literal

import streamlit as st
from streamlit.navigation.page import StreamlitPage

Screen = Literal["who_waits", "log", "development", "brief", "next_cook", "ovens", "import_log"]

_HERE = Path(__file__).parent
_TITLES: Mapping[Screen, tuple[str, str]] = MappingProxyType(
    {
        "who_waits": ("Who waits", ""),
        "log": ("Log a cook", "log"),
        "development": ("Development", "development"),
        "brief": ("Brief", "brief"),
        "next_cook": ("Next cook", "next-cook"),
        "ovens": ("Ovens", "ovens"),
        "import_log": ("Import", "import"),
    }
)
_MENU: Mapping[str, tuple[Screen, ...]] = MappingProxyType(
    {
        "Today": ("who_waits", "log"),
        "Develop": ("development", "brief", "next_cook"),
        "Kitchens": ("ovens",),
        "Look back": ("import_log",),
    }
)


def page(screen: Screen) -> StreamlitPage:
    """One screen, for the menu and for links. The first one answers at the bare address."""
    title, address = _TITLES[screen]
    if not address:
        return st.Page(_HERE / f"{screen}.py", title=title, default=True)
    return st.Page(_HERE / f"{screen}.py", title=title, url_path=address)


def menu() -> dict[str, list[StreamlitPage]]:
    """All screens by what a person comes to do."""
    return {group: [page(screen) for screen in screens] for group, screens in _MENU.items()}


def link(screen: Screen, label: str = "", *, development: str | None = None, **more: str) -> None:
    """A link to a screen; ids go into the address, so that it can be sent to somebody."""
    ids = ({"development": development} if development else {}) | more
    st.page_link(page(screen), label=label or _TITLES[screen][0], query_params=ids or None)


def go(screen: Screen, *, development: str | None = None, **more: str) -> None:
    """Turn to another screen at once."""
    ids = ({"development": development} if development else {}) | more
    st.switch_page(page(screen), query_params=ids or None)
