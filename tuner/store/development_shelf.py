"""Developments, the versions of their briefs, and whether they are open."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import Any, cast

from sqlalchemy import func, select, union_all

from tuner.domain import Brief, Conflict
from tuner.store.canonical import document_text
from tuner.store.ledger import Entry, Ledger, row_id
from tuner.store.reading import Reader, read_document, the_one
from tuner.store.records import Added, KeptBrief, KeptDevelopment, KeptState, Origin, Stamp, State
from tuner.store.schema import (
    Audit,
    BriefVersionRow,
    CookRow,
    DecisionRow,
    DevelopmentRow,
    OvenVersionRow,
    ProposalRow,
    RecordRow,
    StateRow,
)

_MOVING = (BriefVersionRow, StateRow, CookRow, ProposalRow, DecisionRow, RecordRow)
"""Tables whose rows move a development on."""


class DevelopmentReader(Reader):
    """Reads developments."""

    def one(self, development_id: str) -> KeptDevelopment:
        """One development as it stands now.

        Raises
        ------
        NotFound
            If there is none of that id, or none this customer may see.
        """
        statement = self._rows(DevelopmentRow).where(DevelopmentRow.id == development_id)
        found = self._fetch(statement)
        the_one((row for row, _ in found), "development", development_id)
        return self._assembled(found)[0]

    def all(self) -> tuple[KeptDevelopment, ...]:
        """Every development this customer may see, in the order they were started."""
        return self._assembled(self._fetch(self._rows(DevelopmentRow).order_by(DevelopmentRow.sequence)))

    def briefs(self, development_id: str) -> tuple[KeptBrief, ...]:
        """All versions of a development's brief, oldest first."""
        statement = self._rows(BriefVersionRow).where(BriefVersionRow.development_id == development_id)
        return tuple(
            KeptBrief(row.number, _brief(row), stamp) for row, stamp in self._fetch(statement.order_by(BriefVersionRow.number))
        )

    def states(self, development_id: str) -> tuple[KeptState, ...]:
        """Every closing, archiving and opening of a development, oldest first."""
        statement = self._rows(StateRow).where(StateRow.development_id == development_id)
        return tuple(_state(row, stamp) for row, stamp in self._fetch(statement.order_by(StateRow.sequence)))

    def _assembled(self, found: Sequence[tuple[DevelopmentRow, Stamp]]) -> tuple[KeptDevelopment, ...]:
        ids = [row.id for row, _ in found]
        briefs = self._newest(BriefVersionRow, ids)
        states = self._newest(StateRow, ids)
        tokens, moved = self._tokens(found), self._moved(ids)
        return tuple(
            KeptDevelopment(
                id=row.id,
                customer=row.customer,
                oven_id=row.oven_id,
                copied_from=row.copied_from,
                brief_version=briefs[row.id].number,
                brief=_brief(briefs[row.id]),
                state=cast("State", states[row.id].state) if row.id in states else "open",
                state_reason=states[row.id].reason if row.id in states else "",
                stamp=stamp,
                moved_at=max(moved[row.id], row.written_at),
                token=tokens[row.id],
            )
            for row, stamp in found
        )

    def _newest(self, table: type[Any], ids: Sequence[str]) -> dict[str, Any]:
        last = select(func.max(table.sequence)).where(table.development_id.in_(_batch(ids))).group_by(table.development_id)
        return {row.development_id: row for row in self._session.scalars(select(table).where(table.sequence.in_(last)))}

    def _tokens(self, found: Sequence[tuple[DevelopmentRow, Stamp]]) -> dict[str, int]:
        ids = _batch([row.id for row, _ in found])
        own = select(Audit.development_id, func.max(Audit.sequence)).where(Audit.development_id.in_(ids))
        tokens = {id_: sequence for id_, sequence in self._session.execute(own.group_by(Audit.development_id)) if id_}
        ovens = _batch([row.oven_id for row, _ in found])
        described = select(OvenVersionRow.oven_id, func.max(OvenVersionRow.sequence)).where(OvenVersionRow.oven_id.in_(ovens))
        of_oven = dict(self._session.execute(described.group_by(OvenVersionRow.oven_id)).all())
        return {row.id: max(tokens.get(row.id, row.sequence), of_oven.get(row.oven_id, 0)) for row, _ in found}

    def _moved(self, ids: Sequence[str]) -> dict[str, datetime]:
        # Not the audit's times: after an import those tell when it was imported.
        parts = [
            select(table.development_id, func.max(table.written_at).label("at"))
            .where(table.development_id.in_(_batch(ids)))
            .group_by(table.development_id)
            for table in _MOVING
        ]
        every = union_all(*parts).subquery()
        newest = select(every.c.development_id, func.max(every.c.at)).group_by(every.c.development_id)
        return dict(self._session.execute(newest).all())


class DevelopmentShelf(DevelopmentReader):
    """Reads and writes developments."""

    def __init__(self, reader: Reader, ledger: Ledger) -> None:
        super().__init__(reader._session, reader._customer)
        self._ledger = ledger

    def start(
        self,
        brief: Brief,
        *,
        client_id: str,
        customer: str | None,
        oven_id: str,
        copied_from: str | None = None,
        kept_id: str | None = None,
        origin: Origin | None = None,
    ) -> Added:
        """Start a development with the first version of its brief.

        Raises
        ------
        Conflict
            If the id was used before with other content.
        """
        text = document_text(brief)
        development_id = kept_id or row_id("development", customer or "", client_id)
        values = {"id": development_id, "client_id": client_id, "customer": customer, "oven_id": oven_id}
        added = self._ledger.append(
            DevelopmentRow,
            {**values, "copied_from": copied_from},
            content={"customer": customer, "oven": oven_id, "copied_from": copied_from, "document": text},
            entry=Entry("start development", development_id),
            origin=origin,
        )
        if added:
            self._add_brief(development_id, brief, 1, client_id, customer, origin)
        return Added(development_id, added)

    def add_brief(
        self, development_id: str, brief: Brief, *, number: int, client_id: str, origin: Origin | None = None
    ) -> Added:
        """Add the next version of a brief.

        Raises
        ------
        Conflict
            If somebody else wrote that version first.
        NotFound
            If there is no such development, or none this customer may see.
        """
        return self._add_brief(development_id, brief, number, client_id, self.one(development_id).customer, origin)

    def _add_brief(
        self, development_id: str, brief: Brief, number: int, client_id: str, customer: str | None, origin: Origin | None
    ) -> Added:
        version_id = row_id("brief_version", development_id, client_id)
        taken = select(BriefVersionRow.id).where(
            BriefVersionRow.development_id == development_id, BriefVersionRow.number == number
        )
        if self._session.scalar(taken) not in (None, version_id):
            raise Conflict(
                f"The brief was changed by somebody else while you worked on it: version {number} is there already. "
                "Load the brief again, look at what changed, and make your change once more."
            )
        text = document_text(brief)
        values = {"id": version_id, "client_id": client_id, "customer": customer, "development_id": development_id}
        added = self._ledger.append(
            BriefVersionRow,
            {**values, "number": number, "document": text},
            content={"development": development_id, "document": text},
            entry=Entry("write brief", development_id),
            origin=origin,
        )
        return Added(version_id, added)

    def change_state(
        self, development_id: str, state: State, reason: str, *, client_id: str, origin: Origin | None = None
    ) -> Added:
        """Close, archive or open again.

        Raises
        ------
        Conflict
            If the id was used before with other content.
        NotFound
            If there is no such development, or none this customer may see.
        """
        change_id = row_id("development_state", development_id, client_id)
        customer = self.one(development_id).customer
        values = {"id": change_id, "client_id": client_id, "customer": customer, "development_id": development_id}
        added = self._ledger.append(
            StateRow,
            {**values, "state": state, "reason": reason},
            content={"development": development_id, "state": state, "reason": reason},
            entry=Entry(f"mark {state}", development_id, reason),
            origin=origin,
        )
        return Added(change_id, added)


def _batch(ids: Sequence[str]) -> list[str]:
    return sorted(set(ids))


def _brief(row: BriefVersionRow) -> Brief:
    return read_document(Brief, row.document, f"Version {row.number} of the brief of development {row.development_id}")


def _state(row: StateRow, stamp: Stamp) -> KeptState:
    return KeptState(row.development_id, cast("State", row.state), row.reason, stamp)
