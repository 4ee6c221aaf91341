"""Times in the database: always with a zone, always UTC inside."""

from __future__ import annotations

from datetime import UTC, datetime

from sqlalchemy import DateTime
from sqlalchemy.engine import Dialect
from sqlalchemy.types import TypeDecorator


class UtcInstant(TypeDecorator[datetime]):
    """A point in time. Naive values are refused on the way in; UTC comes out on every database."""

    impl = DateTime(timezone=True)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> datetime | None:  # noqa: ARG002
        """Turn to UTC.

        Raises
        ------
        ValueError
            If the time has no zone.
        """
        if value is None:
            return None
        if value.tzinfo is None:
            raise ValueError(f"time {value.isoformat()} has no zone. Times are kept with their zone. Pass an aware datetime")
        return value.astimezone(UTC)

    def process_result_value(self, value: datetime | None, dialect: Dialect) -> datetime | None:  # noqa: ARG002
        """Attach UTC where the database forgot it."""
        if value is None:
            return None
        return value.replace(tzinfo=UTC) if value.tzinfo is None else value.astimezone(UTC)
