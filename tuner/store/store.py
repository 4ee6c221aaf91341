"""The store: opened once, shared by threads; one short session for each reading and for each unit of work."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from sqlalchemy import Engine
from sqlalchemy.orm import Session

from tuner.store.audit_trail import AuditReader
from tuner.store.connecting import make_engine
from tuner.store.cook_shelf import CookReader, CookShelf
from tuner.store.derived_shelf import DerivedShelf
from tuner.store.development_shelf import DevelopmentReader, DevelopmentShelf
from tuner.store.failures import told_in_words
from tuner.store.file_shelf import FileReader, FileShelf
from tuner.store.ledger import Ledger
from tuner.store.mapping_shelf import MappingReader, MappingShelf
from tuner.store.migrating import bring_to_head
from tuner.store.oven_shelf import OvenReader, OvenShelf
from tuner.store.people import PeopleReader, PeopleShelf
from tuner.store.proposal_shelf import ProposalReader, ProposalShelf
from tuner.store.reading import Reader
from tuner.store.record_shelf import RecordReader, RecordShelf
from tuner.store.records import WriteContext


class Reading:
    """Everything that can be read, in one consistent state, as one customer may see it."""

    def __init__(self, session: Session, customer: str | None) -> None:
        self.ovens = OvenReader(session, customer)
        self.developments = DevelopmentReader(session, customer)
        self.cooks = CookReader(session, customer)
        self.proposals = ProposalReader(session, customer)
        self.mappings = MappingReader(session, customer)
        self.records = RecordReader(session, customer)
        self.files = FileReader(session, customer)
        self.people = PeopleReader(session)
        self.audit = AuditReader(session, customer)
        self.derived = DerivedShelf(session)


class UnitOfWork:
    """Everything that is written together. Leaving the block without `commit` takes all of it back."""

    def __init__(self, session: Session, context: WriteContext) -> None:
        reader, ledger = Reader(session, context.customer), Ledger(session, context)
        self._session = session
        self.ovens = OvenShelf(reader, ledger)
        self.developments = DevelopmentShelf(reader, ledger)
        self.cooks = CookShelf(reader, ledger)
        self.proposals = ProposalShelf(reader, ledger)
        self.mappings = MappingShelf(reader, ledger)
        self.records = RecordShelf(reader, ledger)
        self.files = FileShelf(reader, ledger)
        self.people = PeopleShelf(session)
        self.audit = AuditReader(session, context.customer)
        self.derived = DerivedShelf(session)

    def commit(self) -> None:
        """Save; once this returns, what was written stays written."""
        self._session.commit()


class Store:
    """An opened database at the newest schema. Make one with `Store.open`; close it when done."""

    def __init__(self, engine: Engine) -> None:
        self._engine = engine

    @classmethod
    def open(cls, url: str) -> Store:
        """Open a database and bring it to the newest schema.

        Parameters
        ----------
        url
            `sqlite:///path/to/file` or `postgresql://user@host/name`.

        Raises
        ------
        StoreProblem
            If it can't be opened, read, or was written by a newer version of the tool.
        """
        engine, _ = make_engine(url)
        try:
            with told_in_words():
                bring_to_head(engine)
        except BaseException:
            engine.dispose()
            raise
        return cls(engine)

    def close(self) -> None:
        """Let go of all connections."""
        self._engine.dispose()

    @contextmanager
    def read(self, customer: str | None) -> Iterator[Reading]:
        """Read in one consistent state what `customer` may see; None is the house, which sees all.

        Raises
        ------
        StoreProblem
            If the database can't be read.
        """
        with told_in_words(), Session(self._engine.execution_options(read_only=True)) as session, session.begin():
            yield Reading(session, customer)

    @contextmanager
    def unit_of_work(self, context: WriteContext) -> Iterator[UnitOfWork]:
        """Write together what belongs together; nothing is kept without `commit`.

        Raises
        ------
        Conflict
            If a key exists already.
        StoreProblem
            If the database can't be written.
        """
        with told_in_words(), Session(self._engine, expire_on_commit=False) as session:
            yield UnitOfWork(session, context)
