"""`tuner people`: accounts listed, added, changed."""

from __future__ import annotations

import argparse
from collections.abc import Iterable
from typing import TYPE_CHECKING

from tuner.cli.entry import DONE, UsageError
from tuner.cli.passwords import asked_password
from tuner.cli.session import Session, one_of, opened
from tuner.services.people import add_account, change_account, change_password, list_people

if TYPE_CHECKING:
    from rich.console import RenderableType

    from tuner.cli.output import Output
    from tuner.domain.person import Account


def people(arguments: argparse.Namespace, output: Output) -> int:
    """Run the command."""
    with opened(arguments) as session:
        if arguments.action == "add":
            done = _added(arguments, session)
        elif arguments.action == "change":
            done = _changed(arguments, session)
        elif arguments.action == "password":
            name = arguments.name or session.who.name
            done = change_password(
                session.space, name=name, old=asked_password("old password"), new=asked_password("new password")
            )
        else:
            known = list_people(session.space, session.who)
            output.answer([_plain(one) for one in known], lambda: [_table(known)])
            return DONE
    output.answer(_plain(done), lambda: [_table((done,))])
    return DONE


def _added(arguments: argparse.Namespace, session: Session) -> Account:
    if not arguments.name:
        raise UsageError("whose account? Give --name NAME.")
    first = not list_people(session.space, session.who)
    own = None if first else asked_password(f"your password, {session.who.name}")
    return add_account(
        session.space,
        session.who,
        name=arguments.name,
        password=asked_password(f"new password of {arguments.name}"),
        roles=arguments.role or (["administrator"] if first else []),
        customer=arguments.of,
        own_password=own,
    )


def _changed(arguments: argparse.Namespace, session: Session) -> Account:
    if not arguments.name or not arguments.reason:
        raise UsageError("whose account, and why? Give --name NAME and --reason TEXT.")
    known = list_people(session.space, session.who)
    chosen = one_of(arguments.name, known, identity=lambda one: one.id, name=lambda one: one.name, what="account")
    return change_account(
        session.space,
        session.who,
        account_id=chosen.id,
        own_password=asked_password(f"your password, {session.who.name}"),
        reason=arguments.reason,
        roles=arguments.role or None,
        active=False if arguments.close else None,
    )


def _plain(account: Account) -> dict[str, object]:
    return account.model_dump(mode="json")


def _table(known: Iterable[Account]) -> RenderableType:
    from rich.table import Table

    table = Table("name", "roles", "of", "key", "")
    for one in known:
        table.add_row(one.name, ", ".join(one.roles), one.customer or "the house", one.key_id, "" if one.active else "has left")
    return table
