"""An opened store with its clock and its memory: what every use case works on."""

from __future__ import annotations

import os
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from tuner.domain import Assessment, Feasibility
from tuner.services.actor import Actor
from tuner.services.memory import Memory
from tuner.services.password_cost import PasswordCost
from tuner.services.throttle import Throttle
from tuner.store import Store, WriteContext

if TYPE_CHECKING:
    from tuner.learning import Learned
    from tuner.services.loading import Loaded

DEFAULT_FILE = "tuner.sqlite"
URL_VARIABLE = "TUNER_DB"


def _now() -> datetime:
    return datetime.now(UTC)


@dataclass(frozen=True, slots=True)
class Workspace:
    """Opened work; made by `open_workspace`, safe to share between threads: sessions of the database live inside use cases.

    Attributes
    ----------
    store
        Where everything is kept.
    clock
        Tells the time of writes.
    loaded
        Developments as they were read lately, by id and token: the token changes with every write.
    learned, assessments, feasibilities
        What was computed lately, by the hash of what it was computed from.
    throttle
        Wrong passwords lately, by name.
    password_cost
        What one try of a password costs.
    """

    store: Store
    clock: Callable[[], datetime]
    loaded: Memory[Loaded] = field(default_factory=lambda: Memory(256))
    learned: Memory[Learned] = field(default_factory=lambda: Memory(16))
    assessments: Memory[Assessment] = field(default_factory=lambda: Memory(512))
    feasibilities: Memory[Feasibility] = field(default_factory=lambda: Memory(256))
    throttle: Throttle = field(default_factory=Throttle)
    password_cost: PasswordCost = field(default_factory=PasswordCost)

    def context(self, who: Actor) -> WriteContext:
        """Who writes, for whom, in which role, and when."""
        return WriteContext(who.name, who.customer, who.role, self.clock())

    def close(self) -> None:
        """Let go of the store."""
        self.store.close()


def open_workspace(url: str | None = None, *, clock: Callable[[], datetime] | None = None) -> Workspace:
    """Open the work kept in a database, which is made if it is new and brought to the newest schema if it is old.

    Parameters
    ----------
    url
        `sqlite:///path`, `postgresql://user@host/name`, or a bare path of a file. None: `$TUNER_DB`, and where that is not
        set the file `tuner.sqlite` in the current folder.
    clock
        Tells the time of writes, with its zone; the system's by default.

    Raises
    ------
    StoreProblem
        If it can't be opened; says why and what to do.
    """
    address = url or os.environ.get(URL_VARIABLE) or DEFAULT_FILE
    if "://" not in address:
        address = f"sqlite:///{Path(address).expanduser().absolute()}"
    return Workspace(Store.open(address), clock or _now)
