"""Records of any kind, and kept files."""

import sqlalchemy as sa
from alembic import op

from tuner.store.instants import UtcInstant
from tuner.store.triggers import guard_statements

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None

GUARDED = {"record": (("id",), ("sequence",), ("corrects",)), "kept_file": (("id",), ("sequence",))}
SEQUENCE = sa.BigInteger().with_variant(sa.Integer(), "sqlite")


def upgrade() -> None:
    op.create_table(
        "record",
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("development_id", sa.Text(), nullable=True),
        sa.Column("about", sa.Text(), nullable=True),
        sa.Column("schema_version", sa.Integer(), nullable=False),
        sa.Column("corrects", sa.Text(), nullable=True),
        sa.Column("reason", sa.Text(), nullable=True),
        sa.Column("document", sa.Text(), nullable=False),
        sa.Column("id", sa.Text(), nullable=False),
        sa.Column("client_id", sa.Text(), nullable=False),
        sa.Column("customer", sa.Text(), nullable=True),
        sa.Column("written_at", UtcInstant(), nullable=False),
        sa.Column("content_hash", sa.Text(), nullable=False),
        sa.Column("written_by", sa.Text(), nullable=False),
        sa.Column("sequence", SEQUENCE, nullable=False),
        sa.CheckConstraint("corrects IS NULL OR reason IS NOT NULL", name=op.f("ck_record_reason")),
        sa.CheckConstraint("schema_version >= 1", name=op.f("ck_record_schema_version")),
        sa.ForeignKeyConstraint(["corrects"], ["record.id"], name=op.f("fk_record_corrects")),
        sa.ForeignKeyConstraint(["development_id"], ["development.id"], name=op.f("fk_record_development_id")),
        sa.ForeignKeyConstraint(["sequence"], ["audit.sequence"], name=op.f("fk_record_sequence")),
        sa.ForeignKeyConstraint(["written_by"], ["person.id"], name=op.f("fk_record_written_by")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_record")),
        sa.UniqueConstraint("corrects", name=op.f("uq_record_corrects")),
        sa.UniqueConstraint("sequence", name=op.f("uq_record_sequence")),
    )
    op.create_index(op.f("ix_record_development_id_kind"), "record", ["development_id", "kind"], unique=False)
    op.create_index(op.f("ix_record_kind_about"), "record", ["kind", "about"], unique=False)
    op.create_table(
        "kept_file",
        sa.Column("development_id", sa.Text(), nullable=True),
        sa.Column("media_type", sa.Text(), nullable=False),
        sa.Column("sha256", sa.Text(), nullable=False),
        sa.Column("data", sa.LargeBinary(), nullable=False),
        sa.Column("id", sa.Text(), nullable=False),
        sa.Column("client_id", sa.Text(), nullable=False),
        sa.Column("customer", sa.Text(), nullable=True),
        sa.Column("written_at", UtcInstant(), nullable=False),
        sa.Column("content_hash", sa.Text(), nullable=False),
        sa.Column("written_by", sa.Text(), nullable=False),
        sa.Column("sequence", SEQUENCE, nullable=False),
        sa.ForeignKeyConstraint(["development_id"], ["development.id"], name=op.f("fk_kept_file_development_id")),
        sa.ForeignKeyConstraint(["sequence"], ["audit.sequence"], name=op.f("fk_kept_file_sequence")),
        sa.ForeignKeyConstraint(["written_by"], ["person.id"], name=op.f("fk_kept_file_written_by")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_kept_file")),
        sa.UniqueConstraint("sequence", name=op.f("uq_kept_file_sequence")),
    )
    op.create_index(op.f("ix_kept_file_sha256"), "kept_file", ["sha256"], unique=False)
    dialect = op.get_bind().dialect.name
    for table, keys in GUARDED.items():
        for statement in guard_statements(dialect, table, keys):
            op.execute(statement)


def downgrade() -> None:
    for table in GUARDED:
        op.drop_table(table)
