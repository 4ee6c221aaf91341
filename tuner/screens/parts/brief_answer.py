"""What can be said of a brief before anything is saved: what is missing, whether it can be met, what is to be confirmed."""

from __future__ import annotations

import streamlit as st

from tuner.screens.fields import Form
from tuner.screens.marks.words import State, as_label, lines, percent
from tuner.screens.parts.cautions import show_cautions
from tuner.screens.parts.limit import limit_words, rules_in_words
from tuner.services import BriefCheck

_POSSIBLE: dict[str, tuple[State, str]] = {
    "yes": ("inside", "It can be met"),
    "doubtful": ("close", "It is doubtful"),
    "no": ("outside", "It can't be met"),
}


def show_missing(problems: list[str]) -> None:
    """What the form still lacks, before anything can be said."""
    st.header("Still missing")
    st.html(lines([("unknown", problem) for problem in dict.fromkeys(problems)]))


def show_answer(check: BriefCheck) -> None:
    """Feasibility, the chance of a perfect program, obstacles, the cheapest ways out, what is unanswered, the limit."""
    found = check.feasibility
    state, word = _POSSIBLE[found.possible]
    st.header("Can it be met?")
    chance = f"A perfect program would pass one cook with {percent(found.pass_chance)}: the rest is panel and noise."
    st.html(lines([(state, f"{word}."), ("", chance)]))
    if found.obstacles:
        st.html(lines([("outside", text) for text in found.obstacles]))
    if found.relaxations:
        st.text("What would help, cheapest first")
        st.html(lines([("", text) for text in found.relaxations]))
    if check.missing:
        st.subheader("Not answered yet")
        st.html(lines([("unknown", text) for text in check.missing]))
    st.subheader("Critical limit that counts")
    st.html(lines([("", limit_words(check)), ("", check.limit.why)]))
    if check.rules:
        st.text("Rules shipped for this food, strictest first")
        st.html(lines([("", text) for text in rules_in_words(check)]))
    show_cautions("brief", "printed limit")


def ask_questions(form: Form, check: BriefCheck) -> list[str]:
    """Codes of the unlikely values that are meant."""
    if not check.questions:
        return []
    st.subheader("Please check")
    return [
        question.code
        for question in check.questions
        if st.checkbox(f"{as_label(question.text)} Checked\\.", key=form.key(f"meant.{question.code}"))
    ]
