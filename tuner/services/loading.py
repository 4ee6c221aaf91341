"""One development read whole, in one short session, before anything is computed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from tuner.domain import Brief, NotAllowed, Oven, TestCook
from tuner.services.actor import Actor
from tuner.services.workspace import Workspace
from tuner.store import (
    KeptBrief,
    KeptCook,
    KeptDevelopment,
    KeptOven,
    KeptProposal,
    Reading,
    UnitOfWork,
    content_hash,
    document_text,
)


@dataclass(frozen=True)
class Loaded:
    """Everything kept about one development."""

    development: KeptDevelopment
    oven_record: KeptOven
    briefs: tuple[KeptBrief, ...]
    rows: tuple[KeptCook, ...]
    proposals: tuple[KeptProposal, ...]

    @property
    def brief(self) -> Brief:
        """The brief that counts now."""
        return self.development.brief

    @property
    def oven(self) -> Oven:
        """The oven as it is described now."""
        return self.oven_record.oven

    @cached_property
    def current_rows(self) -> tuple[KeptCook, ...]:
        """Rows that hold now, in the order of logging: of a corrected cook the last correction, in the place of the first."""
        first = {row.number: place for place, row in reversed(list(enumerate(self.rows)))}
        return tuple(sorted((row for row in self.rows if not row.superseded), key=lambda row: first[row.number]))

    @cached_property
    def cooks(self) -> tuple[TestCook, ...]:
        """Cooks that hold now, in the order of cooking."""
        return in_cooking_order([row.cook for row in self.current_rows])

    @cached_property
    def data_hash(self) -> str:
        """SHA-256 of all that learning rests on: brief, oven, cooks."""
        return material_hash(self.brief, self.oven, self.cooks)


def material_hash(brief: Brief, oven: Oven, cooks: Sequence[TestCook]) -> str:
    """SHA-256 over brief, oven and cooks in their order."""
    texts = [document_text(cook) for cook in cooks]
    return content_hash({"brief": document_text(brief), "oven": document_text(oven), "cooks": texts})


def in_cooking_order(cooks: Sequence[TestCook]) -> tuple[TestCook, ...]:
    """Cooks as they were cooked: those with a time sorted among themselves, those without left in their places."""
    timed = iter(sorted((cook for cook in cooks if cook.cooked_at is not None), key=_cooked_at))
    return tuple(cook if cook.cooked_at is None else next(timed) for cook in cooks)


def _cooked_at(cook: TestCook) -> float:
    return cook.cooked_at.timestamp() if cook.cooked_at is not None else 0.0


def read_development(reading: Reading | UnitOfWork, development_id: str) -> Loaded:
    """Everything about one development.

    Raises
    ------
    NotFound
        If there is none of that id, or none this customer may see.
    """
    return read_rest(reading, reading.developments.one(development_id))


def read_rest(reading: Reading | UnitOfWork, development: KeptDevelopment) -> Loaded:
    """Everything else about a development that was found already."""
    return Loaded(
        development=development,
        oven_record=reading.ovens.current(development.oven_id, of_development=True),
        briefs=reading.developments.briefs(development.id),
        rows=reading.cooks.of_development(development.id),
        proposals=reading.proposals.of_development(development.id),
    )


def load(space: Workspace, who: Actor, development_id: str) -> Loaded:
    """Everything about one development, the session closed again.

    Raises
    ------
    NotFound
        If there is none of that id, or none this person may see.
    """
    with space.store.read(who.customer) as reading:
        return remembered(space, reading, reading.developments.one(development_id))


def remembered(space: Workspace, reading: Reading, development: KeptDevelopment) -> Loaded:
    """A development that was found, as it was read last if nothing was written since.

    For readings only: what a unit of work sees before it commits may be taken back, and its token be given again.
    """
    return space.loaded.get(f"{development.id}:{development.token}", lambda: read_rest(reading, development))


def refuse_unless_open(development: KeptDevelopment) -> None:
    """Refuse to go on with a development that was closed.

    Raises
    ------
    NotAllowed
        If it is closed or archived.
    """
    if development.state != "open":
        raise NotAllowed(
            f"This development is {development.state} ({development.state_reason}). Only an open one can be worked on. "
            "Reopen it with a reason first."
        )
