"""People with accounts: added, known again by their password, given roles, taken out.

The first account is an administrator's. From then on accounts are changed by administrators, who give their own password each
time. An account stands in the records under the person's pseudonym; the name is found in one table only.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from tuner.domain import Conflict, InvalidDocument, NotAllowed
from tuner.domain.person import ROLES, Account, Role
from tuner.services.actor import APPROVER, Actor
from tuner.services.limit_rules import same_person
from tuner.services.signing import Secrets, checked_password, new_secrets, password_fits, with_new_password
from tuner.services.texts import LONGEST_NAME, checked_reason, checked_text, given_or_made_id
from tuner.services.workspace import Workspace
from tuner.store import KeptRecord, Plain, Reading, RecordEntry, UnitOfWork

KIND = "account"


@dataclass(frozen=True, slots=True)
class KnownAccount:
    """An account with its secrets and the record it stands in."""

    account: Account
    secrets: Secrets
    record: KeptRecord


def list_people(space: Workspace, who: Actor) -> tuple[Account, ...]:
    """Accounts this person may see, in the order they were added; those who left included."""
    with space.store.read(who.customer) as reading:
        return tuple(known.account for known in _accounts(reading))


def add_account(
    space: Workspace,
    who: Actor,
    *,
    name: str,
    password: str,
    roles: Iterable[Role],
    customer: str | None = None,
    own_password: str | None = None,
    client_id: str | None = None,
) -> Account:
    """Add a named account. The first one of a workspace needs nobody's leave and is an administrator's.

    Parameters
    ----------
    password
        The new person's own; they may change it.
    customer
        Whose people they belong to, None for the house.
    own_password
        Password of the administrator who adds the account.

    Raises
    ------
    Conflict
        If the name is taken.
    InvalidDocument
        If the name, a role or the password is not legal.
    NotAllowed
        If whoever adds it is no administrator, or gave the wrong password.
    """
    given = checked_text("name", name, LONGEST_NAME)
    wanted = _checked_roles(roles)
    secrets = new_secrets(checked_password(password, given), space.password_cost)
    with space.store.read(None) as reading:
        first = not _accounts(reading)
    if not first:
        refuse_no_administrator(space, who, own_password)
    with space.store.unit_of_work(space.context(Actor(who.name, None, who.role))) as work:
        known = _accounts(work)
        if first and known:
            raise Conflict("Somebody else added the first account meanwhile. Sign in as an administrator and add yours.")
        if any(same_person(one.account.name, given) for one in known):
            raise Conflict(
                f"name is {given!r}, and there is an account of that name. Names are told apart by more than capitals."
            )
        content: dict[str, Plain] = {
            "person_id": work.people.known(given, customer),
            "roles": list(dict.fromkeys((*wanted, "administrator")) if first else wanted),
            "active": True,
            **_kept_secrets(secrets),
        }
        added = work.records.add_general(RecordEntry(KIND, content, given_or_made_id(client_id)), customer=customer)
        account = _account(work.records.one(added.id), work.people.names())
        work.commit()
    return account


def sign_in(space: Workspace, *, name: str, password: str, role: Role | None = None) -> Actor:
    """The actor for a person who gave the right password, in one of their roles (the first by default).

    Raises
    ------
    NotAllowed
        If name or password is wrong, the person has left, was tried too often, or has not got that role.
    """
    known = checked(space, name, password)
    chosen = role or known.account.roles[0]
    if chosen not in known.account.roles:
        raise NotAllowed(
            f"{known.account.name} has not got the role {chosen!r}. Roles there: {', '.join(known.account.roles)}."
        )
    return Actor(known.account.name, known.account.customer, chosen, known.account.id)


def checked(space: Workspace, name: str, password: str) -> KnownAccount:
    """The account of a person who gave the right password.

    Raises
    ------
    NotAllowed
        If name or password is wrong (both sound the same), the person has left, or was tried too often.
    """
    now = space.clock()
    key = " ".join(name.split()).casefold()
    space.throttle.check(key, now)
    with space.store.read(None) as reading:
        known = next((one for one in _accounts(reading) if one.account.active and same_person(one.account.name, name)), None)
    # Without an account the same work is done, so that the time taken does not tell which names exist.
    fits = password_fits(known.secrets if known else _nobody(space), password, space.password_cost)
    space.throttle.note(key, right=fits and known is not None, now=now)
    if known is None or not fits:
        raise NotAllowed("Name or password is wrong, or the account is closed. Type both again.")
    return known


def change_password(space: Workspace, *, name: str, old: str, new: str) -> Account:
    """Give oneself another password; the signing key stays the same.

    Raises
    ------
    InvalidDocument
        If the new password is not legal.
    NotAllowed
        If the old one is wrong.
    """
    known = checked(space, name, old)
    secrets = with_new_password(known.secrets, old, checked_password(new, name), space.password_cost)
    who = Actor(known.account.name, known.account.customer)
    return _corrected(space, who, known, _kept_secrets(secrets), "password changed by the person")


def change_account(
    space: Workspace,
    who: Actor,
    *,
    account_id: str,
    own_password: str,
    reason: str,
    roles: Sequence[Role] | None = None,
    active: bool | None = None,
    new_password: str | None = None,
) -> Account:
    """Give other roles, close or open an account, or set a new password for somebody who forgot theirs.

    A new password brings a new signing key: what the old one signed stays signed.

    Raises
    ------
    InvalidDocument
        If a role, the reason or the password is not legal.
    NotAllowed
        If whoever changes it is no administrator, gave the wrong password, or would leave no active administrator.
    """
    given = checked_reason(reason)
    refuse_no_administrator(space, who, own_password)
    with space.store.read(None) as reading:
        known = account_by_id(reading, account_id)
        others = [one.account for one in _accounts(reading) if one.account.id != account_id]
    changes: dict[str, Plain] = {}
    if roles is not None:
        changes["roles"] = list(_checked_roles(roles))
    if active is not None:
        changes["active"] = active
    if new_password is not None:
        made = new_secrets(checked_password(new_password, known.account.name), space.password_cost)
        changes.update(_kept_secrets(made))
    stays = changes.get("active", known.account.active) and "administrator" in (roles or known.account.roles)
    if not stays and not any(one.active and "administrator" in one.roles for one in others):
        raise NotAllowed("This would leave no active administrator. Give somebody else that role first.")
    return _corrected(space, Actor(who.name), known, changes, given)


def refuse_no_administrator(space: Workspace, who: Actor, own_password: str | None) -> None:
    """Refuse anybody but an administrator of the house with the right password.

    Raises
    ------
    NotAllowed
        If the person is none, or the password is missing or wrong.
    """
    known = checked(space, who.name, own_password or "")
    if "administrator" not in known.account.roles or known.account.customer is not None:
        raise NotAllowed(f"{known.account.name} is no administrator of the house. Accounts are changed by one. Ask one.")


def refuse_unknown_approver(reading: Reading | UnitOfWork, who: Actor) -> None:
    """Refuse the food-safety role to somebody who did not sign in, once there are accounts.

    Raises
    ------
    NotAllowed
        If accounts exist and this person is not signed in to one with that role.
    """
    if not who.is_approver:
        return
    known = _accounts(reading)
    mine = next((one.account for one in known if one.account.id == who.account_id), None)
    if known and (mine is None or not mine.active or APPROVER not in mine.roles or not same_person(mine.name, who.name)):
        raise NotAllowed(f"{who.name} is not signed in as {APPROVER}. With accounts, that role is taken by signing in.")


def account_by_id(reading: Reading | UnitOfWork, account_id: str) -> KnownAccount:
    """The account of that id as it is now.

    Raises
    ------
    InvalidDocument
        If there is none.
    """
    known = next((one for one in _accounts(reading) if one.account.id == account_id), None)
    if known is None:
        raise InvalidDocument([f"account {account_id!r} is not known. Take an id from the list of people."])
    return known


def active_accounts(reading: Reading | UnitOfWork) -> tuple[Account, ...]:
    """Accounts of people who have not left."""
    return tuple(one.account for one in _accounts(reading) if one.account.active)


def _accounts(reading: Reading | UnitOfWork) -> list[KnownAccount]:
    names = reading.people.names()
    rows = reading.records.of_kind(KIND, current_only=True)
    known = [KnownAccount(_account(row, names), _secrets(row), row) for row in rows]
    first = {row.content["person_id"]: row.stamp.sequence for row in reversed(reading.records.of_kind(KIND))}
    return sorted(known, key=lambda one: first[one.account.id])


def _account(row: KeptRecord, names: dict[str, str | None]) -> Account:
    person_id = row.content["person_id"]
    return Account(
        id=person_id,
        name=names.get(person_id) or "(name removed)",
        customer=row.customer,
        roles=tuple(row.content["roles"]),
        active=row.content["active"],
        key_id=_secrets(row).key_id,
        public_key=row.content["public_key"],
    )


def _secrets(row: KeptRecord) -> Secrets:
    return Secrets(row.content["password_hash"], row.content["sealed_key"], row.content["public_key"])


def _kept_secrets(secrets: Secrets) -> dict[str, str]:
    return {"password_hash": secrets.password_hash, "sealed_key": secrets.sealed_key, "public_key": secrets.public_key}


def _corrected(space: Workspace, who: Actor, known: KnownAccount, changes: Mapping[str, Plain], reason: str) -> Account:
    content = {**known.record.content, **changes}
    entry = RecordEntry(KIND, content, given_or_made_id(None), corrects=known.record.id, reason=reason)
    with space.store.unit_of_work(space.context(who)) as work:
        added = work.records.add_general(entry, customer=known.record.customer)
        account = _account(work.records.one(added.id), work.people.names())
        work.commit()
    return account


def _checked_roles(roles: Iterable[Role]) -> tuple[Role, ...]:
    given = tuple(dict.fromkeys(roles))
    unknown = [role for role in given if role not in ROLES]
    if unknown or not given:
        raise InvalidDocument([f"roles are {', '.join(given) or 'missing'}. Give one or more of: {', '.join(ROLES)}."])
    return given


def _nobody(space: Workspace) -> Secrets:
    return new_secrets("nobody has this password", space.password_cost)
