"""Test cooks: looked at, logged, corrected, scored. Nothing is overwritten: a correction is a new row."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from tuner.domain import Brief, NeedsConfirmation, NotAllowed, NotFound, Score, TestCook
from tuner.domain.plausibility import questions_about_cook
from tuner.services.actor import Actor
from tuner.services.documents import changed
from tuner.services.loading import Loaded, load, read_development, refuse_unless_open
from tuner.services.tasting import gate_correction, refuse_history, refuse_unsafe_tasting, still_history, tastings
from tuner.services.texts import checked_reason, given_or_made_id
from tuner.services.viewing import LIVE, cook_record
from tuner.services.views import CookPreview, CookRecord
from tuner.services.workspace import Workspace
from tuner.store import CookEntry, KeptCook, UnitOfWork


def preview_cook(
    space: Workspace, who: Actor, *, development_id: str, cook: TestCook, may_taste: Mapping[str, bool] | None = None
) -> CookPreview:
    """What logging a cook would say: verdict, questions, whether it may be tasted, what it would be refused for.

    Raises
    ------
    NotFound
        If there is no such development, or none this person may see.
    """
    from tuner.safety import eat_gate, verdict

    loaded = load(space, who, development_id)
    return CookPreview(
        verdict=verdict(loaded.brief, cook),
        questions=questions_about_cook(cook, loaded.brief, loaded.oven),
        gate=eat_gate(loaded.brief, cook, may_taste),
        problems=tuple(_problems(loaded, cook, may_taste)),
    )


def _problems(loaded: Loaded, cook: TestCook, may_taste: Mapping[str, bool] | None) -> Iterator[str]:
    checks: tuple[Callable[[], None], ...] = (
        lambda: refuse_unless_open(loaded.development),
        lambda: refuse_history(cook),
        lambda: refuse_unsafe_tasting(loaded.brief, cook, may_taste),
    )
    for check in checks:
        try:
            check()
        except NotAllowed as error:
            yield str(error)


def log_cook(
    space: Workspace,
    who: Actor,
    *,
    development_id: str,
    cook: TestCook,
    may_taste: Mapping[str, bool] | None = None,
    client_id: str | None = None,
) -> CookRecord:
    """Log a cook.

    Parameters
    ----------
    cook
        As it was done; unlikely values are confirmed by their codes in `confirmed`.
    may_taste
        What each taster answered when asked whether they may taste today.
    client_id
        Made by the client: the same cook sent twice is kept once. Left out, the cook's own `client_id` counts.

    Raises
    ------
    Conflict
        If the id was used before with another cook.
    NeedsConfirmation
        If values are unlikely and not confirmed.
    NotAllowed
        If the cook was tasted without being safe to taste, carries the mark of old cooks, or the development is closed.
    NotFound
        If there is no such development, or none this person may see.
    """
    made = given_or_made_id(client_id or cook.client_id)
    with space.store.unit_of_work(space.context(who)) as work:
        loaded = read_development(work, development_id)
        kept = write_cook(work, loaded, cook, may_taste, made)
        work.commit()
    return cook_record(loaded, kept)


def write_cook(
    work: UnitOfWork, loaded: Loaded, cook: TestCook, may_taste: Mapping[str, bool] | None, client_id: str
) -> KeptCook:
    """Write a new cook after all checks of live entry; one that was sent before is answered as it is kept.

    Raises
    ------
    Conflict, NeedsConfirmation, NotAllowed
        As `log_cook`.
    """
    if client_id not in {row.stamp.client_id for row in loaded.rows}:
        refuse_unless_open(loaded.development)
        refuse_history(cook)
        refuse_unsafe_tasting(loaded.brief, cook, may_taste)
        _refuse_unconfirmed(loaded, cook)
    entry = CookEntry(cook, client_id, source=LIVE, may_taste=may_taste, oven_version=loaded.oven_record.version)
    return work.cooks.one(work.cooks.add(loaded.development, entry).id)


def _refuse_unconfirmed(loaded: Loaded, cook: TestCook) -> None:
    questions = questions_about_cook(cook, loaded.brief, loaded.oven)
    if questions:
        raise NeedsConfirmation(questions)


def correct_cook(
    space: Workspace,
    who: Actor,
    *,
    development_id: str,
    cook_id: str,
    cook: TestCook,
    reason: str,
    may_taste: Mapping[str, bool] | None = None,
    client_id: str | None = None,
) -> CookRecord:
    """Correct a cook by a new row; the old one stays and is marked as superseded.

    Raises
    ------
    Conflict
        If somebody else corrected the same row first, or the client's id was used before with other content.
    InvalidDocument
        If the reason is missing.
    NeedsConfirmation
        If values are unlikely and not confirmed.
    NotAllowed
        If the corrected cook carries tastings that its readings do not allow, or the development is closed.
    NotFound
        If there is no such cook in this development, or none this person may see.
    """
    given, made = checked_reason(reason), given_or_made_id(client_id)
    with space.store.unit_of_work(space.context(who)) as work:
        loaded = read_development(work, development_id)
        kept = _append_correction(work, loaded, _Correction(_row(loaded, cook_id), cook, given, may_taste, made))
        work.commit()
    return cook_record(loaded, kept)


def add_scores(
    space: Workspace,
    who: Actor,
    *,
    development_id: str,
    cook_id: str,
    scores: Sequence[Score],
    may_taste: Mapping[str, bool],
    client_id: str | None = None,
) -> CookRecord:
    """Add scores to a logged cook, through the eat gate; a taster's earlier marks that are not given again stay.

    Parameters
    ----------
    cook_id
        Any row of the cook; the newest one is corrected.
    may_taste
        What each taster answered when asked whether they may taste today.

    Raises
    ------
    Conflict
        If the client's id was used before with other content.
    NeedsConfirmation
        If marks are unlikely and not confirmed in the cook.
    NotAllowed
        If the cook is not safe to taste, or the development is closed.
    NotFound
        If there is no such cook in this development, or none this person may see.
    """
    made = given_or_made_id(client_id)
    with space.store.unit_of_work(space.context(who)) as work:
        loaded = read_development(work, development_id)
        kept = write_scores(work, loaded, cook_id, scores, may_taste, made)
        work.commit()
    return cook_record(loaded, kept)


def write_scores(
    work: UnitOfWork,
    loaded: Loaded,
    cook_id: str,
    scores: Sequence[Score],
    may_taste: Mapping[str, bool],
    client_id: str,
    *,
    reason: str = "scores added",
) -> KeptCook:
    """Join scores to the newest row of a cook after all checks; scores that were sent before are answered as they are kept.

    Raises
    ------
    Conflict, NeedsConfirmation, NotAllowed, NotFound
        As `add_scores`.
    """
    sent_before = next((row for row in loaded.rows if row.stamp.client_id == client_id), None)
    before = _row(loaded, sent_before.corrects) if sent_before and sent_before.corrects else _newest(loaded, cook_id)
    cook = changed(before.cook, scores=_joined(before.cook.scores or (), scores))
    return _append_correction(work, loaded, _Correction(before, cook, reason, may_taste, client_id))


def _row(loaded: Loaded, cook_id: str) -> KeptCook:
    found = next((row for row in loaded.rows if row.id == cook_id), None)
    if found is None:
        raise NotFound(
            f"No cook of this development has the id {cook_id!r}. Check the id, and to which development it belongs."
        )
    return found


def _newest(loaded: Loaded, cook_id: str) -> KeptCook:
    number = _row(loaded, cook_id).number
    return next(row for row in loaded.current_rows if row.number == number)


@dataclass(frozen=True, slots=True)
class _Correction:
    """A correction as it was sent."""

    before: KeptCook
    cook: TestCook
    reason: str
    may_taste: Mapping[str, bool] | None
    client_id: str


def _append_correction(work: UnitOfWork, loaded: Loaded, sent: _Correction) -> KeptCook:
    """Write a correction after all checks; one that was written before is answered as it was.

    Tastings that were there before are judged by the brief they were tasted under, new ones by today's.
    """
    before, cook = sent.before, still_history(sent.before.cook, sent.cook)
    asked = {**(before.may_taste or {}), **(sent.may_taste or {})} or None
    version = before.brief_version if tastings(cook) <= tastings(before.cook) else loaded.development.brief_version
    if sent.client_id not in {row.stamp.client_id for row in loaded.rows}:
        refuse_unless_open(loaded.development)
        gate_correction(_brief(loaded, version), before.cook, cook, asked)
        _refuse_unconfirmed(loaded, cook)
    entry = CookEntry(
        cook,
        sent.client_id,
        corrects=before.id,
        reason=sent.reason,
        source=before.source,
        may_taste=asked,
        oven_version=before.oven_version,
        brief_version=version,
    )
    return work.cooks.one(work.cooks.add(loaded.development, entry).id)


def _brief(loaded: Loaded, version: int) -> Brief:
    return next((kept.brief for kept in loaded.briefs if kept.number == version), loaded.brief)


def _joined(before: Sequence[Score], added: Sequence[Score]) -> tuple[Score, ...]:
    """Scores by taster: marks given now replace the taster's earlier ones, others stay."""
    joined = {score.taster: score for score in before}
    for score in added:
        old = joined.get(score.taster)
        marks = score.model_dump(exclude_none=True)
        if old is not None and old.other and score.other:
            marks["other"] = {**old.other, **score.other}
        joined[score.taster] = changed(old, **marks) if old is not None else score
    return tuple(joined.values())
