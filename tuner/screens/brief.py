"""Brief: what is wanted, with what is missing, whether it can be met, and what changed."""

from __future__ import annotations

from typing import Any

import streamlit as st
from pydantic import ValidationError

from tuner import services
from tuner.domain import Brief, Oven
from tuner.screens import state
from tuner.screens.choosing import chosen_development, development_head
from tuner.screens.door import error_door, show_problems
from tuner.screens.fields import Form
from tuner.screens.loading import brief_check, workspace
from tuner.screens.marks.words import sentences
from tuner.screens.pages import go, link
from tuner.screens.parts.brief_answer import ask_questions, show_answer, show_missing
from tuner.screens.parts.brief_dish import conventional_fields, dish_fields, portion_fields
from tuner.screens.parts.brief_windows import limit_fields, proof_fields, window_fields
from tuner.screens.who import actor
from tuner.services import BriefCheck, DevelopmentView

_SHOWN = ("dish", "customer", "food_class", "eaters", "market", "allergens", "preparation", "portion", "conventional",
          "targets", "critical_limit", "rest_s", "places", "tasters", "confirmation_cooks", "budget_cooks",
          "texture_with_heat")  # fmt: skip
"""Fields this form owns; everything else of an edited brief stays as it was."""


def _given(fields: dict[str, Any]) -> dict[str, Any]:
    return {name: value for name, value in fields.items() if value is not None}


def _fields(form: Form, brief: Brief | None, oven: Oven) -> dict[str, Any]:
    """The whole form as a document."""
    kept = brief.model_dump(exclude_unset=True) if brief else {}
    document = {name: value for name, value in kept.items() if name not in _SHOWN}
    st.header("Dish")
    document |= _given(dish_fields(form, brief))
    st.header("Portion")
    before = {k: v for k, v in kept.get("portion", {}).items() if k in ("fibre", "covered", "tolerance")}
    document["portion"] = before | _given(portion_fields(form, brief))
    document |= _given({"conventional": conventional_fields(form, brief)})
    st.header("Windows")
    document["targets"] = window_fields(form, brief)
    st.header("Rest, panel and proof")
    document |= proof_fields(form, brief)
    st.header("Critical limit")
    document |= _given({"critical_limit": limit_fields(form, brief, _without_limit(form, document, oven))})
    return document


def _without_limit(form: Form, document: dict[str, Any], oven: Oven) -> BriefCheck | None:
    """What is known of the brief before its limit is stated; None while it is incomplete."""
    if form.problems:
        return None
    try:
        return brief_check(Brief.model_validate(document), oven)
    except ValidationError:  # told beside the form, with everything else
        return None


def _save(view: DevelopmentView | None, brief: Brief, oven_id: str) -> None:
    draft = f"brief-{view.id if view else 'new'}"
    with error_door():
        if view:
            kept = services.edit_brief(
                workspace(),
                actor(),
                development_id=view.id,
                brief=brief,
                expected_version=view.brief_version,
                client_id=state.draft_id(draft),
            )
            state.say_next(f"Kept as version {kept.brief_version} of the brief.")
        else:
            kept = services.start_development(
                workspace(), actor(), brief=brief, oven_id=oven_id, client_id=state.draft_id(draft)
            )
            state.say_next("Started. This is the first program to cook.")
        state.draft_done(draft)
        go("development" if view else "next_cook", development=kept.id)


def _entry(view: DevelopmentView | None, oven: Oven, oven_id: str) -> None:
    old = view.brief if view else None
    form = Form(f"brief.{view.id}.{view.brief_version}" if view else f"brief.{state.draft_id('brief-new')}")
    left, right = st.columns([2, 1], gap="large")
    with left:
        document = _fields(form, old, oven)
    with right, st.container(key="answer"), error_door():
        if form.problems:
            show_missing(form.problems)
            return
        brief = Brief.model_validate(document)
        check = brief_check(brief, oven)
        show_answer(check)
        meant = ask_questions(form, check)
        if view:
            st.subheader("What changes")
            st.html(sentences(services.brief_differences(view.brief, brief) or ("nothing yet",)))
        if st.button("Keep as a new version" if view else "Start the development", type="primary", key=form.key("save")):
            unanswered = [question.text for question in check.questions if question.code not in meant]
            if unanswered:
                show_problems(unanswered, head="Please confirm or correct")
                return
            confirmed = (*(brief.confirmed or ()), *meant)
            _save(view, Brief.model_validate(document | ({"confirmed": confirmed} if confirmed else {})), oven_id)


def show() -> None:
    """Draw the page."""
    if st.query_params.get("new"):
        st.title("New brief")
        ovens = {record.id: record for record in services.list_ovens(workspace(), actor())}
        if not ovens:
            st.text("A brief needs an oven to be cooked in. There is none yet.")
            link("ovens", "Add an oven")
            return
        chosen = st.selectbox("Oven", list(ovens), format_func=lambda one: ovens[one].oven.name, key="brief-oven")
        _entry(None, ovens[chosen].oven, chosen)
        return
    view = chosen_development("Brief")
    if view:
        development_head(view, "brief")
        _entry(view, view.oven, view.oven_id)


if __name__ == "__main__":
    show()
