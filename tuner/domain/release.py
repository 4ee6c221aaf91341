"""A release: the states it passes through, the snapshot that is signed, and the signatures.

::

    draft -> candidate -> proving -> proven -> released  -> superseded | withdrawn
                                            -> restricted -> superseded | withdrawn
    every state before release -> returned

A version that was returned, superseded or withdrawn stays what it is; going on means a new version with this one as parent.
"""

from __future__ import annotations

from datetime import timedelta
from typing import Any, Literal

from pydantic import Field

from tuner.domain.brief import Brief
from tuner.domain.model import Flag, Instant, Model, Number, Text, Whole
from tuner.domain.oven import Oven
from tuner.domain.person import Role
from tuner.domain.program import Program
from tuner.domain.recipe import Recipe

RELEASE_FORMAT = "test-cook-tuner-release/1"
RESTRICTED_FOR = timedelta(days=90)
"""How long a restricted release may be cooked."""

ReleaseState = Literal[
    "draft", "candidate", "proving", "proven", "restricted", "released", "superseded", "withdrawn", "returned"
]
Standing = Literal["released", "restricted"]
RevisionClass = Literal["text", "minor", "major"]

NEXT_STATES: dict[ReleaseState, tuple[ReleaseState, ...]] = {
    "draft": ("candidate", "returned"),
    "candidate": ("proving", "returned"),
    "proving": ("proven", "returned"),
    "proven": ("released", "restricted", "returned"),
    "restricted": ("superseded", "withdrawn"),
    "released": ("superseded", "withdrawn"),
    "superseded": (),
    "withdrawn": (),
    "returned": (),
}
"""Which state may follow which."""

IN_FORCE: tuple[ReleaseState, ...] = ("released", "restricted")
BEFORE_RELEASE: tuple[ReleaseState, ...] = ("draft", "candidate", "proving", "proven")


class Span(Model):
    """From low to high, edges included."""

    low: Number
    high: Number


class OperatingWindow(Model):
    """For what a program was proven: start temperature, mass, load, weakest oven."""

    program: Program
    start_temperature_c: Span
    mass_g: Span
    load: Span
    lowest_oven_w: Number | None = None
    hot_oven: Flag | None = None
    chance: Number | None = Field(default=None, ge=0, le=1)
    words: tuple[Text, ...] = ()


class LimitStated(Model):
    """The critical limit as it counts for this release, with whose word it is."""

    none: Flag = False
    core_temperature_c: Number | None = None
    guard_c: Number = 0
    hold_s: Number = 0
    rest_s: Number = 0
    covered: Flag = False
    rule: Text | None = None
    market: Text | None = None
    edition: Text | None = None
    approved_by: Text | None = None


class Evidence(Model):
    """A record the release rests on: its id in the store, the hash of its content, and the content itself."""

    record_id: Text
    content_hash: Text
    content: dict[str, Any]


class TopUp(Model):
    """A proven extra program for a portion found below the limit, once only."""

    program: Program
    record_id: Text
    strength: Text


class Parent(Model):
    """The release this one follows."""

    number: Whole = Field(ge=1)
    sha256: Text | None = None


class Revision(Model):
    """What changed against the parent, why, how much that is, and which evidence no longer holds."""

    kind: RevisionClass
    reason: Text = Field(min_length=1, max_length=2000)
    differences: tuple[Text, ...] = ()
    no_longer_holds: tuple[Text, ...] = ()


class AuditHead(Model):
    """Newest entry of the audit trail when the snapshot was taken."""

    sequence: Whole
    entry_hash: Text


class ReleaseDocument(Model):
    """The snapshot that is signed: everything a stranger needs to cook the dish, and everything that says why it is safe."""

    format: Literal["test-cook-tuner-release/1"] = "test-cook-tuner-release/1"
    development_id: Text
    number: Whole = Field(ge=1)
    standing: Standing
    dish: Text
    customer: Text | None = None
    brief: Brief
    brief_version: Whole = Field(ge=1)
    recipe: Recipe
    recipe_record_id: Text
    program: Program
    oven: Oven
    oven_version: Whole = Field(ge=1)
    operating_window: OperatingWindow
    limit: LimitStated
    proof: Evidence
    top_up: TopUp | None = None
    sites: tuple[Text, ...] = ()
    expires_at: Instant | None = None
    parent: Parent | None = None
    revision: Revision | None = None
    developers: tuple[Text, ...] = Field(min_length=1)
    must_sign: tuple[Role, ...] = Field(min_length=2)
    tool_version: Text
    model_versions: dict[Text, Text]
    audit_head: AuditHead
    sealed_at: Instant


class Statement(Model):
    """What one signature says: who, in which role, meaning what, when, of exactly which bytes."""

    format: Literal["test-cook-tuner-signature/1"] = "test-cook-tuner-signature/1"
    release_sha256: Text = Field(min_length=64, max_length=64)
    development_id: Text
    number: Whole = Field(ge=1)
    name: Text = Field(min_length=1, max_length=200)
    account_id: Text
    role: Role
    meaning: Text
    signed_at: Instant
    identified_by: Text
    key_id: Text


class Signature(Model):
    """A statement in the exact text that was signed, with its Ed25519 signature and the public key, both in hexadecimal."""

    statement: Text
    signature: Text = Field(min_length=128, max_length=128)
    public_key: Text = Field(min_length=64, max_length=64)


class ReleaseFile(Model):
    """A release on its way: the exact text that was signed, and the signatures."""

    format: Literal["test-cook-tuner-release-file/1"] = "test-cook-tuner-release-file/1"
    document: Text
    sha256: Text = Field(min_length=64, max_length=64)
    signatures: tuple[Signature, ...]
