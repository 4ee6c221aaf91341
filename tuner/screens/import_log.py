"""Import: what was read, what is asked, what was left out and why, before anything is kept."""

from __future__ import annotations

import hashlib
from typing import Any

import streamlit as st

from tuner import services
from tuner.screens import state
from tuner.screens.choosing import chosen_development, development_head
from tuner.screens.door import error_door, show_problems
from tuner.screens.loading import read_log, workspace
from tuner.screens.marks.imported import cooks_found, rows_not_taken
from tuner.screens.marks.notice import done_block
from tuner.screens.marks.words import counted, sentences
from tuner.screens.pages import go, link
from tuner.screens.parts.mapping import ask, by_hand, show_columns, with_answers
from tuner.screens.who import actor
from tuner.services import DevelopmentView, ImportPreview, ImportReport

LOGS = ("csv", "tsv", "txt", "xlsx")


def _not_taken(found: ImportPreview) -> None:
    result = found.result
    if result.refused:
        st.subheader(f"Refused: {counted(len(result.refused), 'row')}")
        st.html(rows_not_taken([(row.line, row.reason) for row in result.refused], what="Why"))
    if result.left_out:
        with st.expander(f"Values not taken: {len(result.left_out)}"):
            found_values = [(one.line, f"{one.column} {one.value}: {one.reason}") for one in result.left_out]
            st.html(rows_not_taken(found_values, what="Value and why"))
    if result.skipped:
        with st.expander(f"Skipped: {counted(len(result.skipped), 'row')} (blank, totals, titles)"):
            st.html(rows_not_taken([(row.line, row.reason) for row in result.skipped], what="Why"))


def _told(report: ImportReport) -> str:
    words = f"{counted(report.added, 'cook')} added, {report.known} known already, {len(report.refused)} rows refused."
    return words if not report.refused else f"{words} First: line {report.refused[0].line}, {report.refused[0].reason}"


def _keep(view: DevelopmentView, found: ImportPreview, data: bytes, filename: str) -> None:
    count = len(found.result.cooks)
    open_questions = found.mapping.open_questions
    if not st.button(f"Keep {counted(count, 'cook')}", type="primary", key="keep-import", disabled=count == 0):
        return
    if open_questions:
        show_problems([question.text for question in open_questions], head="Please answer first")
        return
    with error_door():
        report = services.import_cooks(
            workspace(), actor(), development_id=view.id, data=data, filename=filename, mapping=found.mapping
        )
        state.say_next(_told(report))
        go("development", development=view.id)


def _log(view: DevelopmentView, data: bytes, filename: str) -> None:
    prefix = f"import.{view.id}.{hashlib.sha256(data).hexdigest()[:12]}"

    def read(mapping: Any) -> ImportPreview:
        return read_log(view.id, view.token, filename, data, mapping.model_dump_json() if mapping else "", actor())

    guess = read(None)
    found = with_answers(read(by_hand(guess, prefix)), read, prefix)
    if guess.remembered:
        st.html(done_block("This layout was read before: what was said then is used again."))
    ask(found, prefix)
    show_columns(guess, found, prefix)
    if found.mapping.remarks:
        st.html(sentences(found.mapping.remarks))
    st.subheader(f"What would go in: {counted(len(found.result.cooks), 'cook')}")
    st.html(cooks_found(found))
    _not_taken(found)
    st.text("Nothing is kept yet. What goes in is marked as history, and nothing goes in twice.")
    _keep(view, found, data, filename)


def _whole_export() -> None:
    """Take back an export of the tuner itself."""
    with st.expander("Take back an export of the tuner (JSON)"):
        file = st.file_uploader("Export, as JSON", type=["json"], key="whole")
        if file and st.button("Take it back", key="take-back"):
            with error_door():
                st.html(done_block(_told(services.import_json(workspace(), actor(), data=file.getvalue()))))


def show() -> None:
    """Draw the page."""
    view = chosen_development("Import")
    if view is not None:
        development_head(view, "import_log")
        st.header("A cook log, as your kitchen keeps it")
        file = st.file_uploader("CSV or XLSX, one row a cook or one row a taster", type=list(LOGS), key=f"log-{view.id}")
        if file:
            with error_door():
                _log(view, file.getvalue(), file.name)
        else:
            st.text("The columns are guessed and shown first. What is doubtful is asked. Nothing is kept before you say so.")
    _whole_export()
    link("who_waits", "Back to who waits")


if __name__ == "__main__":
    show()
