"""Log a cook: first what was measured, then the verdict, only then the tasting, if it is allowed."""

from __future__ import annotations

from typing import Any

import streamlit as st

from tuner import services
from tuner.domain import TestCook, Verdict
from tuner.domain.plausibility import Question
from tuner.screens import state
from tuner.screens.choosing import chosen_development, development_head
from tuner.screens.door import error_door, show_problems
from tuner.screens.fields import Form
from tuner.screens.loading import workspace
from tuner.screens.marks.verdict import verdict_block
from tuner.screens.marks.words import as_label, lines
from tuner.screens.pages import go
from tuner.screens.parts.cautions import OF_A_VERDICT, show_cautions
from tuner.screens.parts.measuring import measuring
from tuner.screens.parts.tasting import Tasting, ask_tasters, tasting
from tuner.screens.parts.which_program import Cooked, which_program
from tuner.screens.who import actor
from tuner.screens.zone import desk_zone
from tuner.services import CookRecord, DevelopmentView


def _corrected(view: DevelopmentView) -> CookRecord | None:
    """The cook named in the address, where one is being corrected."""
    wanted = st.query_params.get("cook")
    return next((record for record in view.current_cooks if record.id == wanted), None)


def _document(cooked: Cooked, measured: dict[str, Any], before: CookRecord | None) -> dict[str, Any]:
    """The cook as a document; what the form does not show of a corrected cook stays as it was."""
    kept = before.cook.model_dump(exclude_unset=True, exclude={"scores", "client_id", *_MEASURED}) if before else {}
    made: dict[str, Any] = {"purpose": cooked.purpose, "cook": actor().name, **kept, **measured}
    if not before:
        made |= {name: program for name in ("program", "program_set") if (program := getattr(cooked, name)) is not None}
    return made


_MEASURED = (
    "mass_g", "start_temperature_c", "lot", "completed", "interrupted_by", "rest_s", "rest_covered", "held_s",
    "core_temperature_c", "cooked_at", "thermometer_checked_at", "mass_out_g", "note",
)  # fmt: skip


def _confirmations(form: Form, questions: tuple[Question, ...]) -> list[str]:
    """Unlikely values: each is asked, and what is meant is kept as confirmed."""
    if questions:
        st.subheader("Please check")
    return [
        question.code
        for question in questions
        if st.checkbox(f"{as_label(question.text)} Checked\\.", key=form.key(f"meant.{question.code}"))
    ]


def _verdict(view: DevelopmentView, document: dict[str, Any]) -> Verdict | None:
    """Show the verdict; None while no reading is in."""
    preview = services.preview_cook(workspace(), actor(), development_id=view.id, cook=TestCook.model_validate(document))
    st.subheader("Verdict")
    if not document.get("core_temperature_c") and not view.limit.none:
        st.html(lines([("unknown", "The verdict stands here as soon as a reading is in. Scores are asked after it.")]))
        return None
    st.html(verdict_block(preview.verdict))
    show_cautions("verdict", "score entry", only=OF_A_VERDICT[preview.verdict.status])
    return preview.verdict


def _tasting(form: Form, view: DevelopmentView, cook: TestCook, decided: Verdict, before: CookRecord | None) -> Tasting:
    """Ask for the scores that the gate allows; scores of a corrected cook stay unless they are taken in hand."""
    st.subheader("Scores")
    kept = before.cook.scores or () if before else ()
    if kept and not st.toggle("Change or add scores", key=form.key("rescore")):
        return Tasting(kept, {})
    tasters = ask_tasters(form, view)
    willing = dict.fromkeys(tasters, True)  # what would stand in the way if everybody said yes
    gate = services.preview_cook(workspace(), actor(), development_id=view.id, cook=cook, may_taste=willing).gate
    against = [] if gate.allowed else [reason for reason in gate.reasons if reason not in decided.reasons]
    return tasting(form, tasters, reasons_against=against, before={score.taster: score for score in kept})


def _save(view: DevelopmentView, cook: TestCook, given: Tasting, before: CookRecord | None, reason: str, draft: str) -> None:
    space, who, once, may = workspace(), actor(), state.draft_id(draft), given.may_taste
    if before:
        kept = services.correct_cook(
            space, who, development_id=view.id, cook_id=before.id, cook=cook, reason=reason, may_taste=may, client_id=once
        )
    else:
        kept = services.log_cook(space, who, development_id=view.id, cook=cook, may_taste=may, client_id=once)
    state.draft_done(draft)
    state.say_next(f"Saved as cook {kept.number}, {kept.logged_at.astimezone(desk_zone()).strftime('%H:%M')}.")
    go("development" if before else "next_cook", development=view.id)


def _entry(view: DevelopmentView, before: CookRecord | None) -> None:
    draft = f"log-{view.id}-{before.id if before else 'new'}"
    form = Form(f"log.{state.draft_id(draft)}")
    cooked = Cooked(None, None, before.cook.purpose) if before else which_program(view, form.prefix)
    document = _document(cooked, measuring(form, view, before.cook if before else None), before)
    decided = _verdict(view, document)
    cook = TestCook.model_validate(document)
    given = _tasting(form, view, cook, decided, before) if decided else Tasting(before.cook.scores or () if before else (), {})
    if given.scores:
        document["scores"] = given.scores
    preview = services.preview_cook(
        workspace(), actor(), development_id=view.id, cook=TestCook.model_validate(document), may_taste=given.may_taste
    )
    meant = _confirmations(form, preview.questions)
    reason = form.text("reason", "Why is it corrected?", required=True) or "" if before else ""
    label = f"Save the correction of cook {before.number}" if before else "Save this cook"
    if st.button(label, type="primary", key=form.key("save")):
        if form.problems:
            show_problems(form.problems)
            return
        confirmed = (*(document.get("confirmed") or ()), *meant)
        cook = TestCook.model_validate(document | ({"confirmed": confirmed} if confirmed else {}))
        with error_door():
            _save(view, cook, given, before, reason, draft)


def show() -> None:
    """Draw the page."""
    view = chosen_development("Log a cook")
    if view is None:
        return
    development_head(view, "log")
    if view.state != "open":
        st.text(f"This development is {view.state}: no cook is logged. Reopen it on its own page.")
        return
    before = _corrected(view)
    st.header(f"Cook {before.number}: scores and corrections" if before else "A cook, as it was")
    _entry(view, before)
    show_cautions("measuring")


if __name__ == "__main__":
    show()
