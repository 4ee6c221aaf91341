"""Blind tasting sessions: planned, marked by each taster alone, closed, and only then unblinded."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from tuner.domain import SCORES, Conflict, InvalidDocument, NotAllowed, NotFound, PanelMarks, Score
from tuner.services.actor import Actor
from tuner.services.cooks import write_scores
from tuner.services.documents import changed
from tuner.services.loading import Loaded, read_development, refuse_unless_open
from tuner.services.panel_reading import CLOSED, MARKS, SESSION, KeptSession, read_session
from tuner.services.panel_views import SessionView
from tuner.services.texts import given_or_made_id
from tuner.services.workspace import Workspace
from tuner.store import KeptCook, RecordEntry, UnitOfWork


def plan_session(
    space: Workspace,
    who: Actor,
    *,
    development_id: str,
    cook_ids: Sequence[str],
    benchmark_id: str,
    may_taste: Mapping[str, bool],
    attributes: Sequence[str] = SCORES,
    duplicate_id: str | None = None,
    seed: int = 0,
    client_id: str | None = None,
) -> SessionView:
    """Plan a session: codes and orders are drawn, a hidden benchmark and a blind duplicate are added.

    Parameters
    ----------
    cook_ids, benchmark_id
        Cooks of this development, all safe to taste; the benchmark is one of its benchmark cooks.
    may_taste
        Pseudonym -> said yes today; whoever said no gets no sheet, and no reason is asked or kept.
    attributes
        What is marked: 1 to 5 with 3 just right; `liking` 1 to 9.

    Raises
    ------
    Conflict
        If the id was used before with another session.
    InvalidDocument
        If there are too many samples, too few tasters, or something is named twice.
    NotAllowed
        If a cook is not safe to taste, allergens are unknown, or the development is closed.
    NotFound
        If there is no such development or cook, or none this person may see.
    """
    from tuner.proof.session_plan import SessionRequest, session

    made = given_or_made_id(client_id)
    with space.store.unit_of_work(space.context(who)) as work:
        loaded = read_development(work, development_id)
        known = [one for one in work.records.of_development(development_id, SESSION) if one.stamp.client_id == made]
        cooks = [_row(loaded, cook_id) for cook_id in cook_ids]
        benchmark = _row(loaded, benchmark_id)
        if not known:
            refuse_unless_open(loaded.development)
            _refuse_unsafe(loaded, [*cooks, benchmark])
            if benchmark.cook.purpose != "benchmark":
                raise InvalidDocument(
                    [f"Cook {benchmark.number} is not a benchmark cook. Log the benchmark with that purpose."]
                )
        duplicate = _row(loaded, duplicate_id).id if duplicate_id is not None else None
        asked = tuple(name for name, said in may_taste.items() if said is True)
        request = SessionRequest(tuple(row.id for row in cooks), benchmark.id, duplicate, asked, tuple(attributes), seed)
        content: dict[str, Any] = {
            "session": session(request).model_dump(mode="json"),
            "may_taste": {name: said is True for name, said in may_taste.items()},
            "allergens": list(loaded.brief.allergens or ()),
        }
        added = work.records.add(loaded.development, RecordEntry(SESSION, content, made))
        view = read_session(work, added.id).view()
        work.commit()
    return view


def _row(loaded: Loaded, cook_id: str) -> KeptCook:
    """Newest row of a cook."""
    found = next((row for row in loaded.rows if row.id == cook_id), None)
    if found is None:
        raise NotFound(f"No cook of this development has the id {cook_id!r}. Check the id.")
    return next(row for row in loaded.current_rows if row.number == found.number)


def _refuse_unsafe(loaded: Loaded, rows: Sequence[KeptCook]) -> None:
    from tuner.safety import eat_gate

    refused = []
    for row in rows:
        gate = eat_gate(loaded.brief, changed(row.cook, scores=None), {"asked": True})
        if not gate.allowed:
            refused.append(f"Cook {row.number}: {' '.join(gate.reasons)}")
    if refused:
        raise NotAllowed("\n".join(["Nobody is invited to taste these.", *refused]))


def enter_marks(
    space: Workspace, who: Actor, *, session_id: str, marks: PanelMarks, client_id: str | None = None
) -> SessionView:
    """Enter one taster's marks of one sample; entering them again before closing corrects them.

    Raises
    ------
    Conflict
        If the id was used before with other marks, or somebody corrected the same marks first.
    InvalidDocument
        If something is marked that the session does not ask for.
    NotAllowed
        If the session is closed, or the taster does not taste today.
    NotFound
        If there is no such session, taster or code, or none this person may see.
    """
    made = given_or_made_id(client_id)
    with space.store.unit_of_work(space.context(who)) as work:
        kept = read_session(work, session_id)
        if made not in {one.stamp.client_id for one in kept.marks_records}:
            _refuse_marks(kept, marks)
            before = next((one for one in kept.marks_records if not one.superseded and _same_sample(one.content, marks)), None)
            content = marks.model_dump(mode="json", exclude_none=True)
            reason = "marked again" if before else None
            entry = RecordEntry(MARKS, content, made, about=session_id, corrects=before.id if before else None, reason=reason)
            work.records.add(kept.loaded.development, entry)
        else:
            sent = next(one for one in kept.marks_records if one.stamp.client_id == made)
            if PanelMarks.model_validate(sent.content) != marks:
                raise Conflict(f"The id {made!r} was used before with other marks. Send these under a new id.")
        view = read_session(work, session_id).view()
        work.commit()
    return view


def _same_sample(content: Mapping[str, object], marks: PanelMarks) -> bool:
    return content["taster"] == marks.taster and content["code"] == marks.code


def _refuse_marks(kept: KeptSession, marks: PanelMarks) -> None:
    if kept.closing is not None:
        raise NotAllowed("The session is closed and unblinded. Nothing is marked after that. Plan another session.")
    if kept.may_taste.get(marks.taster) is False:
        raise NotAllowed(f"Taster {marks.taster} does not taste today. Leave their marks out.")
    if marks.taster not in kept.session.orders:
        raise NotFound(f"Taster {marks.taster} is not in this session. Check the pseudonym.")
    if kept.session.sample(marks.code) is None:
        raise NotFound(f"No sample has the code {marks.code}. Read it off the cup again.")
    unknown = [name for name in marks.marks if name not in kept.session.attributes]
    if unknown:
        raise InvalidDocument([f"{', '.join(unknown)} is not marked in this session. Leave it out."])


def close_session(space: Workspace, who: Actor, *, session_id: str, client_id: str | None = None) -> SessionView:
    """Close a session and unblind it; browning, texture and moisture join the cooks' own scores.

    Raises
    ------
    Conflict
        If the id was used before for another session.
    NotAllowed
        If nobody has marked anything, or a cook is no longer safe to taste.
    NotFound
        If there is no such session, or none this person may see.
    """
    made = given_or_made_id(client_id)
    with space.store.unit_of_work(space.context(who)) as work:
        kept = read_session(work, session_id)
        if kept.closing is None:
            if not kept.marks:
                raise NotAllowed("Nothing has been marked. A session is closed once there are marks. Enter them first.")
            work.records.add(kept.loaded.development, RecordEntry(CLOSED, {"marks": len(kept.marks)}, made, about=session_id))
            _score_cooks(work, kept)
        view = read_session(work, session_id).view()
        work.commit()
    return view


def _score_cooks(work: UnitOfWork, kept: KeptSession) -> None:
    """Put the marks of each cook (not those of its duplicate) beside its other scores."""
    asked = {taster: True for taster, said in kept.may_taste.items() if said}
    for identity in kept.identities:
        if identity.kind == "duplicate":
            continue
        scores = []
        for one in kept.marks:
            given = {name: mark for name, mark in one.marks.items() if name in SCORES}
            if one.code == identity.code and given:
                scores.append(Score.model_validate({"taster": one.taster, **given}))
        if scores:
            loaded = read_development(work, kept.loaded.development.id)
            client_id = f"{kept.record.id} {identity.code}"
            write_scores(work, loaded, identity.cook_id, scores, asked, client_id, reason="blind session closed")


def view_session(space: Workspace, who: Actor, *, session_id: str) -> SessionView:
    """A session; blind until it is closed.

    Raises
    ------
    NotFound
        If there is no such session, or none this person may see.
    """
    with space.store.read(who.customer) as reading:
        return read_session(reading, session_id).view()
