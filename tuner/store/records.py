"""What comes out of the store: domain objects with who wrote them when. No database behind them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any, Literal

from tuner.domain import Brief, Oven, Program, Proposal, TestCook

State = Literal["open", "closed", "archived"]
Kind = Literal["next", "first_day"]
Decided = Literal["accept", "change", "refuse"]


@dataclass(frozen=True, slots=True)
class WriteContext:
    """Who writes, for which customer (None: the house), in which role, and when."""

    name: str
    customer: str | None
    role: str
    at: datetime


@dataclass(frozen=True, slots=True)
class Origin:
    """Who wrote a row first, and when, where it is being restored from an export."""

    name: str
    customer: str | None
    at: datetime


@dataclass(frozen=True, slots=True)
class Added:
    """Id of a row that was sent; `new` is False where it was there already with the same content."""

    id: str
    new: bool


@dataclass(frozen=True, slots=True)
class Stamp:
    """Who wrote a row and when; `sequence` is the order of writes, whatever clocks say."""

    sequence: int
    client_id: str
    at: datetime
    by: str
    by_customer: str | None


@dataclass(frozen=True, slots=True)
class KeptOven:
    """An oven in one of its versions."""

    id: str
    customer: str | None
    version: int
    oven: Oven
    stamp: Stamp


@dataclass(frozen=True, slots=True)
class KeptBrief:
    """One version of a brief."""

    number: int
    brief: Brief
    stamp: Stamp


@dataclass(frozen=True, slots=True)
class KeptState:
    """A development closed, archived or opened again."""

    development_id: str
    state: State
    reason: str
    stamp: Stamp


@dataclass(frozen=True, slots=True)
class KeptDevelopment:
    """A development as it stands now.

    Attributes
    ----------
    token
        Highest audit sequence that concerns it or its oven: it changes with every write.
    moved_at
        When something of it was written last.
    """

    id: str
    customer: str | None
    oven_id: str
    copied_from: str | None
    brief_version: int
    brief: Brief
    state: State
    state_reason: str
    stamp: Stamp
    moved_at: datetime
    token: int


@dataclass(frozen=True, slots=True)
class KeptCook:
    """One cook as logged; `superseded` once a later row corrects it."""

    id: str
    development_id: str
    number: int
    cook: TestCook
    corrects: str | None
    superseded: bool
    reason: str | None
    source: str
    may_taste: Mapping[str, bool] | None
    brief_version: int
    oven_version: int
    stamp: Stamp


@dataclass(frozen=True, slots=True)
class KeptDecision:
    """What was decided about a proposal."""

    proposal_id: str
    decision: Decided
    reason: str
    program: Program | None
    stamp: Stamp


@dataclass(frozen=True, slots=True)
class KeptProposal:
    """A proposal as it was issued, with all decisions about it, oldest first; `asked` is what else was asked with."""

    id: str
    development_id: str
    number: int
    kind: Kind
    proposal: Proposal
    seed: int
    versions: Mapping[str, str]
    asked: Mapping[str, Any]
    data_hash: str
    brief_version: int
    oven_version: int
    decisions: tuple[KeptDecision, ...]
    stamp: Stamp


@dataclass(frozen=True, slots=True)
class KeptMapping:
    """How a layout of cook logs was read."""

    layout: str
    customer: str | None
    mapping: Mapping[str, Any]
    stamp: Stamp


@dataclass(frozen=True, slots=True)
class KeptRecord:
    """A record of a kind, of a development or (None) of none; `superseded` once a later row corrects it."""

    id: str
    kind: str
    development_id: str | None
    customer: str | None
    about: str | None
    schema_version: int
    content: Mapping[str, Any]
    corrects: str | None
    superseded: bool
    reason: str | None
    stamp: Stamp


@dataclass(frozen=True, slots=True)
class KeptFile:
    """A file with its bytes, under their SHA-256."""

    id: str
    development_id: str | None
    customer: str | None
    media_type: str
    sha256: str
    data: bytes
    stamp: Stamp


@dataclass(frozen=True, slots=True)
class AuditEntry:
    """One line of the audit trail."""

    sequence: int
    person_id: str
    by: str
    role: str
    customer: str | None
    at: datetime
    what: str
    subject_kind: str
    subject_id: str
    development_id: str | None
    reason: str | None
    content_hash: str
    previous_hash: str
    entry_hash: str
