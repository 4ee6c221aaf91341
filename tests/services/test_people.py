"""Accounts: own passwords, roles, leaving; who may change them."""

from __future__ import annotations

import pytest

from tests.services.invented import ANN, LIMIT, Clock, brief, started
from tests.services.releases import ROOT, cheap, password, with_people
from tuner.domain import Conflict, InvalidDocument, NotAllowed
from tuner.services import Actor, Workspace, edit_brief
from tuner.services.people import add_account, change_account, change_password, list_people, sign_in


@pytest.fixture
def people(space: Workspace) -> Workspace:
    quick = cheap(space)
    with_people(quick)
    return quick


def test_the_first_account_is_an_administrators(space: Workspace):
    account = add_account(cheap(space), ROOT, name="Root", password=password("Root"), roles=["developer"])
    assert account.roles == ("developer", "administrator")


def test_people_are_listed_in_the_order_they_came(people: Workspace):
    assert [one.name for one in list_people(people, ROOT)] == ["Root", "Ann", "Quinn", "Carl"]


def test_signing_in_gives_the_actor_of_the_account(people: Workspace):
    who = sign_in(people, name="quinn ", password=password("Quinn"))
    assert (who.name, who.role, who.is_approver) == ("Quinn", "food-safety approver", True)
    with pytest.raises(NotAllowed, match="has not got the role"):
        sign_in(people, name="Quinn", password=password("Quinn"), role="developer")


@pytest.mark.parametrize(("name", "given"), [("Ann", "wrong password"), ("Nobody", "wrong password"), ("Ann", "")])
def test_a_wrong_name_sounds_like_a_wrong_password(people: Workspace, name: str, given: str):
    with pytest.raises(NotAllowed, match="Name or password is wrong"):
        sign_in(people, name=name, password=given)


def test_after_five_wrong_passwords_a_name_waits(people: Workspace, clock: Clock):
    for _ in range(5):
        with pytest.raises(NotAllowed, match="wrong"):
            sign_in(people, name="Ann", password="guess guess")
    with pytest.raises(NotAllowed, match="waits"):
        sign_in(people, name="Ann", password=password("Ann"))
    clock.forward(minutes=6)
    assert sign_in(people, name="Ann", password=password("Ann")).name == "Ann"


def test_only_an_administrator_with_the_right_password_adds_people(people: Workspace):
    new = {"name": "Dora", "password": "a long password", "roles": ["site cook"]}
    for who, own in ((ANN, password("Ann")), (ROOT, "wrong"), (ROOT, None)):
        with pytest.raises(NotAllowed):
            add_account(people, who, own_password=own, **new)  # type: ignore[arg-type]
    assert add_account(people, ROOT, own_password=password("Root"), **new).name == "Dora"  # type: ignore[arg-type]


@pytest.mark.parametrize("name", ["Ann", "ann", " ANN "])
def test_a_name_is_taken_once(people: Workspace, name: str):
    with pytest.raises(Conflict, match="account of that name"):
        add_account(people, ROOT, name=name, password="a long password", roles=["developer"], own_password=password("Root"))


@pytest.mark.parametrize("given", ["short", "aaaaaaaaaaaa", "Dorothea K", "x" * 201])
def test_weak_passwords_are_refused(people: Workspace, given: str):
    with pytest.raises(InvalidDocument, match="password"):
        add_account(people, ROOT, name="Dorothea K", password=given, roles=["developer"], own_password=password("Root"))


@pytest.mark.parametrize("roles", [[], ["chief"]])
def test_roles_are_those_that_exist(people: Workspace, roles: list[str]):
    with pytest.raises(InvalidDocument, match="Give one or more of"):
        add_account(people, ROOT, name="Dora", password="a long password", roles=roles, own_password=password("Root"))  # type: ignore[arg-type]


def test_a_person_changes_their_password_and_keeps_their_key(people: Workspace):
    before = next(one for one in list_people(people, ROOT) if one.name == "Ann")
    after = change_password(people, name="Ann", old=password("Ann"), new="another long one")
    assert after.public_key == before.public_key
    with pytest.raises(NotAllowed):
        sign_in(people, name="Ann", password=password("Ann"))
    assert sign_in(people, name="Ann", password="another long one").account_id == before.id


def test_a_forgotten_password_brings_a_new_key(people: Workspace):
    ann = next(one for one in list_people(people, ROOT) if one.name == "Ann")
    given = {"account_id": ann.id, "own_password": password("Root"), "reason": "forgot"}
    after = change_account(people, ROOT, new_password="another long one", **given)
    assert after.public_key != ann.public_key


def test_whoever_left_signs_in_no_more(people: Workspace):
    ann = next(one for one in list_people(people, ROOT) if one.name == "Ann")
    change_account(people, ROOT, account_id=ann.id, own_password=password("Root"), reason="left", active=False)
    with pytest.raises(NotAllowed, match="closed"):
        sign_in(people, name="Ann", password=password("Ann"))


def test_the_last_administrator_stays(people: Workspace):
    root = next(one for one in list_people(people, ROOT) if one.name == "Root")
    given = {"account_id": root.id, "own_password": password("Root"), "reason": "tired"}
    for change in ({"active": False}, {"roles": ["developer"]}):
        with pytest.raises(NotAllowed, match="no active administrator"):
            change_account(people, ROOT, **given, **change)  # type: ignore[arg-type]


def test_another_customer_does_not_see_the_house(space: Workspace):
    quick = cheap(space)
    with_people(quick, customer="Vale")
    assert [one.name for one in list_people(quick, Actor("Vi", customer="Vale"))] == ["Carl"]
    assert list_people(quick, Actor("Nils", customer="North")) == ()


def test_no_secret_is_in_the_list(people: Workspace):
    shown = " ".join(one.model_dump_json() for one in list_people(people, ROOT))
    assert "argon2" not in shown
    assert "sealed" not in shown


LOWER = {"core_temperature_c": 68, "hold_s": 17, "rule": "local rule", "approved_by": "Quinn"}


def test_with_accounts_the_approvers_role_is_taken_by_signing_in(people: Workspace):
    view = started(people)
    claimed = Actor("Quinn", role="food-safety approver")
    with pytest.raises(NotAllowed, match="signing in"):
        edit_brief(people, claimed, development_id=view.id, brief=brief(critical_limit=LOWER))
    signed_in = sign_in(people, name="Quinn", password=password("Quinn"))
    changed = edit_brief(people, signed_in, development_id=view.id, brief=brief(critical_limit=LOWER))
    assert changed.limit.core_temperature_c == 68


def test_an_approver_who_develops_can_not_lower_the_limit(people: Workspace):
    signed_in = sign_in(people, name="Quinn", password=password("Quinn"))
    view = started(people, signed_in, critical_limit={**LIMIT, "approved_by": "Root"})
    with pytest.raises(NotAllowed, match="not taken from the recipe's developer"):
        edit_brief(people, signed_in, development_id=view.id, brief=brief(critical_limit={**LOWER, "approved_by": "Root"}))
