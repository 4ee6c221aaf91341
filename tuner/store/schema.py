"""The tables. Rows are appended and never changed: a new version or a correction is a new row that points to the old one.

=================  ==========================================================================================
person             names, in this one table only; every other table knows a person by id
audit              one entry for each row written anywhere, chained by hashes
oven, _version     an oven, and its descriptions
development        one brief on its way, with its oven
brief_version      the briefs of a development
development_state  closed, archived, opened again
cook               test cooks and their corrections
proposal           proposals as they were issued
decision           what was decided about a proposal
import_mapping     how a layout of cook logs was read
record             everything else that is written once and kept: proofs, recipes, releases, signatures, accounts
kept_file          photos and issued pages, byte by byte
derived            answers kept to save computing them again; may be emptied at any time
=================  ==========================================================================================
"""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import (
    BigInteger,
    CheckConstraint,
    ForeignKey,
    Index,
    Integer,
    LargeBinary,
    MetaData,
    Text,
    UniqueConstraint,
)
from sqlalchemy.orm import DeclarativeBase, Mapped, declared_attr, mapped_column

from tuner.store.instants import UtcInstant

NAMING = {
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
    "fk": "fk_%(table_name)s_%(column_0_N_name)s",
    "pk": "pk_%(table_name)s",
}

Sequence = BigInteger().with_variant(Integer, "sqlite")


class Base(DeclarativeBase):
    """Base of all tables."""

    metadata = MetaData(naming_convention=NAMING)


class Person(Base):
    """A person under a pseudonym (the id). The name alone may be changed later: emptied, when somebody leaves."""

    __tablename__ = "person"
    id: Mapped[str] = mapped_column(Text, primary_key=True)
    name: Mapped[str | None] = mapped_column(Text)
    customer: Mapped[str | None] = mapped_column(Text)
    __table_args__ = (Index(None, "name"),)


class Audit(Base):
    """One entry for each row written; `previous_hash` chains it to the entry before."""

    __tablename__ = "audit"
    sequence: Mapped[int] = mapped_column(Sequence, primary_key=True, autoincrement=False)
    person_id: Mapped[str] = mapped_column(ForeignKey("person.id"))
    role: Mapped[str] = mapped_column(Text)
    customer: Mapped[str | None] = mapped_column(Text)
    at: Mapped[datetime] = mapped_column(UtcInstant)
    what: Mapped[str] = mapped_column(Text)
    subject_kind: Mapped[str] = mapped_column(Text)
    subject_id: Mapped[str] = mapped_column(Text)
    development_id: Mapped[str | None] = mapped_column(Text)
    reason: Mapped[str | None] = mapped_column(Text)
    content_hash: Mapped[str] = mapped_column(Text)
    previous_hash: Mapped[str] = mapped_column(Text)
    entry_hash: Mapped[str] = mapped_column(Text)
    __table_args__ = (
        UniqueConstraint("previous_hash"),
        UniqueConstraint("entry_hash"),
        Index(None, "development_id", "sequence"),
        Index(None, "subject_id"),
    )


class Written:
    """What every row carries: ids, owner (customer), who, when, its audit entry, and the hash of what was sent."""

    id: Mapped[str] = mapped_column(Text, primary_key=True)
    client_id: Mapped[str] = mapped_column(Text)
    customer: Mapped[str | None] = mapped_column(Text)
    written_at: Mapped[datetime] = mapped_column(UtcInstant)
    content_hash: Mapped[str] = mapped_column(Text)

    @declared_attr
    @classmethod
    def written_by(cls) -> Mapped[str]:
        """Person who wrote it."""
        return mapped_column(ForeignKey("person.id"))

    @declared_attr
    @classmethod
    def sequence(cls) -> Mapped[int]:
        """Number of its audit entry: the order of writes, whatever clocks say."""
        return mapped_column(ForeignKey("audit.sequence"), unique=True)


class OvenRow(Written, Base):
    """An oven; what it is like stands in its versions."""

    __tablename__ = "oven"
    __table_args__ = (Index(None, "customer"),)


class OvenVersionRow(Written, Base):
    """One description of an oven."""

    __tablename__ = "oven_version"
    oven_id: Mapped[str] = mapped_column(ForeignKey("oven.id"))
    number: Mapped[int] = mapped_column(Integer)
    document: Mapped[str] = mapped_column(Text)
    __table_args__ = (UniqueConstraint("oven_id", "number"), CheckConstraint("number >= 1", name="number"))


class DevelopmentRow(Written, Base):
    """A development; its brief stands in its versions."""

    __tablename__ = "development"
    oven_id: Mapped[str] = mapped_column(ForeignKey("oven.id"))
    copied_from: Mapped[str | None] = mapped_column(Text)
    __table_args__ = (Index(None, "customer"), Index(None, "oven_id"))


class BriefVersionRow(Written, Base):
    """One version of a brief."""

    __tablename__ = "brief_version"
    development_id: Mapped[str] = mapped_column(ForeignKey("development.id"))
    number: Mapped[int] = mapped_column(Integer)
    document: Mapped[str] = mapped_column(Text)
    __table_args__ = (UniqueConstraint("development_id", "number"), CheckConstraint("number >= 1", name="number"))


class StateRow(Written, Base):
    """A development closed, archived or opened again."""

    __tablename__ = "development_state"
    development_id: Mapped[str] = mapped_column(ForeignKey("development.id"))
    state: Mapped[str] = mapped_column(Text)
    reason: Mapped[str] = mapped_column(Text)
    __table_args__ = (
        Index(None, "development_id"),
        CheckConstraint("state IN ('open', 'closed', 'archived')", name="state"),
    )


class CookRow(Written, Base):
    """One cook as logged; a correction names the row it corrects, and each row can be corrected once."""

    __tablename__ = "cook"
    development_id: Mapped[str] = mapped_column(ForeignKey("development.id"))
    number: Mapped[int] = mapped_column(Integer)
    corrects: Mapped[str | None] = mapped_column(ForeignKey("cook.id"))
    reason: Mapped[str | None] = mapped_column(Text)
    source: Mapped[str] = mapped_column(Text)
    may_taste: Mapped[str | None] = mapped_column(Text)
    brief_version: Mapped[int] = mapped_column(Integer)
    oven_version: Mapped[int] = mapped_column(Integer)
    document: Mapped[str] = mapped_column(Text)
    __table_args__ = (
        UniqueConstraint("corrects"),
        Index(None, "development_id", "number"),
        CheckConstraint("number >= 1", name="number"),
        CheckConstraint("corrects IS NULL OR reason IS NOT NULL", name="reason"),
    )


class ProposalRow(Written, Base):
    """One proposal as issued."""

    __tablename__ = "proposal"
    development_id: Mapped[str] = mapped_column(ForeignKey("development.id"))
    number: Mapped[int] = mapped_column(Integer)
    kind: Mapped[str] = mapped_column(Text)
    seed: Mapped[int] = mapped_column(BigInteger)
    versions: Mapped[str] = mapped_column(Text)
    asked: Mapped[str] = mapped_column(Text)
    data_hash: Mapped[str] = mapped_column(Text)
    brief_version: Mapped[int] = mapped_column(Integer)
    oven_version: Mapped[int] = mapped_column(Integer)
    document: Mapped[str] = mapped_column(Text)
    __table_args__ = (
        UniqueConstraint("development_id", "number"),
        CheckConstraint("number >= 1", name="number"),
        CheckConstraint("kind IN ('next', 'first_day')", name="kind"),
    )


class DecisionRow(Written, Base):
    """What was decided about a proposal; the newest one holds."""

    __tablename__ = "decision"
    development_id: Mapped[str] = mapped_column(ForeignKey("development.id"))
    proposal_id: Mapped[str] = mapped_column(ForeignKey("proposal.id"))
    decision: Mapped[str] = mapped_column(Text)
    reason: Mapped[str] = mapped_column(Text)
    program: Mapped[str | None] = mapped_column(Text)
    __table_args__ = (
        Index(None, "development_id"),
        Index(None, "proposal_id"),
        CheckConstraint("decision IN ('accept', 'change', 'refuse')", name="decision"),
        CheckConstraint("decision != 'change' OR program IS NOT NULL", name="program"),
    )


class MappingRow(Written, Base):
    """How one layout of cook logs was read; the newest one holds."""

    __tablename__ = "import_mapping"
    layout: Mapped[str] = mapped_column(Text)
    document: Mapped[str] = mapped_column(Text)
    __table_args__ = (Index(None, "layout"),)


class RecordRow(Written, Base):
    """One record of a kind, of a development or of the house; a correction names the row it corrects, once for each row."""

    __tablename__ = "record"
    kind: Mapped[str] = mapped_column(Text)
    development_id: Mapped[str | None] = mapped_column(ForeignKey("development.id"))
    about: Mapped[str | None] = mapped_column(Text)
    schema_version: Mapped[int] = mapped_column(Integer)
    corrects: Mapped[str | None] = mapped_column(ForeignKey("record.id"))
    reason: Mapped[str | None] = mapped_column(Text)
    document: Mapped[str] = mapped_column(Text)
    __table_args__ = (
        UniqueConstraint("corrects"),
        Index(None, "development_id", "kind"),
        Index(None, "kind", "about"),
        CheckConstraint("schema_version >= 1", name="schema_version"),
        CheckConstraint("corrects IS NULL OR reason IS NOT NULL", name="reason"),
    )


class FileRow(Written, Base):
    """A file as it came in or went out, under the SHA-256 of its bytes."""

    __tablename__ = "kept_file"
    development_id: Mapped[str | None] = mapped_column(ForeignKey("development.id"))
    media_type: Mapped[str] = mapped_column(Text)
    sha256: Mapped[str] = mapped_column(Text)
    data: Mapped[bytes] = mapped_column(LargeBinary)
    __table_args__ = (Index(None, "sha256"),)


class DerivedRow(Base):
    """An answer kept to save computing it again. Not part of the record: it may be emptied at any time."""

    __tablename__ = "derived"
    kind: Mapped[str] = mapped_column(Text, primary_key=True)
    subject_id: Mapped[str] = mapped_column(Text, primary_key=True)
    input_hash: Mapped[str] = mapped_column(Text, primary_key=True)
    document: Mapped[str] = mapped_column(Text)


APPEND_ONLY: dict[str, tuple[tuple[str, ...], ...]] = {
    "audit": (("sequence",), ("previous_hash",), ("entry_hash",)),
    "oven": (("id",), ("sequence",)),
    "oven_version": (("id",), ("sequence",), ("oven_id", "number")),
    "development": (("id",), ("sequence",)),
    "brief_version": (("id",), ("sequence",), ("development_id", "number")),
    "development_state": (("id",), ("sequence",)),
    "cook": (("id",), ("sequence",), ("corrects",)),
    "proposal": (("id",), ("sequence",), ("development_id", "number")),
    "decision": (("id",), ("sequence",)),
    "import_mapping": (("id",), ("sequence",)),
    "record": (("id",), ("sequence",), ("corrects",)),
    "kept_file": (("id",), ("sequence",)),
}
"""Tables whose rows never change, with every set of columns that identifies a row."""
