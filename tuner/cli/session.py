"""One opened workspace for one command: who acts, and which development, cook, oven or proposal is meant."""

from __future__ import annotations

import argparse
import contextlib
import getpass
import os
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TypeVar

from tuner import services
from tuner.cli.documents import read_model
from tuner.cli.entry import UsageError
from tuner.domain import NotFound, Oven
from tuner.services import Actor, CookRecord, DevelopmentSummary, DevelopmentView, OvenRecord, ProposalRecord, Workspace

DEFAULT_FILE = "tuner.sqlite"
"""Workspace in the current folder where neither --db nor $TUNER_DB names one."""

LEAST_PART = 3
"""Letters of a name that are enough to look for it anywhere in names."""

Named = TypeVar("Named")


def workspace_url(db: str | None) -> str:
    """Address of the workspace: a URL as it is, a file name as an SQLite file, absolute so that it holds in any folder."""
    chosen = db or os.environ.get("TUNER_DB") or DEFAULT_FILE
    if "://" not in chosen:
        return f"sqlite:///{Path(chosen).resolve()}"
    path = chosen.removeprefix("sqlite:///")
    return f"sqlite:///{Path(path).resolve()}" if path != chosen and path else chosen


def _actor(arguments: argparse.Namespace) -> Actor:
    name = arguments.actor or os.environ.get("TUNER_USER")
    if not name:
        try:
            name = getpass.getuser()
        except (KeyError, OSError):  # a machine account without a name
            raise UsageError("who are you? Give --as NAME, or set TUNER_USER.") from None
    return Actor(name=name, customer=arguments.customer)


@dataclass(frozen=True, slots=True)
class Session:
    """An opened workspace and who acts on it."""

    space: Workspace
    who: Actor
    url: str


@contextlib.contextmanager
def opened(arguments: argparse.Namespace) -> Iterator[Session]:
    """Open the workspace that was asked for, for one block.

    Raises
    ------
    TunerError
        If it can't be opened.
    """
    url = workspace_url(arguments.db)
    space = services.open_workspace(url)
    try:
        yield Session(space, _actor(arguments), url)
    finally:
        space.close()


def one_of(
    text: str, entries: Sequence[Named], *, identity: Callable[[Named], str], name: Callable[[Named], str], what: str
) -> Named:
    """The entry whose id is `text` or begins with it, or whose name it is; of names also a part that no other has.

    Raises
    ------
    NotFound
        If there is none, or more than one.
    """
    wanted = text.strip().casefold()
    ways: tuple[Callable[[Named], bool], ...] = (
        lambda entry: identity(entry).casefold() == wanted,
        lambda entry: name(entry).casefold() == wanted,
        lambda entry: identity(entry).casefold().startswith(wanted),
        lambda entry: name(entry).casefold().startswith(wanted),
        lambda entry: len(wanted) >= LEAST_PART and wanted in name(entry).casefold(),
    )
    for way in ways:
        found = [entry for entry in entries if way(entry)]
        if len(found) == 1:
            return found[0]
        if found:
            names = "; ".join(f"{identity(entry)[:8]} {name(entry)}" for entry in found)
            raise NotFound(f"{text!r} fits {len(found)} {what}s: {names}. Give more of the id.")
    known = ", ".join(sorted({name(entry) for entry in entries})) or "none yet"
    raise NotFound(f"no {what} is called {text!r}. Known here: {known}. Give an id, its beginning, or the name.")


def chosen_development(session: Session, text: str | None) -> str:
    """Id of the development that is meant; the only open one needs no name.

    Raises
    ------
    NotFound
        If none fits, or more than one.
    UsageError
        If nothing was named and there is not exactly one open development.
    """
    kept = services.list_developments(session.space, session.who, include_archived=True)
    if text is not None:
        return one_of(text, kept, identity=_id, name=_dish, what="development").id
    going_on = [summary for summary in kept if summary.status not in {"closed", "archived"}]
    if len(going_on) == 1:
        return going_on[0].id
    if not going_on:
        raise UsageError("there is no open development here. Start one with `tuner start BRIEF.json --oven OVEN.json`.")
    names = ", ".join(summary.dish for summary in going_on)
    raise UsageError(f"which development? Open are: {names}. Give -d DEVELOPMENT.")


def _id(entry: DevelopmentSummary | OvenRecord | ProposalRecord) -> str:
    return entry.id


def _dish(summary: DevelopmentSummary) -> str:
    return summary.dish


def viewed(session: Session, text: str | None) -> DevelopmentView:
    """The development that is meant, with everything about it; see `chosen_development`."""
    return services.view_development(session.space, session.who, development_id=chosen_development(session, text))


def oven_id(session: Session, text: str) -> str:
    """Id of the oven that is meant: a kept one by id or name, or one described in a file, which is kept.

    Raises
    ------
    NotFound
        If it is neither a file nor a kept oven.
    """
    kept = services.list_ovens(session.space, session.who)
    if not _is_file(text):
        return one_of(text, kept, identity=_id, name=_oven_name, what="oven").id
    described = read_model(text, Oven)
    same = next((record.id for record in kept if record.oven == described), None)
    return same or services.add_oven(session.space, session.who, oven=described).id


def described_oven(session: Session, text: str) -> Oven:
    """The oven that is meant, read from a file or kept; nothing is saved.

    Raises
    ------
    NotFound
        If it is neither a file nor a kept oven.
    """
    if _is_file(text):
        return read_model(text, Oven)
    kept = services.list_ovens(session.space, session.who)
    return one_of(text, kept, identity=_id, name=_oven_name, what="oven").oven


def _is_file(text: str) -> bool:
    return text == "-" or text.endswith(".json") or Path(text).is_file()


def _oven_name(record: OvenRecord) -> str:
    return record.oven.name


def chosen_cook(view: DevelopmentView, text: str) -> CookRecord:
    """The cook that is meant, by number or id; of a corrected one the row that holds now.

    Raises
    ------
    NotFound
        If there is no such cook.
    """
    by_number = [record for record in view.current_cooks if str(record.number) == text.strip().lstrip("#")]
    if len(by_number) == 1:
        return by_number[0]
    return one_of(
        text, view.current_cooks, identity=lambda record: record.id, name=lambda record: str(record.number), what="cook"
    )


def chosen_proposal(view: DevelopmentView, text: str | None) -> ProposalRecord:
    """The proposal that is meant, by id or number; the only open one needs no name.

    Raises
    ------
    NotFound
        If there is no such proposal.
    UsageError
        If nothing was named and there is not exactly one open proposal.
    """
    if text is not None:
        return one_of(text, view.proposals, identity=_id, name=lambda record: str(record.number), what="proposal")
    waiting = view.open_proposals
    if len(waiting) == 1:
        return waiting[0]
    if not waiting:
        raise UsageError("no proposal waits for a decision. Ask for one with `tuner next`.")
    raise UsageError(f"{len(waiting)} proposals wait for a decision. Give --proposal with one of their numbers or ids.")
