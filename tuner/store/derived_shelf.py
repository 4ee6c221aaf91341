"""Answers kept to save computing them again. They are no part of the record and are in no export."""

from __future__ import annotations

from sqlalchemy import delete, insert, select
from sqlalchemy.orm import Session

from tuner.store.schema import DerivedRow


class DerivedShelf:
    """Keeps the newest answers of a kind for a subject, each under the hash of what it was computed from."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def get(self, kind: str, input_hash: str) -> str | None:
        """The kept answer to exactly this input, None if there is none."""
        return self._session.scalar(
            select(DerivedRow.document).where(DerivedRow.kind == kind, DerivedRow.input_hash == input_hash).limit(1)
        )

    def put(self, kind: str, subject_id: str, input_hash: str, document: str) -> None:
        """Keep an answer; older answers of the kind for the same subject are dropped."""
        self._session.execute(delete(DerivedRow).where(DerivedRow.kind == kind, DerivedRow.subject_id == subject_id))
        self._session.execute(
            insert(DerivedRow).values(kind=kind, subject_id=subject_id, input_hash=input_hash, document=document)
        )
