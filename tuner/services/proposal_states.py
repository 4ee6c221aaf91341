"""What became of each proposal: waiting, taken, refused, cooked, or overtaken by newer data."""

from __future__ import annotations

from dataclasses import dataclass

from tuner.domain import Program
from tuner.services.loading import Loaded
from tuner.services.views import ProposalState
from tuner.store import KeptCook, KeptProposal


def chosen_program(kept: KeptProposal) -> Program:
    """What would be cooked: the program decided on, else the one proposed."""
    last = kept.decisions[-1] if kept.decisions else None
    return last.program if last is not None and last.program is not None else kept.proposal.program


def last_decision(kept: KeptProposal) -> str | None:
    """The decision that holds, None where nobody decided yet."""
    return kept.decisions[-1].decision if kept.decisions else None


def states_of(loaded: Loaded) -> dict[str, ProposalState]:
    """State of every proposal by its id."""
    cooked = _cooked(loaded)
    newest_next = max((kept.stamp.sequence for kept in loaded.proposals if kept.kind == "next"), default=0)
    return {kept.id: _state(loaded, kept, cooked, newest_next) for kept in loaded.proposals}


def _state(loaded: Loaded, kept: KeptProposal, cooked: frozenset[str], newest_next: int) -> ProposalState:
    if kept.id in cooked:
        return "cooked"
    decided = last_decision(kept)
    if decided is not None:
        return {"accept": "accepted", "change": "changed", "refuse": "refused"}[decided]  # type: ignore[return-value]
    if kept.kind == "next":
        return "open" if kept.data_hash == loaded.data_hash else "overtaken"
    # Cooks of a first day do not outdate its other sheets; another brief, another oven or a later proposal does.
    same = kept.brief_version == loaded.development.brief_version and kept.oven_version == loaded.oven_record.version
    return "open" if same and newest_next < kept.stamp.sequence else "overtaken"


@dataclass(frozen=True, slots=True)
class _Logged:
    """A cook with the programs it may have been ordered as, and when it came in."""

    row: KeptCook
    since: int

    def is_of(self, program: Program) -> bool:
        return any(done is not None and done.key == program.key for done in (self.row.cook.program, self.row.cook.program_set))


def _cooked(loaded: Loaded) -> frozenset[str]:
    """Ids of proposals that were cooked since they were issued; one cook uses up one proposal, the oldest of its program."""
    waiting = [kept for kept in loaded.proposals if last_decision(kept) != "refuse"]
    first_seen: dict[int, int] = {}
    for row in loaded.rows:
        first_seen.setdefault(row.number, row.stamp.sequence)
    found: set[str] = set()
    for row in loaded.current_rows:
        logged = _Logged(row, first_seen[row.number])
        fitting = (kept for kept in waiting if kept.id not in found and _could_be(kept, logged))
        used = next(fitting, None)
        if used is not None:
            found.add(used.id)
    return frozenset(found)


def _could_be(kept: KeptProposal, logged: _Logged) -> bool:
    cook = logged.row.cook
    if logged.since <= kept.stamp.sequence or cook.purpose == "benchmark":
        return False
    if cook.history and (cook.cooked_at is None or cook.cooked_at < kept.stamp.at):
        return False  # an old cook that came in later
    return logged.is_of(chosen_program(kept))


def pending_programs(loaded: Loaded) -> tuple[Program, ...]:
    """Programs that were taken and wait to be cooked."""
    states = states_of(loaded)
    return tuple(chosen_program(kept) for kept in loaded.proposals if states[kept.id] in ("accepted", "changed"))


def refused_programs(loaded: Loaded) -> tuple[Program, ...]:
    """Programs that somebody refused."""
    return tuple(kept.proposal.program for kept in loaded.proposals if last_decision(kept) == "refuse")
