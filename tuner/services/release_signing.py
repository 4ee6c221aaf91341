"""Signatures under a sealed release: whose, in which role, and what they put in force."""

from __future__ import annotations

from tuner.domain import Conflict, NotAllowed
from tuner.domain.person import MEANINGS, Role
from tuner.domain.release import Signature, Standing, Statement
from tuner.services.actor import Actor
from tuner.services.limit_rules import same_person
from tuner.services.people import KnownAccount, checked
from tuner.services.release_gaps import release_gaps
from tuner.services.release_material import Material
from tuner.services.release_reading import SIGNATURE, ReleaseView, one_version, versions_of
from tuner.services.release_steps import material_now, move, refuse_gaps
from tuner.services.workspace import Workspace
from tuner.store import RecordEntry, UnitOfWork


def sign_release(space: Workspace, who: Actor, *, release_id: str, role: Role, password: str) -> ReleaseView:
    """Sign a sealed version in one role, with one's password asked again.

    Raises
    ------
    Conflict
        If that role was signed before.
    NotAllowed
        If the password is wrong, the person has not got the role, develops the recipe and would approve it, signed in another
        role, or if what the release rests on has changed since it was sealed.
    NotFound
        If there is no such release, or none this person may see.
    """
    known = checked(space, who.name, password)
    with space.store.read(who.customer) as reading:
        view = one_version(reading, release_id)
    document = view.document
    if document is None or view.state != "proven" or view.sha256 is None:
        raise NotAllowed(f"Version {view.number} is {view.state} and not sealed for signing. Seal it first.")
    _refuse_signer(view, known, role)
    statement = Statement(
        format="test-cook-tuner-signature/1",
        release_sha256=view.sha256,
        development_id=document.development_id,
        number=document.number,
        name=known.account.name,
        account_id=known.account.id,
        role=role,
        meaning=MEANINGS[role],
        signed_at=space.clock(),
        identified_by="own password, asked again for this signature",
        key_id=known.account.key_id,
    )
    signature = _made(space, statement, known, password)
    with space.store.unit_of_work(space.context(_in_role(known, role))) as work:
        material = material_now(work, release_id)
        version = material.version
        if version.state != "proven" or version.sha256 != view.sha256:
            raise Conflict(
                f"Version {version.number} was changed by somebody else meanwhile: it is {version.state}. Load it again."
            )
        _refuse_signer(version, known, role)
        refuse_gaps([*release_gaps(material, document.standing), *_changed_since(material)], "This can't be signed any more")
        content = signature.model_dump(mode="json")
        entry = RecordEntry(SIGNATURE, content, f"{release_id} {role}", about=release_id)
        work.records.add(material.loaded.development, entry)
        if version.waits_for == (role,):
            _put_in_force(work, version, document.standing)
        signed = one_version(work, release_id)
        work.commit()
    return signed


def _refuse_signer(version: ReleaseView, known: KnownAccount, role: Role) -> None:
    account, document = known.account, version.document
    if document is None or role not in document.must_sign or role not in MEANINGS:
        raise NotAllowed(f"The {role} does not sign this release.")
    if role not in account.roles:
        raise NotAllowed(f"{account.name} has not got the role {role!r}. Roles there: {', '.join(account.roles)}.")
    if role not in version.waits_for:
        raise Conflict(f"Version {version.number} is signed by the {role} already.")
    developed = any(same_person(account.name, name) for name in document.developers)
    if role == "developer" and not developed:
        raise NotAllowed(f"{account.name} did not develop this recipe: {', '.join(document.developers)} did.")
    if role != "developer" and developed:
        raise NotAllowed(f"{account.name} developed this recipe and can't approve it as {role}. Another person does.")
    if any(same_person(account.name, one.name) or one.key_id == account.key_id for one in version.signed):
        raise NotAllowed(f"{account.name} signed this version in another role. Every role is signed by another person.")
    if role == "customer approver" and account.customer not in (None, document.customer):
        raise NotAllowed(f"{account.name} belongs to another customer than this dish.")


def _changed_since(material: Material) -> list[str]:
    """Differences between the sealed snapshot and what it would be now."""
    document, loaded = material.version.document, material.loaded
    if document is None:
        return []
    changed = []
    if material.recipe is None or material.recipe.record_id != document.recipe_record_id:
        changed.append("The recipe was changed after sealing.")
    if loaded.development.brief_version != document.brief_version:
        changed.append("The brief was changed after sealing.")
    if loaded.oven_record.version != document.oven_version:
        changed.append("The oven's description was changed after sealing.")
    if material.proof is not None and material.proof.id != document.proof.record_id:
        changed.append("The proof was evaluated again after sealing.")
    return changed and [*changed, "Return this version and seal a new one."]


def _made(space: Workspace, statement: Statement, known: KnownAccount, password: str) -> Signature:
    from tuner.exchange.release_file import canonical_bytes
    from tuner.services.signing import signed

    text = canonical_bytes(statement)
    signature = signed(known.secrets, password, text, space.password_cost)
    return Signature(statement=text.decode("utf-8"), signature=signature, public_key=known.account.public_key)


def _in_role(known: KnownAccount, role: Role) -> Actor:
    return Actor(known.account.name, known.account.customer, role, known.account.id)


def _put_in_force(work: UnitOfWork, version: ReleaseView, standing: Standing) -> None:
    for other in versions_of(work, version.development_id):
        if other.in_force:
            move(work, version.development_id, other.id, "superseded", f"version {version.number} took its place")
    move(work, version.development_id, version.id, standing, "every signature that is needed is there")
