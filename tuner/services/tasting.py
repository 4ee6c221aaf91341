"""The eat gate on every live way in: nothing that was not known to be safe is taken as tasted."""

from __future__ import annotations

from collections.abc import Mapping

from tuner.domain import Brief, NotAllowed, Score, TestCook
from tuner.services.documents import changed

RIGHTLY = (
    "Send the cook without texture, moisture and further marks: browning by eye, readings, photos and mass are welcome. "
    "A cook that somebody tasted before it came into the tool comes in through the import, marked as history."
)


def tastings(cook: TestCook) -> frozenset[tuple[object, ...]]:
    """Everything in a cook's scores that says somebody ate: taster, attribute, mark."""
    return frozenset(mark for score in cook.scores or () for mark in _eaten(score))


def _eaten(score: Score) -> list[tuple[object, ...]]:
    marks: list[tuple[object, ...]] = [
        (score.taster, name, mark) for name in ("texture", "moisture") if (mark := getattr(score, name)) is not None
    ]
    return marks + [(score.taster, "other", name, mark) for name, mark in (score.other or {}).items()]


def refuse_unsafe_tasting(brief: Brief, cook: TestCook, may_taste: Mapping[str, bool] | None) -> None:
    """Refuse tastings of a cook that is not safe to taste, or by people who were not asked.

    Raises
    ------
    NotAllowed
        Naming every reason and how to enter the cook rightly.
    """
    from tuner.safety import eat_gate

    if not tastings(cook):
        return
    gate = eat_gate(brief, cook, may_taste)
    if not gate.allowed:
        raise NotAllowed("\n".join(["The scores say that somebody tasted this cook.", *gate.reasons, RIGHTLY]))


def refuse_history(cook: TestCook) -> None:
    """Refuse the mark of old cooks on a cook that is entered now: it would open a way past the gate.

    Raises
    ------
    NotAllowed
        If the cook carries it.
    """
    if cook.history:
        raise NotAllowed(
            f"history is {cook.history!r}. This mark is for cooks of old logs, which come in through the import. "
            "Leave it out, or import the log."
        )


def still_history(kept: TestCook, cook: TestCook) -> TestCook:
    """A correction of an old cook stays marked as history, as long as it claims no tasting that the old one did not."""
    if not kept.history or cook.history == kept.history or not tastings(cook) <= tastings(kept):
        return cook
    return changed(cook, history=kept.history)


def gate_correction(brief: Brief, kept: TestCook, cook: TestCook, may_taste: Mapping[str, bool] | None) -> None:
    """Refuse a correction whose tastings are not allowed: by the corrected readings, or because an old cook would gain some.

    Parameters
    ----------
    brief
        By which it is judged.
    kept
        The row that is corrected.
    cook
        The correction, after `still_history`.
    may_taste
        What each taster answered, now or when the corrected row was logged.

    Raises
    ------
    NotAllowed
        Naming every reason and how to enter it rightly.
    """
    if kept.history and cook.history == kept.history and tastings(cook) <= tastings(kept):
        return
    refuse_history(cook)
    refuse_unsafe_tasting(brief, cook, may_taste)
