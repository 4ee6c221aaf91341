"""People under their pseudonyms: the name stands in one table, everything else knows the id."""

from __future__ import annotations

import uuid

from sqlalchemy import func, insert, select
from sqlalchemy.orm import Session

from tuner.store.schema import Person


class PeopleReader:
    """Finds the pseudonym of a name, and the name of a pseudonym."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def id_of(self, name: str, customer: str | None) -> str | None:
        """Pseudonym of a person, None if nothing was ever written by or for that name."""
        statement = select(func.min(Person.id)).where(Person.name == name, Person.customer.is_not_distinct_from(customer))
        return self._session.execute(statement).scalar_one()

    def names(self) -> dict[str, str | None]:
        """Name by pseudonym; None where the name was removed."""
        return dict(self._session.execute(select(Person.id, Person.name)).all())


class PeopleShelf(PeopleReader):
    """Makes pseudonyms too."""

    def known(self, name: str, customer: str | None) -> str:
        """Pseudonym of a person; made where there is none."""
        found = self.id_of(name, customer)
        if found is not None:
            return found
        made = str(uuid.uuid4())
        self._session.execute(insert(Person).values(id=made, name=name, customer=customer))
        return made
