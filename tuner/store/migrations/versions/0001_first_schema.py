"""First schema: people, audit, ovens, developments, cooks, proposals, decisions, import mappings, derived answers."""

import sqlalchemy as sa
from alembic import op

from tuner.store.instants import UtcInstant
from tuner.store.triggers import DROP_POSTGRES_FUNCTIONS, POSTGRES_FUNCTIONS, guard_statements, person_statements

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None

GUARDED = {
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
}
TABLES = (
    "derived",
    "import_mapping",
    "decision",
    "proposal",
    "cook",
    "development_state",
    "brief_version",
    "development",
    "oven_version",
    "oven",
    "audit",
    "person",
)


def upgrade() -> None:
    op.create_table(
        "derived",
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("subject_id", sa.Text(), nullable=False),
        sa.Column("input_hash", sa.Text(), nullable=False),
        sa.Column("document", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("kind", "subject_id", "input_hash", name=op.f("pk_derived")),
    )
    op.create_table(
        "person",
        sa.Column("id", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=True),
        sa.Column("customer", sa.Text(), nullable=True),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_person")),
    )
    op.create_index(op.f("ix_person_name"), "person", ["name"], unique=False)
    op.create_table(
        "audit",
        sa.Column("sequence", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), autoincrement=False, nullable=False),
        sa.Column("person_id", sa.Text(), nullable=False),
        sa.Column("role", sa.Text(), nullable=False),
        sa.Column("customer", sa.Text(), nullable=True),
        sa.Column("at", UtcInstant(), nullable=False),
        sa.Column("what", sa.Text(), nullable=False),
        sa.Column("subject_kind", sa.Text(), nullable=False),
        sa.Column("subject_id", sa.Text(), nullable=False),
        sa.Column("development_id", sa.Text(), nullable=True),
        sa.Column("reason", sa.Text(), nullable=True),
        sa.Column("content_hash", sa.Text(), nullable=False),
        sa.Column("previous_hash", sa.Text(), nullable=False),
        sa.Column("entry_hash", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_audit_person_id")),
        sa.PrimaryKeyConstraint("sequence", name=op.f("pk_audit")),
        sa.UniqueConstraint("entry_hash", name=op.f("uq_audit_entry_hash")),
        sa.UniqueConstraint("previous_hash", name=op.f("uq_audit_previous_hash")),
    )
    op.create_index(op.f("ix_audit_development_id_sequence"), "audit", ["development_id", "sequence"], unique=False)
    op.create_index(op.f("ix_audit_subject_id"), "audit", ["subject_id"], unique=False)
    op.create_table(
        "import_mapping",
        sa.Column("layout", sa.Text(), nullable=False),
        sa.Column("document", sa.Text(), nullable=False),
        sa.Column("id", sa.Text(), nullable=False),
        sa.Column("client_id", sa.Text(), nullable=False),
        sa.Column("customer", sa.Text(), nullable=True),
        sa.Column("written_at", UtcInstant(), nullable=False),
        sa.Column("content_hash", sa.Text(), nullable=False),
        sa.Column("written_by", sa.Text(), nullable=False),
        sa.Column("sequence", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(["sequence"], ["audit.sequence"], name=op.f("fk_import_mapping_sequence")),
        sa.ForeignKeyConstraint(["written_by"], ["person.id"], name=op.f("fk_import_mapping_written_by")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_import_mapping")),
        sa.UniqueConstraint("sequence", name=op.f("uq_import_mapping_sequence")),
    )
    op.create_index(op.f("ix_import_mapping_layout"), "import_mapping", ["layout"], unique=False)
    op.create_table(
        "oven",
        sa.Column("id", sa.Text(), nullable=False),
        sa.Column("client_id", sa.Text(), nullable=False),
        sa.Column("customer", sa.Text(), nullable=True),
        sa.Column("written_at", UtcInstant(), nullable=False),
        sa.Column("content_hash", sa.Text(), nullable=False),
        sa.Column("written_by", sa.Text(), nullable=False),
        sa.Column("sequence", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(["sequence"], ["audit.sequence"], name=op.f("fk_oven_sequence")),
        sa.ForeignKeyConstraint(["written_by"], ["person.id"], name=op.f("fk_oven_written_by")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_oven")),
        sa.UniqueConstraint("sequence", name=op.f("uq_oven_sequence")),
    )
    op.create_index(op.f("ix_oven_customer"), "oven", ["customer"], unique=False)
    op.create_table(
        "development",
        sa.Column("oven_id", sa.Text(), nullable=False),
        sa.Column("copied_from", sa.Text(), nullable=True),
        sa.Column("id", sa.Text(), nullable=False),
        sa.Column("client_id", sa.Text(), nullable=False),
        sa.Column("customer", sa.Text(), nullable=True),
        sa.Column("written_at", UtcInstant(), nullable=False),
        sa.Column("content_hash", sa.Text(), nullable=False),
        sa.Column("written_by", sa.Text(), nullable=False),
        sa.Column("sequence", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(["oven_id"], ["oven.id"], name=op.f("fk_development_oven_id")),
        sa.ForeignKeyConstraint(["sequence"], ["audit.sequence"], name=op.f("fk_development_sequence")),
        sa.ForeignKeyConstraint(["written_by"], ["person.id"], name=op.f("fk_development_written_by")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_development")),
        sa.UniqueConstraint("sequence", name=op.f("uq_development_sequence")),
    )
    op.create_index(op.f("ix_development_customer"), "development", ["customer"], unique=False)
    op.create_index(op.f("ix_development_oven_id"), "development", ["oven_id"], unique=False)
    op.create_table(
        "oven_version",
        sa.Column("oven_id", sa.Text(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("document", sa.Text(), nullable=False),
        sa.Column("id", sa.Text(), nullable=False),
        sa.Column("client_id", sa.Text(), nullable=False),
        sa.Column("customer", sa.Text(), nullable=True),
        sa.Column("written_at", UtcInstant(), nullable=False),
        sa.Column("content_hash", sa.Text(), nullable=False),
        sa.Column("written_by", sa.Text(), nullable=False),
        sa.Column("sequence", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("number >= 1", name=op.f("ck_oven_version_number")),
        sa.ForeignKeyConstraint(["oven_id"], ["oven.id"], name=op.f("fk_oven_version_oven_id")),
        sa.ForeignKeyConstraint(["sequence"], ["audit.sequence"], name=op.f("fk_oven_version_sequence")),
        sa.ForeignKeyConstraint(["written_by"], ["person.id"], name=op.f("fk_oven_version_written_by")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_oven_version")),
        sa.UniqueConstraint("oven_id", "number", name=op.f("uq_oven_version_oven_id_number")),
        sa.UniqueConstraint("sequence", name=op.f("uq_oven_version_sequence")),
    )
    op.create_table(
        "brief_version",
        sa.Column("development_id", sa.Text(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("document", sa.Text(), nullable=False),
        sa.Column("id", sa.Text(), nullable=False),
        sa.Column("client_id", sa.Text(), nullable=False),
        sa.Column("customer", sa.Text(), nullable=True),
        sa.Column("written_at", UtcInstant(), nullable=False),
        sa.Column("content_hash", sa.Text(), nullable=False),
        sa.Column("written_by", sa.Text(), nullable=False),
        sa.Column("sequence", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("number >= 1", name=op.f("ck_brief_version_number")),
        sa.ForeignKeyConstraint(["development_id"], ["development.id"], name=op.f("fk_brief_version_development_id")),
        sa.ForeignKeyConstraint(["sequence"], ["audit.sequence"], name=op.f("fk_brief_version_sequence")),
        sa.ForeignKeyConstraint(["written_by"], ["person.id"], name=op.f("fk_brief_version_written_by")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_brief_version")),
        sa.UniqueConstraint("development_id", "number", name=op.f("uq_brief_version_development_id_number")),
        sa.UniqueConstraint("sequence", name=op.f("uq_brief_version_sequence")),
    )
    op.create_table(
        "cook",
        sa.Column("development_id", sa.Text(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("corrects", sa.Text(), nullable=True),
        sa.Column("reason", sa.Text(), nullable=True),
        sa.Column("source", sa.Text(), nullable=False),
        sa.Column("may_taste", sa.Text(), nullable=True),
        sa.Column("brief_version", sa.Integer(), nullable=False),
        sa.Column("oven_version", sa.Integer(), nullable=False),
        sa.Column("document", sa.Text(), nullable=False),
        sa.Column("id", sa.Text(), nullable=False),
        sa.Column("client_id", sa.Text(), nullable=False),
        sa.Column("customer", sa.Text(), nullable=True),
        sa.Column("written_at", UtcInstant(), nullable=False),
        sa.Column("content_hash", sa.Text(), nullable=False),
        sa.Column("written_by", sa.Text(), nullable=False),
        sa.Column("sequence", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("corrects IS NULL OR reason IS NOT NULL", name=op.f("ck_cook_reason")),
        sa.CheckConstraint("number >= 1", name=op.f("ck_cook_number")),
        sa.ForeignKeyConstraint(["corrects"], ["cook.id"], name=op.f("fk_cook_corrects")),
        sa.ForeignKeyConstraint(["development_id"], ["development.id"], name=op.f("fk_cook_development_id")),
        sa.ForeignKeyConstraint(["sequence"], ["audit.sequence"], name=op.f("fk_cook_sequence")),
        sa.ForeignKeyConstraint(["written_by"], ["person.id"], name=op.f("fk_cook_written_by")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_cook")),
        sa.UniqueConstraint("corrects", name=op.f("uq_cook_corrects")),
        sa.UniqueConstraint("sequence", name=op.f("uq_cook_sequence")),
    )
    op.create_index(op.f("ix_cook_development_id_number"), "cook", ["development_id", "number"], unique=False)
    op.create_table(
        "development_state",
        sa.Column("development_id", sa.Text(), nullable=False),
        sa.Column("state", sa.Text(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("id", sa.Text(), nullable=False),
        sa.Column("client_id", sa.Text(), nullable=False),
        sa.Column("customer", sa.Text(), nullable=True),
        sa.Column("written_at", UtcInstant(), nullable=False),
        sa.Column("content_hash", sa.Text(), nullable=False),
        sa.Column("written_by", sa.Text(), nullable=False),
        sa.Column("sequence", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("state IN ('open', 'closed', 'archived')", name=op.f("ck_development_state_state")),
        sa.ForeignKeyConstraint(["development_id"], ["development.id"], name=op.f("fk_development_state_development_id")),
        sa.ForeignKeyConstraint(["sequence"], ["audit.sequence"], name=op.f("fk_development_state_sequence")),
        sa.ForeignKeyConstraint(["written_by"], ["person.id"], name=op.f("fk_development_state_written_by")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_development_state")),
        sa.UniqueConstraint("sequence", name=op.f("uq_development_state_sequence")),
    )
    op.create_index(op.f("ix_development_state_development_id"), "development_state", ["development_id"], unique=False)
    op.create_table(
        "proposal",
        sa.Column("development_id", sa.Text(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("seed", sa.BigInteger(), nullable=False),
        sa.Column("versions", sa.Text(), nullable=False),
        sa.Column("asked", sa.Text(), nullable=False),
        sa.Column("data_hash", sa.Text(), nullable=False),
        sa.Column("brief_version", sa.Integer(), nullable=False),
        sa.Column("oven_version", sa.Integer(), nullable=False),
        sa.Column("document", sa.Text(), nullable=False),
        sa.Column("id", sa.Text(), nullable=False),
        sa.Column("client_id", sa.Text(), nullable=False),
        sa.Column("customer", sa.Text(), nullable=True),
        sa.Column("written_at", UtcInstant(), nullable=False),
        sa.Column("content_hash", sa.Text(), nullable=False),
        sa.Column("written_by", sa.Text(), nullable=False),
        sa.Column("sequence", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("kind IN ('next', 'first_day')", name=op.f("ck_proposal_kind")),
        sa.CheckConstraint("number >= 1", name=op.f("ck_proposal_number")),
        sa.ForeignKeyConstraint(["development_id"], ["development.id"], name=op.f("fk_proposal_development_id")),
        sa.ForeignKeyConstraint(["sequence"], ["audit.sequence"], name=op.f("fk_proposal_sequence")),
        sa.ForeignKeyConstraint(["written_by"], ["person.id"], name=op.f("fk_proposal_written_by")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_proposal")),
        sa.UniqueConstraint("development_id", "number", name=op.f("uq_proposal_development_id_number")),
        sa.UniqueConstraint("sequence", name=op.f("uq_proposal_sequence")),
    )
    op.create_table(
        "decision",
        sa.Column("development_id", sa.Text(), nullable=False),
        sa.Column("proposal_id", sa.Text(), nullable=False),
        sa.Column("decision", sa.Text(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("program", sa.Text(), nullable=True),
        sa.Column("id", sa.Text(), nullable=False),
        sa.Column("client_id", sa.Text(), nullable=False),
        sa.Column("customer", sa.Text(), nullable=True),
        sa.Column("written_at", UtcInstant(), nullable=False),
        sa.Column("content_hash", sa.Text(), nullable=False),
        sa.Column("written_by", sa.Text(), nullable=False),
        sa.Column("sequence", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("decision != 'change' OR program IS NOT NULL", name=op.f("ck_decision_program")),
        sa.CheckConstraint("decision IN ('accept', 'change', 'refuse')", name=op.f("ck_decision_decision")),
        sa.ForeignKeyConstraint(["development_id"], ["development.id"], name=op.f("fk_decision_development_id")),
        sa.ForeignKeyConstraint(["proposal_id"], ["proposal.id"], name=op.f("fk_decision_proposal_id")),
        sa.ForeignKeyConstraint(["sequence"], ["audit.sequence"], name=op.f("fk_decision_sequence")),
        sa.ForeignKeyConstraint(["written_by"], ["person.id"], name=op.f("fk_decision_written_by")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_decision")),
        sa.UniqueConstraint("sequence", name=op.f("uq_decision_sequence")),
    )
    op.create_index(op.f("ix_decision_development_id"), "decision", ["development_id"], unique=False)
    op.create_index(op.f("ix_decision_proposal_id"), "decision", ["proposal_id"], unique=False)

    dialect = op.get_bind().dialect.name
    if dialect == "postgresql":
        for statement in POSTGRES_FUNCTIONS:
            op.execute(statement)
    for table, keys in GUARDED.items():
        for statement in guard_statements(dialect, table, keys):
            op.execute(statement)
    for statement in person_statements(dialect):
        op.execute(statement)


def downgrade() -> None:
    for table in TABLES:
        op.drop_table(table)
    if op.get_bind().dialect.name == "postgresql":
        for statement in DROP_POSTGRES_FUNCTIONS:
            op.execute(statement)
