"""Developments: started, copied, their briefs edited, closed and opened again."""

from __future__ import annotations

from typing import Literal

from tuner.domain import Assessment, Brief, Conflict, NotAllowed
from tuner.services.actor import Actor
from tuner.services.brief_checks import refuse_unconfirmed
from tuner.services.documents import changed
from tuner.services.knowing import assessment_of
from tuner.services.limit_rules import asks_for_less, refuse_own_approval, without_limit
from tuner.services.loading import load, refuse_unless_open
from tuner.services.people import refuse_unknown_approver
from tuner.services.texts import checked_reason, given_or_made_id
from tuner.services.viewing import view_development
from tuner.services.views import DevelopmentState, DevelopmentView
from tuner.services.workspace import Workspace
from tuner.store import document_text


def start_development(
    space: Workspace, who: Actor, *, brief: Brief, oven_id: str, client_id: str | None = None
) -> DevelopmentView:
    """Start a development: one brief on its way, on one oven.

    Raises
    ------
    Conflict
        If the client's id was used before with another brief or oven.
    NeedsConfirmation
        If the brief holds unlikely values that are not confirmed.
    NotAllowed
        If it asks for less than the default critical limit, names its developer as approver, or belongs to another customer.
    NotFound
        If there is no such oven, or none this person may see.
    """
    customer = owner_of(brief, who)
    refuse_own_approval(brief, who, developer=who.name)
    refuse_unconfirmed(brief)
    with space.store.unit_of_work(space.context(who)) as work:
        refuse_unknown_approver(work, who)
        work.ovens.current(oven_id)
        added = work.developments.start(brief, client_id=given_or_made_id(client_id), customer=customer, oven_id=oven_id)
        work.commit()
    return view_development(space, who, development_id=added.id)


def owner_of(brief: Brief, who: Actor) -> str | None:
    """Customer a brief is kept for: the person's own, else the one the brief names.

    Raises
    ------
    NotAllowed
        If the person belongs to one customer and the brief to another.
    """
    if who.customer is None:
        return brief.customer
    if brief.customer not in (None, who.customer):
        raise NotAllowed(
            f"customer is {brief.customer!r}, and you work for {who.customer!r}. A brief is kept for one's own customer. "
            "Correct the customer, or leave it out."
        )
    return who.customer


def copy_development(
    space: Workspace, who: Actor, *, development_id: str, dish: str | None = None, client_id: str | None = None
) -> DevelopmentView:
    """Start a new development from the brief and the oven of another one; cooks stay where they were cooked.

    A limit below the default of the food class is not copied: it was approved for the other dish.

    Parameters
    ----------
    dish
        Name of the new dish; the old one by default.

    Raises
    ------
    InvalidDocument
        If the name is no legal dish.
    NotAllowed
        If the brief names the person, who becomes the developer of the copy, as approver of its limit.
    NotFound
        If there is no such development, or none this person may see.
    """
    source = load(space, who, development_id)
    brief = _copied_brief(source.brief, dish)
    refuse_own_approval(brief, who, developer=who.name)
    with space.store.unit_of_work(space.context(who)) as work:
        added = work.developments.start(
            brief,
            client_id=given_or_made_id(client_id),
            customer=source.development.customer,
            oven_id=source.development.oven_id,
            copied_from=development_id,
        )
        work.commit()
    return view_development(space, who, development_id=added.id)


def _copied_brief(brief: Brief, dish: str | None) -> Brief:
    fields = {} if dish is None else {"dish": dish}
    return changed(without_limit(brief) if asks_for_less(brief) else brief, **fields)


def edit_brief(
    space: Workspace,
    who: Actor,
    *,
    development_id: str,
    brief: Brief,
    expected_version: int | None = None,
    client_id: str | None = None,
) -> DevelopmentView:
    """Keep a brief as a new version; the same brief again changes nothing.

    Parameters
    ----------
    expected_version
        Version that was edited; somebody else's version meanwhile is a conflict. None edits whatever is newest.

    Raises
    ------
    Conflict
        If somebody else was faster.
    NeedsConfirmation
        If the brief holds unlikely values that are not confirmed.
    NotAllowed
        If the development is closed, or the limit is not this person's to set.
    NotFound
        If there is no such development, or none this person may see.
    """
    refuse_unconfirmed(brief)
    with space.store.unit_of_work(space.context(who)) as work:
        kept = work.developments.one(development_id)
        versions = work.developments.briefs(development_id)
        known = any(version.stamp.client_id == client_id for version in versions)
        if not known:
            refuse_unknown_approver(work, who)
            refuse_unless_open(kept)
            refuse_own_approval(brief, who, developer=kept.stamp.by, before=kept.brief)
            _refuse_other_owner(brief, who, kept.customer)
            _refuse_late_edit(kept.brief_version, expected_version)
        if known or document_text(brief) != document_text(kept.brief):
            number = kept.brief_version + 1
            work.developments.add_brief(development_id, brief, number=number, client_id=given_or_made_id(client_id))
        work.commit()
    return view_development(space, who, development_id=development_id)


def _refuse_other_owner(brief: Brief, who: Actor, customer: str | None) -> None:
    if owner_of(brief, who) not in (None, customer):
        raise NotAllowed(
            f"customer is {brief.customer!r}, and this development belongs to {customer or 'the house'}. It stays with whom it "
            "was started for. Start another development for another customer."
        )


def _refuse_late_edit(newest: int, expected: int | None) -> None:
    if expected not in (None, newest):
        raise Conflict(
            f"The brief is at version {newest} now, and version {expected} was edited: somebody else was faster. "
            "Load the newest version, look at what changed, and make your change there."
        )


def close_development(
    space: Workspace, who: Actor, *, development_id: str, reason: str, client_id: str | None = None
) -> DevelopmentView:
    """Close a development: nothing more is cooked or proposed; everything stays readable and is learned from.

    Raises
    ------
    InvalidDocument
        If the reason is missing.
    NotAllowed
        If it is not open.
    NotFound
        If there is no such development, or none this person may see.
    """
    return _change_state(space, who, development_id, "closed", ("open",), reason, client_id)


def archive_development(
    space: Workspace, who: Actor, *, development_id: str, reason: str, client_id: str | None = None
) -> DevelopmentView:
    """Put a development away: as closed, and left out of lists.

    Raises
    ------
    InvalidDocument
        If the reason is missing.
    NotAllowed
        If it is archived already.
    NotFound
        If there is no such development, or none this person may see.
    """
    return _change_state(space, who, development_id, "archived", ("open", "closed"), reason, client_id)


def reopen_development(
    space: Workspace, who: Actor, *, development_id: str, reason: str, client_id: str | None = None
) -> DevelopmentView:
    """Go on with a development that was closed or archived.

    Raises
    ------
    InvalidDocument
        If the reason is missing.
    NotAllowed
        If it is open.
    NotFound
        If there is no such development, or none this person may see.
    """
    return _change_state(space, who, development_id, "open", ("closed", "archived"), reason, client_id)


def _change_state(
    space: Workspace,
    who: Actor,
    development_id: str,
    state: Literal["open", "closed", "archived"],
    from_states: tuple[DevelopmentState, ...],
    reason: str,
    client_id: str | None,
) -> DevelopmentView:
    given = checked_reason(reason)
    with space.store.unit_of_work(space.context(who)) as work:
        kept = work.developments.one(development_id)
        already = any(change.stamp.client_id == client_id for change in work.developments.states(development_id))
        if kept.state not in from_states and not already:
            raise NotAllowed(
                f"This development is {kept.state} and can't be marked {state}. Load it again to see what was done."
            )
        work.developments.change_state(development_id, state, given, client_id=given_or_made_id(client_id))
        work.commit()
    return view_development(space, who, development_id=development_id)


def assess_development(space: Workspace, who: Actor, *, development_id: str) -> Assessment:
    """Where a development stands and what to do next.

    Raises
    ------
    NotFound
        If there is no such development, or none this person may see.
    """
    return assessment_of(space, who, load(space, who, development_id))
