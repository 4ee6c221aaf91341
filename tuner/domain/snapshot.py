"""Everything a store holds that an export must carry: ovens, developments with their cooks and proposals, import mappings.

A snapshot holds no time of its own making, so the same state always gives the same document. Times and names in it are
those of the writes it tells about: who, for whom, when, and under which client-made id.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise
from typing import Any, Literal, Self

from pydantic import Field, model_validator

from tuner.domain.brief import Brief
from tuner.domain.cook import TestCook
from tuner.domain.model import Flag, Instant, Model, Number, Text, Whole
from tuner.domain.oven import Oven
from tuner.domain.program import Program
from tuner.domain.results import Proposal

SNAPSHOT_FORMAT = "test-cook-tuner/1"
"""Tag of the document; the number rises when a reader of the old form could no longer read the new one."""

DevelopmentState = Literal["open", "closed", "archived"]
DecisionKind = Literal["accept", "change", "refuse"]


class _Written(Model):
    """One write: who made it (and of which customer, None for the house), when, and the id the client gave it.

    `order` counts the writes of the whole document: their order, whatever the clocks said.
    """

    by: Text = Field(min_length=1, max_length=200)
    by_customer: Text | None = Field(default=None, max_length=200)
    at: Instant
    order: Whole | None = Field(default=None, ge=1)
    client_id: Text | None = Field(default=None, min_length=1, max_length=100)


class OvenVersion(_Written):
    """An oven as it was described at one time; numbers count from 1."""

    number: Whole = Field(ge=1)
    oven: Oven


class OvenEntry(Model):
    """One oven with all its descriptions, oldest first."""

    id: Text = Field(min_length=1, max_length=100)
    customer: Text | None = Field(default=None, max_length=200)
    versions: tuple[OvenVersion, ...] = Field(min_length=1)

    @model_validator(mode="after")
    def _numbered(self) -> Self:
        _rising(self.versions, "versions of the oven")
        return self


class BriefVersion(_Written):
    """A brief as it was wanted from one time on; numbers count from 1."""

    number: Whole = Field(ge=1)
    brief: Brief


class CookEntry(_Written):
    """One cook as it was logged; a correction is an entry of its own that names the one it corrects."""

    id: Text = Field(min_length=1, max_length=100)
    number: Whole = Field(ge=1)
    cook: TestCook
    corrects: Text | None = Field(default=None, min_length=1, max_length=100)
    reason: Text | None = Field(default=None, max_length=2000)
    delay_s: Number | None = None
    """Seconds between cooking and logging, where both are known."""
    source: Text = Field(default="live", min_length=1, max_length=500)
    """`live`, or where it came from."""
    may_taste: dict[Text, Flag] | None = None
    """What each taster answered when asked whether they may taste, None where nobody was asked."""
    brief_version: Whole = Field(default=1, ge=1)
    oven_version: Whole = Field(default=1, ge=1)


class Decision(_Written):
    """What was decided about a proposal; `program` is the changed one."""

    decision: DecisionKind
    reason: Text = Field(max_length=2000)
    program: Program | None = None


class ProposalEntry(_Written):
    """A proposal exactly as it was issued, with what is needed to compute it again, and what was decided about it."""

    id: Text = Field(min_length=1, max_length=100)
    number: Whole | None = Field(default=None, ge=1)
    kind: Literal["next", "first_day"] = "next"
    proposal: Proposal
    seed: Whole
    brief_version: Whole = Field(ge=1)
    oven_version: Whole = Field(default=1, ge=1)
    versions: dict[Text, Text] = Field(default_factory=dict)
    """Tool and library versions by name."""
    data_hash: Text | None = Field(default=None, max_length=200)
    asked: dict[str, Any] | None = None
    """What it was asked with besides brief, oven, cooks and seed: how many, pending and refused programs."""
    decisions: tuple[Decision, ...] = ()


class StateChange(_Written):
    """A development closed, archived or opened again, with the reason."""

    state: DevelopmentState
    reason: Text = Field(max_length=2000)


class DevelopmentEntry(Model):
    """One development: brief versions, cooks and proposals in the order they were written."""

    id: Text = Field(min_length=1, max_length=100)
    customer: Text | None = Field(default=None, max_length=200)
    state: DevelopmentState = "open"
    state_changes: tuple[StateChange, ...] = ()
    oven_id: Text = Field(min_length=1, max_length=100)
    copied_from: Text | None = Field(default=None, min_length=1, max_length=100)
    """Development this one was copied from; it need not be in the document."""
    brief_versions: tuple[BriefVersion, ...] = Field(min_length=1)
    cooks: tuple[CookEntry, ...] = ()
    proposals: tuple[ProposalEntry, ...] = ()

    @property
    def brief(self) -> Brief:
        """The brief that counts now."""
        return self.brief_versions[-1].brief

    @model_validator(mode="after")
    def _whole(self) -> Self:
        _rising(self.brief_versions, "versions of the brief")
        _once((cook.id for cook in self.cooks), "cooks")
        _once((proposal.id for proposal in self.proposals), "proposals")
        earlier: set[str] = set()
        for cook in self.cooks:
            if cook.corrects is not None and cook.corrects not in earlier:
                raise ValueError(
                    f"cook {cook.id!r} corrects {cook.corrects!r}, which is not among the cooks before it. A correction must "
                    "follow the cook it corrects. Restore the missing cook, or take the correction out"
                )
            earlier.add(cook.id)
        return self


class MappingEntry(_Written):
    """How the columns of one layout of cook logs were read, kept for the next file of that layout."""

    layout: Text = Field(min_length=1, max_length=200)
    customer: Text | None = Field(default=None, max_length=200)
    mapping: dict[str, Any]
    """The column mapping as JSON; the room that reads files knows its fields."""


class Snapshot(Model):
    """Everything that is kept, or everything about some developments."""

    format: Literal["test-cook-tuner/1"]
    ovens: tuple[OvenEntry, ...] = ()
    developments: tuple[DevelopmentEntry, ...] = ()
    mappings: tuple[MappingEntry, ...] = ()

    @model_validator(mode="after")
    def _whole(self) -> Self:
        _once((oven.id for oven in self.ovens), "ovens")
        _once((development.id for development in self.developments), "developments")
        known = {oven.id for oven in self.ovens}
        for development in self.developments:
            if development.oven_id not in known:
                raise ValueError(
                    f"development {development.id!r} uses oven {development.oven_id!r}, which is not in the document. "
                    "Every oven in use must be there. Add the oven, or export again"
                )
        return self


def _once(ids: Iterable[str], what: str) -> None:
    seen: set[str] = set()
    for identity in ids:
        if identity in seen:
            raise ValueError(f"{what} hold the id {identity!r} twice. Every id may be used once. Remove one of the two")
        seen.add(identity)


def _rising(versions: Iterable[OvenVersion | BriefVersion], what: str) -> None:
    numbers = [version.number for version in versions]
    if any(later <= earlier for earlier, later in pairwise(numbers)):
        raise ValueError(f"{what} are numbered {numbers}. Numbers must rise. Put them in order, each number once")
