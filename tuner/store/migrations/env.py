"""Runs migrations on the connection that was handed over; the transaction belongs to the caller."""

from typing import Literal

from alembic import context
from alembic.autogenerate.api import AutogenContext

from tuner.store.instants import UtcInstant
from tuner.store.schema import Base


def render_item(kind: str, item: object, autogen_context: AutogenContext) -> str | Literal[False]:
    """Write our own types by their name in migrations."""
    if kind == "type" and isinstance(item, UtcInstant):
        autogen_context.imports.add("from tuner.store.instants import UtcInstant")
        return "UtcInstant()"
    return False


context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=Base.metadata,
    render_as_batch=True,
    transactional_ddl=True,
    render_item=render_item,
)
with context.begin_transaction():
    context.run_migrations()
