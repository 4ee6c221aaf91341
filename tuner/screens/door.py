"""The one door through which errors reach a person: the tool's own messages as they are, anything else as an apology."""

from __future__ import annotations

import logging
import uuid
from collections.abc import Iterator, Sequence
from contextlib import contextmanager

import streamlit as st
from pydantic import ValidationError

from tuner.domain import InvalidDocument, NeedsConfirmation, TunerError
from tuner.domain.wording import problems_of
from tuner.screens.marks.notice import problem_block

_LOG = logging.getLogger("tuner.screens")


def sentences_of(error: Exception) -> tuple[str, ...] | None:
    """What to tell a person of an error, one sentence each; None where it is none of ours."""
    if isinstance(error, InvalidDocument):
        return error.problems
    if isinstance(error, NeedsConfirmation):
        return tuple(question.text for question in error.questions)
    if isinstance(error, ValidationError):
        return tuple(problems_of(error))
    return tuple(str(error).splitlines()) if isinstance(error, TunerError) else None


def show_problems(sentences: Sequence[str], *, head: str = "Not done") -> None:
    """Show what stands in the way."""
    st.html(problem_block(head, sentences))


def apologise(error: Exception) -> bool:
    """Say sorry for an error nobody foresaw, with a number under which it stands in the log; True: it is dealt with."""
    number = uuid.uuid4().hex[:8]
    _LOG.error("error %s", number, exc_info=error)
    show_problems(
        (
            "Something went wrong that should not have. What was answered as saved is kept; nothing else was changed.",
            f"Load the page again. If it comes back, tell whoever runs the tuner the number {number}: the log holds the rest.",
        ),
        head="Sorry",
    )
    return True


@contextmanager
def error_door() -> Iterator[None]:
    """Run a part of a page; its errors are shown in its place, and the rest of the page goes on."""
    try:
        yield
    except Exception as error:
        told = sentences_of(error)
        if told is None:
            apologise(error)
        else:
            show_problems(told)
