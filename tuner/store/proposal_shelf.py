"""Proposals as they were issued, and what was decided about them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, cast

from sqlalchemy import func, select

from tuner.domain import Program, Proposal
from tuner.store.canonical import canonical_text, document_text
from tuner.store.ledger import Entry, Ledger, row_id
from tuner.store.reading import Reader, read_document, read_plain, the_one
from tuner.store.records import Added, Decided, KeptDecision, KeptDevelopment, KeptProposal, Kind, Origin, Stamp
from tuner.store.schema import DecisionRow, ProposalRow


@dataclass(frozen=True, slots=True)
class ProposalEntry:
    """One proposal to be written, with everything needed to compute it again.

    Attributes
    ----------
    versions
        Of the tool and the libraries, by name.
    asked
        What it was asked with besides brief, oven, cooks and seed: how many, pending and refused programs.
    data_hash
        Of brief, oven and cooks.
    """

    proposal: Proposal
    client_id: str
    kind: Kind
    seed: int
    versions: Mapping[str, str]
    asked: Mapping[str, Any]
    data_hash: str
    oven_version: int
    brief_version: int | None = None
    number: int | None = None
    kept_id: str | None = None


class ProposalReader(Reader):
    """Reads proposals."""

    def of_development(self, development_id: str) -> tuple[KeptProposal, ...]:
        """All proposals of a development in the order they were issued."""
        statement = self._rows(ProposalRow).where(ProposalRow.development_id == development_id)
        found = self._fetch(statement.order_by(ProposalRow.number))
        decisions = self._decisions(development_id)
        return tuple(_kept(row, stamp, decisions.get(row.id, ())) for row, stamp in found)

    def one(self, proposal_id: str) -> KeptProposal:
        """One proposal.

        Raises
        ------
        NotFound
            If there is none of that id, or none this customer may see.
        """
        found = self._fetch(self._rows(ProposalRow).where(ProposalRow.id == proposal_id))
        row = the_one((row for row, _ in found), "proposal", proposal_id)
        return _kept(row, found[0][1], self._decisions(row.development_id).get(row.id, ()))

    def _decisions(self, development_id: str) -> dict[str, tuple[KeptDecision, ...]]:
        statement = self._rows(DecisionRow).where(DecisionRow.development_id == development_id)
        grouped: dict[str, tuple[KeptDecision, ...]] = {}
        for row, stamp in self._fetch(statement.order_by(DecisionRow.sequence)):
            grouped[row.proposal_id] = (*grouped.get(row.proposal_id, ()), _decision(row, stamp))
        return grouped


class ProposalShelf(ProposalReader):
    """Reads and writes proposals."""

    def __init__(self, reader: Reader, ledger: Ledger) -> None:
        super().__init__(reader._session, reader._customer)
        self._ledger = ledger

    def issue(self, development: KeptDevelopment, entry: ProposalEntry, *, origin: Origin | None = None) -> Added:
        """Keep a proposal as it was issued.

        Raises
        ------
        Conflict
            If the id was used before with other content.
        """
        proposal_id = entry.kept_id or row_id("proposal", development.id, entry.client_id)
        text = document_text(entry.proposal)
        columns = {
            "development_id": development.id,
            "number": self._number(development.id, entry.number, proposal_id),
            "kind": entry.kind,
            "seed": entry.seed,
            "versions": canonical_text(dict(entry.versions)),
            "asked": canonical_text(dict(entry.asked)),
            "data_hash": entry.data_hash,
            "brief_version": entry.brief_version or development.brief_version,
            "oven_version": entry.oven_version,
            "document": text,
        }
        added = self._ledger.append(
            ProposalRow,
            {"id": proposal_id, "client_id": entry.client_id, "customer": development.customer, **columns},
            content={"development": development.id, "seed": entry.seed, "data": entry.data_hash, "document": text},
            entry=Entry("issue proposal", development.id),
            origin=origin,
        )
        return Added(proposal_id, added)

    def _number(self, development_id: str, wanted: int | None, proposal_id: str) -> int:
        """The wanted number unless another proposal has it, else the next one."""
        holder = select(ProposalRow.id).where(ProposalRow.development_id == development_id, ProposalRow.number == wanted)
        if wanted is not None and self._session.scalar(holder) in (None, proposal_id):
            return wanted
        last = select(func.max(ProposalRow.number)).where(ProposalRow.development_id == development_id)
        return (self._session.scalar(last) or 0) + 1

    def decide(
        self,
        proposal_id: str,
        decision: Decided,
        reason: str,
        program: Program | None,
        *,
        client_id: str,
        origin: Origin | None = None,
    ) -> Added:
        """Keep a decision about a proposal; the newest one holds.

        Raises
        ------
        Conflict
            If the id was used before with other content.
        NotFound
            If there is no such proposal, or none this customer may see.
        """
        found = self._fetch(self._rows(ProposalRow).where(ProposalRow.id == proposal_id))
        row = the_one((row for row, _ in found), "proposal", proposal_id)
        text = document_text(program) if program is not None else None
        decision_id = row_id("decision", proposal_id, client_id)
        values = {"id": decision_id, "client_id": client_id, "customer": row.customer}
        columns = {"development_id": row.development_id, "proposal_id": proposal_id, "decision": decision}
        added = self._ledger.append(
            DecisionRow,
            {**values, **columns, "reason": reason, "program": text},
            content={"proposal": proposal_id, "decision": decision, "reason": reason, "program": text},
            entry=Entry(f"{decision} proposal", row.development_id, reason),
            origin=origin,
        )
        return Added(decision_id, added)


def _kept(row: ProposalRow, stamp: Stamp, decisions: tuple[KeptDecision, ...]) -> KeptProposal:
    return KeptProposal(
        id=row.id,
        development_id=row.development_id,
        number=row.number,
        kind=cast("Kind", row.kind),
        proposal=read_document(Proposal, row.document, f"Proposal {row.number} of development {row.development_id}"),
        seed=row.seed,
        versions=read_plain(row.versions),
        asked=read_plain(row.asked),
        data_hash=row.data_hash,
        brief_version=row.brief_version,
        oven_version=row.oven_version,
        decisions=decisions,
        stamp=stamp,
    )


def _decision(row: DecisionRow, stamp: Stamp) -> KeptDecision:
    program = None if row.program is None else read_document(Program, row.program, f"A decision on proposal {row.proposal_id}")
    return KeptDecision(row.proposal_id, cast("Decided", row.decision), row.reason, program, stamp)
