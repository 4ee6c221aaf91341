"""Which development a page is about: the one in the address, else the one looked at last, else a list to choose from."""

from __future__ import annotations

import streamlit as st

from tuner import services
from tuner.domain import NotFound
from tuner.screens import state
from tuner.screens.door import show_problems
from tuner.screens.loading import workspace
from tuner.screens.marks.notice import demo_banner, dish_head, is_invented
from tuner.screens.marks.words import counted
from tuner.screens.pages import Screen, link
from tuner.screens.who import actor
from tuner.services import DevelopmentView

_BESIDE: tuple[tuple[Screen, str], ...] = (
    ("development", "Development"),
    ("next_cook", "Next cook"),
    ("log", "Log a cook"),
    ("brief", "Brief"),
    ("import_log", "Import"),
)


def _choose(title: str) -> str | None:
    """Let the person choose; None while nothing is chosen."""
    st.title(title)
    with st.spinner("Looking where every development stands …"):
        known = [one for one in services.list_developments(workspace(), actor()) if one.status != "archived"]
    if not known:
        st.text("There is no development yet. It begins with a brief.")
        link("brief", "Write a brief", new="yes")
        return None
    names = {one.id: f"{one.dish} ({one.customer or one.oven_name})" for one in known}
    return st.selectbox(
        "Which development?", list(names), index=None, format_func=names.__getitem__, placeholder="choose a dish", key="choose"
    )


def chosen_development(title: str) -> DevelopmentView | None:
    """The development this page is about, or None while it is being chosen (the page then shows nothing more)."""
    chosen = st.query_params.get("development") or state.last_development() or _choose(title)
    if chosen is None:
        return None
    try:
        with st.spinner("Looking at the cooks …"):
            view = services.view_development(workspace(), actor(), development_id=chosen)
    except NotFound as error:
        show_problems((str(error),), head="Not found")
        st.query_params.pop("development", None)
        state.remember_development("")
        link("who_waits", "Back to who waits")
        return None
    state.remember_development(view.id)
    if st.query_params.get("development") != view.id:
        st.query_params["development"] = view.id
    return view


def _under(view: DevelopmentView) -> str:
    cooks = len({cook.number for cook in view.cooks})
    parts = [view.customer or "", f"{counted(cooks, 'cook')} so far", view.oven.name]
    if view.state != "open":
        parts.append(f"{view.state}: {view.state_reason}" if view.state_reason else view.state)
    return " · ".join(part for part in parts if part)


def development_head(view: DevelopmentView, here: Screen) -> None:
    """Dish, whose it is and where it stands, and the links to the other screens about it."""
    if is_invented(view.customer):
        st.html(demo_banner())
    st.html(dish_head(view.dish, _under(view)))
    with st.container(horizontal=True, gap=None, key="beside"):
        for screen, label in _BESIDE:
            if screen != here:
                link(screen, label, development=view.id)
