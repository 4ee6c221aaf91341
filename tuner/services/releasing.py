"""Bringing a version to its release: drafted, made a candidate, proving, proven, sealed, signed; returned or withdrawn.

Nothing here can be talked round: each step reads the records it rests on, in the transaction in which it is written. Sealing
takes the snapshot whose bytes are kept and signed; with the last signature that is needed the version is in force, and the one
before it is superseded, in one transaction.
"""

from __future__ import annotations

from typing import Literal

from tuner.domain import Conflict, InvalidDocument, NotAllowed, Program
from tuner.domain.person import Role
from tuner.domain.release import BEFORE_RELEASE, RevisionClass, Standing
from tuner.services.actor import Actor
from tuner.services.limit_rules import same_person
from tuner.services.loading import load, read_development, refuse_unless_open
from tuner.services.people import active_accounts, checked
from tuner.services.release_gaps import candidate_gaps, release_gaps
from tuner.services.release_material import Material, material_of
from tuner.services.release_reading import (
    DOCUMENT,
    RELEASE,
    ReleaseView,
    one_version,
    open_version,
    version_in_force,
    versions_of,
)
from tuner.services.release_sealing import must_sign, release_document
from tuner.services.release_steps import material_now, move, refuse_gaps, refuse_step
from tuner.services.revising import CLASSES
from tuner.services.texts import checked_reason, checked_text, given_or_made_id
from tuner.services.workspace import Workspace
from tuner.store import Plain, RecordEntry, UnitOfWork

WITHDRAWERS: tuple[Role, ...] = ("food-safety approver", "customer approver", "administrator", "developer")


def list_releases(space: Workspace, who: Actor, *, development_id: str) -> tuple[ReleaseView, ...]:
    """All versions of a development's release, oldest first.

    Raises
    ------
    NotFound
        If there is no such development, or none this person may see.
    """
    with space.store.read(who.customer) as reading:
        reading.developments.one(development_id)
        return versions_of(reading, development_id)


def view_release(space: Workspace, who: Actor, *, release_id: str) -> ReleaseView:
    """One version.

    Raises
    ------
    NotFound
        If there is none, or none this person may see.
    """
    with space.store.read(who.customer) as reading:
        return one_version(reading, release_id)


def release_checklist(space: Workspace, who: Actor, *, release_id: str, standing: Standing = "released") -> tuple[str, ...]:
    """The gaps that still stand in the way, a sentence each; empty when it may be sealed or signed.

    Raises
    ------
    NotFound
        If there is no such release, or none this person may see.
    """
    with space.store.read(who.customer) as reading:
        version = one_version(reading, release_id)
        material = material_of(reading, read_development(reading, version.development_id), version)
    if version.state in ("draft", "candidate"):
        return tuple(dict.fromkeys((*candidate_gaps(material), *release_gaps(material, standing))))
    return release_gaps(material, standing) if version.state in BEFORE_RELEASE else ()


def draft_release(
    space: Workspace,
    who: Actor,
    *,
    development_id: str,
    program: Program,
    reason: str | None = None,
    revision: RevisionClass | None = None,
    client_id: str | None = None,
) -> ReleaseView:
    """Begin a version: a program on its way to release. After a release it is a revision, with its reason and class.

    Raises
    ------
    Conflict
        If another version is on its way, or the client's id was used for another program.
    InvalidDocument
        If a revision comes without its reason.
    NotAllowed
        If the development is closed.
    NotFound
        If there is no such development, or none this person may see.
    """
    given = given_or_made_id(client_id)
    if revision is not None and revision not in CLASSES:
        raise InvalidDocument([f"revision is {revision!r}. A revision is one of {', '.join(CLASSES)}. Choose one."])
    with space.store.unit_of_work(space.context(who)) as work:
        development = work.developments.one(development_id)
        versions = versions_of(work, development_id)
        kept = next((row for row in work.records.of_development(development_id, RELEASE) if row.stamp.client_id == given), None)
        if kept is None:
            refuse_unless_open(development)
            going_on = open_version(versions)
            if going_on is not None:
                raise Conflict(
                    f"Version {going_on.number} is {going_on.state}. One version goes on at a time. Finish or return it."
                )
        before = version_in_force(versions) or next((one for one in reversed(versions) if one.document and one.signed), None)
        parent = None if before is None else before.number
        content: dict[str, Plain] = {
            "number": len(versions) + 1,
            "program": program.model_dump(mode="json", exclude_unset=True),
            "parent_number": parent,
            "revision_kind": None if parent is None else revision,
            "revision_reason": None if parent is None else checked_reason(reason or ""),
        }
        if kept is not None:
            content = {**content, "number": kept.content["number"], "parent_number": kept.content["parent_number"]}
            if kept.content["program"] != content["program"]:
                raise Conflict(f"The id {given!r} was used before for another program. Send it under a new id.")
            return one_version(work, kept.id)
        added = work.records.add(development, RecordEntry(RELEASE, content, given))
        move(work, development_id, added.id, "draft", (reason or "").strip() or "first version")
        view = one_version(work, added.id)
        work.commit()
    return view


def propose_candidate(space: Workspace, who: Actor, *, release_id: str) -> ReleaseView:
    """Make a draft the candidate: the recipe is whole, and a cook of its program passed.

    Raises
    ------
    NotAllowed
        If something is missing; every gap is told.
    NotFound
        If there is no such release, or none this person may see.
    """
    return _step(space, who, release_id, "candidate")


def begin_proving(space: Workspace, who: Actor, *, release_id: str) -> ReleaseView:
    """Begin proving a candidate: its proof plan is fixed.

    Raises
    ------
    NotAllowed
        If no plan is fixed.
    NotFound
        If there is no such release, or none this person may see.
    """
    return _step(space, who, release_id, "proving")


def mark_proven(space: Workspace, who: Actor, *, release_id: str) -> ReleaseView:
    """Note that the simple rule is met: one passing cook, then as many passing confirmations as the brief asks, none failing.

    That is the floor under every plan, never a food-safety claim: release needs the proof besides.

    Raises
    ------
    NotAllowed
        If the rule is not met.
    NotFound
        If there is no such release, or none this person may see.
    """
    return _step(space, who, release_id, "proven")


def seal_release(
    space: Workspace, who: Actor, *, release_id: str, standing: Standing = "released", sites: tuple[str, ...] = ()
) -> ReleaseView:
    """Take the snapshot that will be signed. It is never changed: if anything must be, the version is returned.

    Parameters
    ----------
    standing
        `restricted`: named sites may cook it for 90 days while every portion is measured.
    sites
        Those sites.

    Raises
    ------
    NotAllowed
        If something is missing, or nobody else than the developer has an account.
    NotFound
        If there is no such release, or none this person may see.
    """
    named = tuple(checked_text("site", site, 100) for site in sites)
    if standing == "restricted":
        _refuse_unreliable(space, who, release_id)
    with space.store.unit_of_work(space.context(who)) as work:
        material = material_now(work, release_id)
        version = material.version
        refuse_step(version, standing)
        if version.document is not None:
            raise Conflict(
                f"Version {version.number} is sealed already. What is sealed is never changed. Sign it, or return it."
            )
        if (standing == "restricted") != bool(named):
            raise InvalidDocument(["sites are named for a restricted release, and for no other. Correct sites or standing."])
        gaps = [*release_gaps(material, standing), *_people_gaps(work, material)]
        refuse_gaps(gaps, f"Version {version.number} can't be released yet")
        text = release_document(material, standing, named, work.audit.head(), space.clock())
        development = material.loaded.development
        from tuner.exchange.release_file import sha256_of

        content = {"text": text, "sha256": sha256_of(text.encode("utf-8")), "standing": standing}
        work.records.add(development, RecordEntry(DOCUMENT, content, "sealed " + release_id, about=release_id))
        view = one_version(work, release_id)
        work.commit()
    return view


def return_release(space: Workspace, who: Actor, *, release_id: str, reason: str) -> ReleaseView:
    """Send a version back with a comment; going on means a new version.

    Raises
    ------
    InvalidDocument
        If the comment is missing.
    NotAllowed
        If the version is in force or ended.
    NotFound
        If there is no such release, or none this person may see.
    """
    return _ended(space, who, release_id, "returned", checked_reason(reason))


def withdraw_release(space: Workspace, who: Actor, *, release_id: str, reason: str, password: str) -> ReleaseView:
    """Take a version out of force at once; its cards must not be cooked from any more.

    Raises
    ------
    InvalidDocument
        If the reason is missing.
    NotAllowed
        If the password is wrong, the person has no role that withdraws, or the version is not in force.
    NotFound
        If there is no such release, or none this person may see.
    """
    known = checked(space, who.name, password)
    if not set(known.account.roles) & set(WITHDRAWERS):
        raise NotAllowed(f"{known.account.name} has none of the roles that withdraw: {', '.join(WITHDRAWERS)}.")
    return _ended(space, who, release_id, "withdrawn", checked_reason(reason))


def _step(space: Workspace, who: Actor, release_id: str, state: Literal["candidate", "proving", "proven"]) -> ReleaseView:
    with space.store.unit_of_work(space.context(who)) as work:
        material = material_now(work, release_id)
        version = material.version
        if version.state == state:
            return version
        refuse_step(version, state)
        refuse_unless_open(material.loaded.development)
        refuse_gaps(_step_gaps(material, state), f"Version {version.number} can't be {state} yet")
        move(work, version.development_id, release_id, state, "")
        view = one_version(work, release_id)
        work.commit()
    return view


def _step_gaps(material: Material, state: str) -> tuple[str, ...]:
    from tuner.proof import tally

    if state == "candidate":
        return candidate_gaps(material)
    if state == "proving":
        known = material.plan is not None or material.rests_on_parent
        return () if known else ("No proof plan is fixed for this program. Fix one before its first cook.",)
    if material.rests_on_parent:
        return ()
    loaded = material.loaded
    done = tally(loaded.brief, loaded.oven, loaded.cooks, material.version.program)
    return () if done.met else (f"{done.passing} passing cooks in a row, and {done.needed} are needed.",)


def _people_gaps(work: UnitOfWork, material: Material) -> list[str]:
    accounts = active_accounts(work)
    needed = must_sign(material)
    others = [one for one in accounts if not any(same_person(one.name, name) for name in material.developers)]
    gaps = []
    if not any("developer" in one.roles and one not in others for one in accounts):
        gaps.append("No developer of this recipe has an account with the role developer.")
    for role in needed[1:]:
        if not any(role in one.roles for one in others):
            gaps.append(f"Nobody but its developers has an account as {role}. Working alone, a development ends at proven.")
    return gaps


def _ended(space: Workspace, who: Actor, release_id: str, state: Literal["returned", "withdrawn"], reason: str) -> ReleaseView:
    with space.store.unit_of_work(space.context(who)) as work:
        version = one_version(work, release_id)
        refuse_step(version, state)
        move(work, version.development_id, release_id, state, reason)
        view = one_version(work, release_id)
        work.commit()
    return view


def _refuse_unreliable(space: Workspace, who: Actor, release_id: str) -> None:
    """Restricted release stands on the simple rule and the chance of being reliable, both as `assess` tells them."""
    from tuner.services.knowing import assessment_of

    version = view_release(space, who, release_id=release_id)
    found = assessment_of(space, who, load(space, who, version.development_id))
    best = found.best_program
    if found.status != "proven" or best is None or best.key != version.program.key:
        raise NotAllowed(
            f"Restricted release needs this program proven by the simple rule and reliable enough; the development stands at "
            f"{found.status}. Cook more confirmations."
        )
