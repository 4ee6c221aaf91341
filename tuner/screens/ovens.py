"""Ovens: what each can set, and what was measured on it."""

from __future__ import annotations

from datetime import UTC, datetime

import streamlit as st

from tuner import services
from tuner.domain import Oven
from tuner.screens import state
from tuner.screens.door import error_door, show_problems
from tuner.screens.fields import Form
from tuner.screens.loading import workspace
from tuner.screens.marks.ovens import age_days, last_check, oven_row, top_of
from tuner.screens.parts.cautions import show_cautions
from tuner.screens.parts.oven_form import oven_form
from tuner.screens.who import actor
from tuner.services import OvenRecord

NEW = "new"


def _due_first(record: OvenRecord, now: datetime) -> tuple[float, str]:
    """Never checked first, then the oldest check."""
    check = last_check(record.oven)
    age = age_days(check, now) if check else None
    return (-float("inf") if age is None else -age), record.oven.name


def _list(records: tuple[OvenRecord, ...]) -> None:
    now = datetime.now(UTC)
    top = top_of([record.oven for record in records])
    st.caption("Watts into water at the last check, from nothing to the largest. What needs a check comes first.")
    for record in sorted(records, key=lambda one: _due_first(one, now)):
        st.html(f'<div class="tk tk-rows tk-ovens">{oven_row(record.oven, now=now, top_w=top)}</div>')


def _save(oven: Oven, record: OvenRecord | None) -> None:
    draft = f"oven-{record.id if record else NEW}"
    with error_door():
        once = state.draft_id(draft)
        if record:
            services.edit_oven(workspace(), actor(), oven_id=record.id, oven=oven, client_id=once)
        else:
            services.add_oven(workspace(), actor(), oven=oven, client_id=once)
        state.draft_done(draft)
        state.say_next(f"{oven.name} is kept.")
        st.rerun()


def show() -> None:
    """Draw the page."""
    st.title("Ovens")
    records = services.list_ovens(workspace(), actor())
    if records:
        _list(records)
    else:
        st.text("There is no oven yet. Describe the first one.")
    st.header("Add or edit")
    known = {record.id: record for record in records}
    chosen = st.selectbox(
        "Which oven?",
        [NEW, *known],
        format_func=lambda one: "a new oven" if one == NEW else known[one].oven.name,
        key="which-oven",
    )
    record = known.get(chosen)
    form = Form(f"oven.{record.id}.{record.version}" if record else f"oven.{state.draft_id(f'oven-{NEW}')}")
    document = oven_form(form, record.oven if record else None)
    if st.button("Keep this oven", type="primary", key=form.key("save")):
        if form.problems:
            show_problems(form.problems)
        else:
            with error_door():
                _save(Oven.model_validate(document), record)
    show_cautions("oven", "oven check")


if __name__ == "__main__":
    show()
