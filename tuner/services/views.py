"""What the use cases answer: frozen records made for showing, without any database behind them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING, Literal

from tuner.domain import Assessment, Brief, Feasibility, Oven, Program, Proposal, TestCook, Verdict
from tuner.domain.plausibility import Question

if TYPE_CHECKING:
    from tuner.exchange import ColumnMapping, ImportResult, Table
    from tuner.safety import EffectiveLimit, Gate, LimitRow

DevelopmentState = Literal["open", "closed", "archived"]
ProposalState = Literal["open", "accepted", "changed", "refused", "cooked", "overtaken"]
Decision = Literal["accept", "change", "refuse"]


@dataclass(frozen=True, slots=True)
class OvenRecord:
    """One oven as it is now; `version` counts its edits from 1."""

    id: str
    oven: Oven
    version: int = 1
    customer: str | None = None


@dataclass(frozen=True, slots=True)
class CookOutcome:
    """How a cook stands against the windows: `result` in one word, attributes outside, measurements missing."""

    result: Literal["pass", "fail", "pending"]
    outside: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class CookRecord:
    """One logged cook.

    Attributes
    ----------
    number
        Counted in the order of logging; a correction keeps the number of what it corrects.
    margins
        Distance to the nearest window edge in window half-widths by attribute; negative is outside, None not measured.
    counts
        Whether it counts for the program it cooked (mass, start temperature, oven and completion as the brief asks).
    corrects, superseded, reason
        Id of the row this one corrects, whether a later row corrects this one, and why it was corrected.
    delay_s
        Seconds from cooking to logging, None where the time of cooking is unknown.
    source
        `live`, or where it came from (a file's name, `demo`).
    """

    id: str
    number: int
    cook: TestCook
    verdict: Verdict
    outcome: CookOutcome
    margins: Mapping[str, float | None]
    counts: bool
    corrects: str | None
    superseded: bool
    logged_at: datetime
    logged_by: str
    delay_s: float | None
    reason: str = ""
    source: str = "live"
    brief_version: int = 1
    client_id: str = ""


@dataclass(frozen=True, slots=True)
class DecisionRecord:
    """What somebody decided about a proposal; `program` is what will be cooked (None when refused)."""

    proposal_id: str
    decision: Decision
    program: Program | None
    reason: str
    decided_at: datetime
    decided_by: str


@dataclass(frozen=True, slots=True)
class ProposalRecord:
    """One proposal, kept as it was issued for ever.

    Attributes
    ----------
    kind
        `next` for the usual one, `first_day` for one of a first day's plan.
    state
        `open` undecided and still of today's data; `overtaken` undecided, but cooks or brief have moved on; `accepted` or
        `changed` decided and not cooked yet; `cooked`; `refused`.
    libraries
        Versions of the libraries it was computed with.
    data_hash
        SHA-256 of everything it was computed from.
    """

    id: str
    number: int
    proposal: Proposal
    kind: Literal["next", "first_day"]
    state: ProposalState
    decision: DecisionRecord | None
    seed: int
    tool_version: str
    libraries: Mapping[str, str]
    data_hash: str
    brief_version: int
    issued_at: datetime
    issued_by: str

    @property
    def program(self) -> Program:
        """What is to be cooked: the program decided on, else the one proposed."""
        return self.decision.program if self.decision and self.decision.program else self.proposal.program


@dataclass(frozen=True, slots=True)
class BriefVersion:
    """One version of a brief, with who wrote it when."""

    version: int
    brief: Brief
    written_at: datetime
    written_by: str


@dataclass(frozen=True, slots=True)
class DevelopmentView:
    """One development with everything a page shows.

    Attributes
    ----------
    cooks
        All rows in the order of logging, superseded ones included.
    token
        Changes with every write that concerns this development: a key for caches.
    """

    id: str
    dish: str
    customer: str | None
    state: DevelopmentState
    state_reason: str
    brief: Brief
    brief_version: int
    brief_versions: tuple[BriefVersion, ...]
    oven: Oven
    oven_id: str
    oven_version: int
    cooks: tuple[CookRecord, ...]
    proposals: tuple[ProposalRecord, ...]
    decisions: tuple[DecisionRecord, ...]
    assessment: Assessment
    feasibility: Feasibility
    limit: EffectiveLimit
    copied_from: str | None
    started_at: datetime
    started_by: str
    moved_at: datetime
    token: int

    @property
    def current_cooks(self) -> tuple[CookRecord, ...]:
        """The rows that hold now: superseded ones left out."""
        return tuple(cook for cook in self.cooks if not cook.superseded)

    @property
    def open_proposals(self) -> tuple[ProposalRecord, ...]:
        """Proposals that wait for a decision."""
        return tuple(proposal for proposal in self.proposals if proposal.state == "open")

    @property
    def pending_proposals(self) -> tuple[ProposalRecord, ...]:
        """Proposals that were taken and wait to be cooked."""
        return tuple(proposal for proposal in self.proposals if proposal.state in ("accepted", "changed"))


@dataclass(frozen=True, slots=True)
class DevelopmentSummary:
    """One line of the list of who waits for whom.

    Attributes
    ----------
    status
        The assessment's status, or `closed` or `archived`.
    waits_for
        Who has to do what next, as `you: log cook 7`.
    idle_days
        Whole days since anything was written.
    """

    id: str
    dish: str
    customer: str | None
    oven_name: str
    status: str
    waits_for: str
    my_turn: bool
    idle_days: int
    cook_count: int
    best_program: Program | None
    chance_reliable: float
    cooks_left_estimate: float | None
    cooks_left_range: tuple[float, float] | None
    moved_at: datetime
    token: int


@dataclass(frozen=True, slots=True)
class CookPreview:
    """What logging a cook would say; nothing is saved. `problems` are reasons it would be refused for."""

    verdict: Verdict
    questions: tuple[Question, ...]
    gate: Gate
    problems: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class BriefCheck:
    """What can be said of a brief before anything is saved.

    `missing` names what is still unanswered, `rules` the shipped critical limits of its food class and market, strictest first,
    `declared` the allergens that must be declared in its market.
    """

    feasibility: Feasibility
    questions: tuple[Question, ...]
    missing: tuple[str, ...]
    limit: EffectiveLimit
    rules: tuple[LimitRow, ...] = ()
    declared: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class ImportPreview:
    """How a file was read: table, mapping, cooks and refused rows, open questions; `remembered` if known from before."""

    table: Table
    mapping: ColumnMapping
    result: ImportResult
    questions: tuple[object, ...]
    remembered: bool


@dataclass(frozen=True, slots=True)
class ImportedRow:
    """One row of a file that was not taken, and why."""

    line: int
    reason: str


@dataclass(frozen=True, slots=True)
class ImportReport:
    """What an import did: cooks added, known already, refused with reasons, skipped as blank or total rows.

    `skipped` also names rows that went in before and read otherwise now; `left_out` are single values of cooks that went in.
    `developments` and `ovens` count those that an export brought anew.
    """

    added: int
    known: int
    refused: tuple[ImportedRow, ...] = ()
    skipped: tuple[ImportedRow, ...] = ()
    left_out: tuple[ImportedRow, ...] = ()
    developments: int = 0
    ovens: int = 0


@dataclass(frozen=True, slots=True)
class RehearsalReport:
    """How a rehearsed development went.

    Attributes
    ----------
    truly_inside
        Share of further portions of the best program that truly lie inside every window, 0 to 1; None without a best program.
    story
        What happened, a sentence each.
    """

    kitchen: str
    cooks: tuple[TestCook, ...]
    proven: bool
    truly_inside: float | None
    status: str
    story: tuple[str, ...]
    best_program: Program | None = None
