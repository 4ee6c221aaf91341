"""Scores of one cook: browning by eye always; texture and moisture only where the gate lets each taster eat."""

from __future__ import annotations

import string
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import streamlit as st

from tuner.domain import Score
from tuner.screens.fields import Form
from tuner.screens.marks.words import NAME, POLES, as_label, lines
from tuner.services import DevelopmentView

MARKS = tuple(1 + step / 2 for step in range(9))
_SHOWN = {mark: f"{int(mark)}½" if mark % 1 else f"{int(mark)}" for mark in MARKS}


@dataclass(frozen=True, slots=True)
class Tasting:
    """Scores given, and who said that they may taste today."""

    scores: tuple[Score, ...]
    may_taste: dict[str, bool]


def usual_tasters(view: DevelopmentView) -> list[str]:
    """Those who scored last, else letters for as many as the brief asks."""
    for record in reversed(view.current_cooks):
        if record.cook.scores:
            return [score.taster for score in record.cook.scores]
    return list(string.ascii_uppercase[: view.brief.tasters])


def names_in(text: str) -> list[str]:
    """Names separated by commas, each once."""
    return list(dict.fromkeys(name.strip() for name in text.split(",") if name.strip()))


def ask_tasters(form: Form, view: DevelopmentView) -> list[str]:
    """Who scores: letters or pseudonyms, never full names."""
    usual = ", ".join(usual_tasters(view))
    typed = st.text_input("Tasters, by letters or pseudonyms", value=usual, key=form.key("tasters"), max_chars=300)
    return names_in(typed or "")


def _mark(form: Form, taster: str, attribute: str, before: float | None) -> float | None:
    low, high = POLES[attribute]
    with st.container(key=form.key(f"score-{attribute}-{taster}")):
        chosen: float | None = st.segmented_control(
            f"{NAME[attribute]}, {low} … {high}",
            MARKS,
            default=before,
            format_func=_SHOWN.__getitem__,
            key=form.key(f"{attribute}.{taster}"),
            persist_state="session",
            width="stretch",
        )
    return chosen


def _one(form: Form, taster: str, before: Score | None, may: bool) -> Score | None:
    names = ("browning", "texture", "moisture") if may else ("browning",)
    given = {}
    for name, column in zip(names, st.columns(3)):
        with column:
            mark = _mark(form, taster, name, getattr(before, name) if before else None)
        if mark is not None:
            given[name] = mark
    return Score.model_validate({"taster": taster, **given}) if given else None


def tasting(
    form: Form, tasters: Sequence[str], *, reasons_against: Sequence[str], before: Mapping[str, Score] | None = None
) -> Tasting:
    """Ask each taster.

    Parameters
    ----------
    form
        Gives the widget keys.
    tasters
        Who scores.
    reasons_against
        Why nobody may eat; with any, only browning is asked, by eye.
    before
        Scores of a cook that is being corrected.
    """
    known = before or {}
    if reasons_against:
        head = ("outside", "Nobody tastes this portion: texture and moisture are not asked.")
        st.html(lines([head, *(("", text) for text in reasons_against)]))
        with st.expander("Browning, judged by eye", key=form.key("by-eye")):
            given = [_by_eye(form, taster, known.get(taster)) for taster in tasters]
        return Tasting(tuple(score for score in given if score), {})
    scores, may_taste = [], {}
    for taster in tasters:
        label = f"Taster {as_label(taster)} says: I may taste today"
        may_taste[taster] = st.checkbox(label, key=form.key(f"may.{taster}"), persist_state="session")
        score = _one(form, taster, known.get(taster), may_taste[taster])
        if score:
            scores.append(score)
    return Tasting(tuple(scores), may_taste)


def _by_eye(form: Form, taster: str, before: Score | None) -> Score | None:
    st.text(f"Taster {taster}")
    return _one(form, taster, before, may=False)
