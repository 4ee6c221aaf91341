"""What to cook next: proposed, decided on, asked about."""

from __future__ import annotations

from collections.abc import Sequence

from tuner.domain import Conflict, Forecast, InvalidDocument, NotAllowed, Program
from tuner.services.actor import Actor
from tuner.services.issuing import issue
from tuner.services.knowing import learned_of
from tuner.services.loading import Loaded, load, read_development, refuse_unless_open
from tuner.services.proposal_states import pending_programs, refused_programs, states_of
from tuner.services.texts import checked_reason, given_or_made_id
from tuner.services.viewing import proposal_record
from tuner.services.views import Decision, ProposalRecord
from tuner.services.workspace import Workspace

MOST_AT_ONCE = 20
DEFAULT_SEED = 0
_TRIES = 3


def next_proposals(
    space: Workspace, who: Actor, *, development_id: str, count: int = 1, seed: int | None = None
) -> tuple[ProposalRecord, ...]:
    """What to cook next: the open proposals if they still hold, and new ones for what is missing of `count`.

    Parameters
    ----------
    count
        How many, 1 to 20.
    seed
        Of the search; the same data and the same seed give the same proposals.

    Raises
    ------
    Conflict
        If cooks came in again and again while it was computed.
    InvalidDocument
        If `count` is not 1 to 20.
    NoLegalProgram
        If no program can be set on the oven within the brief.
    NotAllowed
        If the development is closed.
    NotFound
        If there is no such development, or none this person may see.
    """
    if not 1 <= count <= MOST_AT_ONCE:
        raise InvalidDocument([f"count is {count}. From 1 to {MOST_AT_ONCE} proposals are made at once. Give such a number."])
    for attempt in range(_TRIES):
        try:
            return _next(space, who, development_id, count, DEFAULT_SEED if seed is None else seed)
        except Conflict:
            if attempt == _TRIES - 1:
                raise
    raise AssertionError("unreachable")


def _next(space: Workspace, who: Actor, development_id: str, count: int, seed: int) -> tuple[ProposalRecord, ...]:
    loaded = load(space, who, development_id)
    refuse_unless_open(loaded.development)
    waiting = open_records(loaded)[:count]
    missing = count - len(waiting)
    if not missing:
        return waiting
    pending = (*pending_programs(loaded), *(record.program for record in waiting))
    refused = refused_programs(loaded)
    proposals = learned_of(space, loaded).propose(count=missing, seed=seed, pending=pending, refused=refused)
    asked = {"count": missing, "pending": _plain(pending), "refused": _plain(refused)}
    return (*waiting, *issue(space, who, loaded, proposals, kind="next", seed=seed, asked=asked))


def open_records(loaded: Loaded) -> tuple[ProposalRecord, ...]:
    """Proposals that wait for a decision, oldest first."""
    states = states_of(loaded)
    return tuple(proposal_record(kept, "open") for kept in loaded.proposals if states[kept.id] == "open")


def _plain(programs: Sequence[Program]) -> list[dict[str, object]]:
    return [program.model_dump(mode="json") for program in programs]


def decide_proposal(
    space: Workspace,
    who: Actor,
    *,
    proposal_id: str,
    decision: Decision,
    reason: str,
    program: Program | None = None,
    client_id: str | None = None,
) -> ProposalRecord:
    """Accept, change or refuse a proposal, with a reason. The newest decision holds; all are kept.

    Parameters
    ----------
    decision
        `accept` cooks it as it is, `change` cooks `program` instead, `refuse` never proposes it again.

    Raises
    ------
    Conflict
        If the client's id was used before with another decision.
    InvalidDocument
        If the reason is missing, or a program is missing for a change or given without one.
    NotAllowed
        If it was cooked already, is overtaken by newer data, or the development is closed.
    NotFound
        If there is no such proposal, or none this person may see.
    """
    given, made = checked_reason(reason), given_or_made_id(client_id)
    _refuse_misfit(decision, program)
    with space.store.unit_of_work(space.context(who)) as work:
        kept = work.proposals.one(proposal_id)
        loaded = read_development(work, kept.development_id)
        if made not in {earlier.stamp.client_id for earlier in kept.decisions}:
            refuse_unless_open(loaded.development)
            _refuse_settled(states_of(loaded)[proposal_id], kept.number)
        work.proposals.decide(proposal_id, decision, given, program, client_id=made)
        after = read_development(work, kept.development_id)
        decided = work.proposals.one(proposal_id)
        work.commit()
    return proposal_record(decided, states_of(after)[proposal_id])


def _refuse_misfit(decision: Decision, program: Program | None) -> None:
    if decision not in ("accept", "change", "refuse"):
        raise InvalidDocument([f"decision is {decision!r}. It must be accept, change or refuse. Choose one of these."])
    if decision == "change" and program is None:
        raise InvalidDocument(["program is missing. A change says what will be cooked instead. Give the changed program."])
    if decision != "change" and program is not None:
        raise InvalidDocument(
            [f"program is given with {decision!r}. Only a change has a program of its own. Leave it out, or decide 'change'."]
        )


def _refuse_settled(state: str, number: int) -> None:
    if state == "cooked":
        raise NotAllowed(f"Proposal {number} was cooked already. What was cooked can't be decided again. Ask for the next one.")
    if state == "overtaken":
        raise NotAllowed(f"Proposal {number} is overtaken: cooks or brief have moved on since. Ask for the next one.")


def what_if(space: Workspace, who: Actor, *, development_id: str, program: Program) -> Forecast:
    """What is expected of any program, on the oven's steps or not. Nothing is kept.

    Raises
    ------
    NotFound
        If there is no such development, or none this person may see.
    """
    return forecast_programs(space, who, development_id=development_id, programs=(program,))[0]


def forecast_programs(
    space: Workspace, who: Actor, *, development_id: str, programs: Sequence[Program]
) -> tuple[Forecast, ...]:
    """What is expected of each program, in their order. Nothing is kept.

    Raises
    ------
    NotFound
        If there is no such development, or none this person may see.
    """
    return tuple(learned_of(space, load(space, who, development_id)).forecast(programs))
