"""Is a candidate different from its benchmark, similar, or liked as well: protocol first, then answers, then one result."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from tuner.domain import ComparisonAnswer, ComparisonProtocol, InvalidDocument, NotAllowed, NotFound
from tuner.services.actor import Actor
from tuner.services.comparison_judging import ComparisonResult, ComparisonSize, comparison_size, judged
from tuner.services.documents import changed
from tuner.services.loading import Loaded, read_rest, refuse_unless_open
from tuner.services.texts import given_or_made_id
from tuner.services.workspace import Workspace
from tuner.store import KeptRecord, Reading, RecordEntry, UnitOfWork

PROTOCOL = "comparison_protocol"
ANSWERS = "comparison_answers"
RESULT = "comparison_result"


@dataclass(frozen=True, slots=True)
class ComparisonView:
    """A comparison with its protocol, how far it is, and its result once it was judged."""

    id: str
    development_id: str
    protocol: ComparisonProtocol
    size: ComparisonSize
    fixed_at: datetime
    fixed_by: str
    tasters: tuple[str, ...]
    answers: int
    result: ComparisonResult | None


def plan_comparison(
    space: Workspace, who: Actor, *, development_id: str, protocol: ComparisonProtocol, client_id: str | None = None
) -> ComparisonView:
    """Fix the protocol of a comparison before the first sample is tasted.

    Raises
    ------
    Conflict
        If the id was used before with another protocol.
    InvalidDocument
        If a benchmark is none, or more than 2000 tasters would be needed.
    NotAllowed
        If a cook is not safe to taste, or the development is closed.
    NotFound
        If there is no such development or cook, or none this person may see.
    """
    made = given_or_made_id(client_id)
    with space.store.unit_of_work(space.context(who)) as work:
        loaded = read_rest(work, work.developments.one(development_id))
        comparison_size(protocol)
        if made not in {one.stamp.client_id for one in work.records.of_development(development_id, PROTOCOL)}:
            refuse_unless_open(loaded.development)
            _refuse_samples(loaded, protocol)
        added = work.records.add(loaded.development, RecordEntry(PROTOCOL, protocol.model_dump(mode="json"), made))
        view = _view(work, work.records.one(added.id))
        work.commit()
    return view


def _refuse_samples(loaded: Loaded, protocol: ComparisonProtocol) -> None:
    from tuner.safety import eat_gate

    rows = {row.id: row for row in loaded.rows}
    for cook_id in (*protocol.cook_ids, *protocol.benchmark_ids):
        if cook_id not in rows:
            raise NotFound(f"No cook of this development has the id {cook_id!r}. Check the id.")
        number = rows[cook_id].number
        row = next(one for one in loaded.current_rows if one.number == number)
        if (row.cook.purpose == "benchmark") != (cook_id in protocol.benchmark_ids):
            raise InvalidDocument(
                [f"Cook {number} is {row.cook.purpose}. The benchmark is one of the benchmark cooks, the dish is none of them."]
            )
        gate = eat_gate(loaded.brief, changed(row.cook, scores=None), {"asked": True})
        if not gate.allowed:
            raise NotAllowed(f"Nobody is invited to taste cook {number}. {' '.join(gate.reasons)}")


def enter_answers(
    space: Workspace,
    who: Actor,
    *,
    comparison_id: str,
    answers: Sequence[ComparisonAnswer],
    may_taste: Mapping[str, bool],
    client_id: str | None = None,
) -> ComparisonView:
    """Enter answers; a taster may answer several times (replicates), and counts once.

    Raises
    ------
    Conflict
        If the id was used before with other answers.
    InvalidDocument
        If an answer is of the other kind, or there is none.
    NotAllowed
        If the comparison was judged already, more tasters answer than were fixed, or one was not asked whether they may taste
        today, or said no.
    NotFound
        If there is no such comparison, or none this person may see.
    """
    made = given_or_made_id(client_id)
    with space.store.unit_of_work(space.context(who)) as work:
        record = _read(work, comparison_id)
        protocol = ComparisonProtocol.model_validate(record.content)
        kept = work.records.of_kind(ANSWERS, about=comparison_id)
        if made not in {one.stamp.client_id for one in kept}:
            if work.records.of_kind(RESULT, about=comparison_id):
                raise NotAllowed("This comparison was judged. Nothing is added to it. Fix a new protocol for further tasters.")
            _refuse_answers(protocol, answers, may_taste)
            _refuse_further_tasters(protocol, {one.taster for one in (*_answers(work, comparison_id), *answers)})
        content: dict[str, Any] = {
            "answers": [one.model_dump(mode="json", exclude_none=True) for one in answers],
            "may_taste": {name: said is True for name, said in may_taste.items()},
        }
        development = work.developments.one(record.development_id or "")
        work.records.add(development, RecordEntry(ANSWERS, content, made, about=comparison_id))
        view = _view(work, record)
        work.commit()
    return view


def _refuse_answers(protocol: ComparisonProtocol, answers: Sequence[ComparisonAnswer], may_taste: Mapping[str, bool]) -> None:
    if not answers:
        raise InvalidDocument(["No answers were given. Enter at least one."])
    for one in answers:
        if (one.right is None) != (protocol.kind == "liking"):
            raise InvalidDocument(
                [f"The answer of {one.taster} does not fit a {protocol.kind} test. Enter it as the protocol asks."]
            )
        if may_taste.get(one.taster) is not True:
            raise NotAllowed(f"Taster {one.taster} has not said 'may taste today'. Ask first; leave them out if they do not.")


def _refuse_further_tasters(protocol: ComparisonProtocol, tasters: set[str]) -> None:
    if len(tasters) > protocol.tasters:
        raise NotAllowed(
            f"That makes {len(tasters)} tasters; the protocol fixed {protocol.tasters}. A test is not widened while it runs. "
            "Fix a new protocol for further tasters."
        )


def judge_comparison(space: Workspace, who: Actor, *, comparison_id: str, client_id: str | None = None) -> ComparisonView:
    """Judge a comparison once all planned tasters have answered; the result is kept and not judged again.

    Raises
    ------
    Conflict
        If the id was used before for another result.
    NotAllowed
        If fewer tasters than planned have answered: a test is not stopped when it looks good.
    NotFound
        If there is no such comparison, or none this person may see.
    """
    made = given_or_made_id(client_id)
    with space.store.unit_of_work(space.context(who)) as work:
        record = _read(work, comparison_id)
        if not work.records.of_kind(RESULT, about=comparison_id):
            protocol = ComparisonProtocol.model_validate(record.content)
            answers = _answers(work, comparison_id)
            tasters = {one.taster for one in answers}
            if len(tasters) < protocol.tasters:
                raise NotAllowed(
                    f"{len(tasters)} of {protocol.tasters} tasters have answered. A test is judged when all have, not when it "
                    "looks good. Ask the others."
                )
            development = work.developments.one(record.development_id or "")
            content = {"protocol": record.content, "result": _plain(judged(protocol, answers))}
            work.records.add(development, RecordEntry(RESULT, content, made, about=comparison_id))
        view = _view(work, record)
        work.commit()
    return view


def view_comparison(space: Workspace, who: Actor, *, comparison_id: str) -> ComparisonView:
    """A comparison and its result, once it was judged.

    Raises
    ------
    NotFound
        If there is no such comparison, or none this person may see.
    """
    with space.store.read(who.customer) as reading:
        return _view(reading, _read(reading, comparison_id))


def _read(reading: Reading | UnitOfWork, comparison_id: str) -> KeptRecord:
    record = reading.records.one(comparison_id)
    if record.kind != PROTOCOL:
        raise NotFound(f"No comparison has the id {comparison_id!r}. Check the id.")
    return record


def _answers(reading: Reading | UnitOfWork, comparison_id: str) -> list[ComparisonAnswer]:
    return [
        ComparisonAnswer.model_validate(one)
        for record in reading.records.of_kind(ANSWERS, about=comparison_id)
        for one in record.content["answers"]
    ]


def _plain(result: ComparisonResult) -> dict[str, Any]:
    return {name: getattr(result, name) for name in ComparisonResult.__slots__ if name != "figures"} | {
        "figures": dict(result.figures)
    }


def _view(reading: Reading | UnitOfWork, record: KeptRecord) -> ComparisonView:
    protocol = ComparisonProtocol.model_validate(record.content)
    answers = _answers(reading, record.id)
    results = reading.records.of_kind(RESULT, about=record.id)
    return ComparisonView(
        id=record.id,
        development_id=record.development_id or "",
        protocol=protocol,
        size=comparison_size(protocol),
        fixed_at=record.stamp.at,
        fixed_by=record.stamp.by,
        tasters=tuple(dict.fromkeys(one.taster for one in answers)),
        answers=len(answers),
        result=ComparisonResult(**results[0].content["result"]) if results else None,
    )
