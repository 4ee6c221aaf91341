"""Reading rows of one customer, and turning kept text back into domain objects."""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any, TypeVar

from pydantic import ValidationError
from sqlalchemy import Row, Select, select
from sqlalchemy.orm import Session

from tuner.domain import NotFound, StoreProblem
from tuner.domain.model import Model
from tuner.store.records import Stamp
from tuner.store.schema import Person, Written

FORGOTTEN = "(name removed)"
"""Shown for a person whose name was taken out."""

ModelT = TypeVar("ModelT", bound=Model)
WrittenT = TypeVar("WrittenT", bound=Written)


class Reader:
    """Base of everything that reads: one session, one customer's view (None: the house, which sees all)."""

    def __init__(self, session: Session, customer: str | None) -> None:
        self._session = session
        self._customer = customer

    def _rows(self, table: type[WrittenT], *, everyones: bool = False) -> Select[WrittenT, str | None, str | None]:
        """Rows of a table with the name and customer of who wrote them, kept to what this customer may see."""
        statement = select(table, Person.name, Person.customer).join(Person, Person.id == table.written_by)
        if self._customer is not None and not everyones:
            statement = statement.where(table.customer == self._customer)
        return statement

    def _fetch(self, statement: Select[WrittenT, str | None, str | None]) -> list[tuple[WrittenT, Stamp]]:
        return [(row[0], stamp_of(row)) for row in self._session.execute(statement)]


def stamp_of(row: Row[Any, str | None, str | None]) -> Stamp:
    """Who wrote a row, when and in which order."""
    written: Written = row[0]
    return Stamp(written.sequence, written.client_id, written.written_at, row[1] or FORGOTTEN, row[2])


def read_document(model: type[ModelT], text: str, what: str) -> ModelT:
    """A domain object from its kept text.

    Raises
    ------
    StoreProblem
        If the text is no longer a legal document: somebody or something changed it.
    """
    try:
        return model.model_validate_json(text)
    except ValidationError as error:
        raise StoreProblem(
            f"{what} in the database can't be read any more. Kept documents are never changed by the tool, so the file was "
            "damaged or edited. Restore a backup."
        ) from error


def read_plain(text: str) -> dict[str, Any]:
    """A mapping from its kept text."""
    plain: dict[str, Any] = json.loads(text)
    return plain


def the_one(found: Iterable[WrittenT], what: str, identity: str) -> WrittenT:
    """The single thing found.

    Raises
    ------
    NotFound
        If there is none, or none this customer may see: both sound the same.
    """
    one = next(iter(found), None)
    if one is None:
        raise no_such(what, identity)
    return one


def no_such(what: str, identity: str) -> NotFound:
    """The error for an id nothing is kept under, or nothing this customer may see: both sound the same."""
    return NotFound(f"No {what} has the id {identity!r}. It may have been mistyped, or belong to somebody else. Check the id.")
