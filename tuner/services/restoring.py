"""Taking an export back: every row as it was written, by whom and when; what is there already stays as it is."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from tuner.domain import NotAllowed, snapshot
from tuner.domain.snapshot import BriefVersion, Decision, DevelopmentEntry, MappingEntry, OvenEntry, OvenVersion, StateChange
from tuner.services.actor import Actor
from tuner.services.limit_rules import asks_for_less, same_limit, same_person
from tuner.services.tasting import refuse_unsafe_tasting
from tuner.services.views import ImportReport
from tuner.store import Added, CookEntry, Origin, ProposalEntry, UnitOfWork, content_hash

Written = OvenVersion | BriefVersion | snapshot.CookEntry | snapshot.ProposalEntry | Decision | StateChange | MappingEntry
Parent = OvenEntry | DevelopmentEntry | snapshot.ProposalEntry | None

_KINDS: tuple[type, ...] = (
    OvenVersion,
    BriefVersion,
    snapshot.CookEntry,
    snapshot.ProposalEntry,
    Decision,
    StateChange,
    MappingEntry,
)
"""In the order in which they are written where the document does not tell: what is pointed to comes first."""


@dataclass(frozen=True, slots=True)
class _Item:
    """One write of the document, with what it belongs to."""

    entry: Written
    parent: Parent = None

    @property
    def order(self) -> tuple[int, int, float]:
        """The order in which it was written first; without one, by kind and time."""
        kind = next(rank for rank, kind in enumerate(_KINDS) if type(self.entry) is kind)
        return (self.entry.order or 0, 0 if self.entry.order else kind, self.entry.at.timestamp())

    @property
    def counted_as(self) -> type:
        """A first version stands for the oven or the development itself."""
        if isinstance(self.entry, OvenVersion | BriefVersion) and self.is_first:
            return type(self.parent)
        return type(self.entry)

    @property
    def is_first(self) -> bool:
        """Whether it is the first version of an oven or a brief."""
        parent = self.parent
        if isinstance(parent, OvenEntry):
            return self.entry is parent.versions[0]
        return isinstance(parent, DevelopmentEntry) and self.entry is parent.brief_versions[0]

    @property
    def origin(self) -> Origin:
        """Who wrote it first, and when."""
        return Origin(self.entry.by, self.entry.by_customer, self.entry.at)

    @property
    def client_id(self) -> str:
        """The client's id, or one made from its content."""
        return self.entry.client_id or content_hash(self.entry.model_dump(mode="json"))


def restore(work: UnitOfWork, who: Actor, document: snapshot.Snapshot) -> ImportReport:
    """Write everything of a document that is not there yet, in the order in which it was written first.

    Raises
    ------
    Conflict
        If an id of the document is used here for something else.
    NotAllowed
        If it holds another customer's things, tastings that were not safe and are no history, or a limit that its developer
        may not set.
    """
    _refuse_foreign(who, document)
    for development in document.developments:
        _refuse_limits(development)
        _refuse_tastings(development)
    ovens = _ovens_to_write(work, who, document)
    added: dict[type, int] = {}
    known: dict[type, int] = {}
    for item in sorted(_items(document, ovens), key=lambda item: item.order):
        counted = added if _write(work, item).new else known
        counted[item.counted_as] = counted.get(item.counted_as, 0) + 1
    return ImportReport(
        added=added.get(snapshot.CookEntry, 0),
        known=known.get(snapshot.CookEntry, 0),
        developments=added.get(DevelopmentEntry, 0),
        ovens=added.get(OvenEntry, 0),
    )


def _refuse_foreign(who: Actor, document: snapshot.Snapshot) -> None:
    owners = {entry.customer for entry in document.developments} | {entry.customer for entry in document.mappings}
    if who.customer is not None and owners - {who.customer}:
        raise NotAllowed(
            f"The document holds work of others than {who.customer!r}. One takes back one's own customer's work only. "
            "Ask the house to take it back."
        )


def _refuse_limits(development: DevelopmentEntry) -> None:
    """The rule of limits for files: what the use cases would not have taken from the developer is not taken here either."""
    developer, before = development.brief_versions[0].by, None
    for version in development.brief_versions:
        if before is None or not same_limit(version.brief, before):
            _refuse_limit(version, developer)
        before = version.brief


def _refuse_limit(version: BriefVersion, developer: str) -> None:
    limit = version.brief.critical_limit
    if limit is None:
        return
    own = limit.approved_by is not None and same_person(limit.approved_by, developer)
    unfounded = same_person(version.by, developer) or not (limit.rule and limit.approved_by)
    if own or (asks_for_less(version.brief) and unfounded):
        raise NotAllowed(
            f"Version {version.number} of the brief of {version.brief.dish!r} has a critical limit that its developer "
            f"{developer!r} may not set: less than the default is entered by another person, with rule and approver. "
            "Correct the document, or leave the limit out."
        )


def _refuse_tastings(development: DevelopmentEntry) -> None:
    """The eat gate for files: what was tasted must have been safe by the brief it was logged under, or be history."""
    briefs = {version.number: version.brief for version in development.brief_versions}
    for entry in development.cooks:
        brief = briefs.get(entry.brief_version, development.brief)
        if entry.cook.history:
            continue
        try:
            refuse_unsafe_tasting(brief, entry.cook, entry.may_taste)
        except NotAllowed as error:
            raise NotAllowed(f"Cook {entry.number} of {brief.dish!r}: {error}") from error


def _ovens_to_write(work: UnitOfWork, who: Actor, document: snapshot.Snapshot) -> tuple[OvenEntry, ...]:
    """Ovens of the document; a customer's person may not write another's, but may name one that a development uses already."""
    if who.customer is None:
        return document.ovens
    in_use = {kept.oven_id for kept in work.developments.all()}
    foreign = [oven for oven in document.ovens if oven.customer != who.customer]
    for oven in foreign:
        if oven.id not in in_use:
            raise NotAllowed(
                f"The document brings oven {oven.versions[-1].oven.name!r}, which is none of {who.customer!r}. One takes back "
                "one's own customer's things only. Ask the house to take it back."
            )
    return tuple(oven for oven in document.ovens if oven.customer == who.customer)


def _items(document: snapshot.Snapshot, ovens: tuple[OvenEntry, ...]) -> Iterator[_Item]:
    for oven in ovens:
        yield from (_Item(version, oven) for version in oven.versions)
    for development in document.developments:
        yield from (_Item(version, development) for version in development.brief_versions)
        yield from (_Item(entry, development) for entry in development.cooks)
        yield from (_Item(change, development) for change in development.state_changes)
        for proposal in development.proposals:
            yield _Item(proposal, development)
            yield from (_Item(decision, proposal) for decision in proposal.decisions)
    yield from (_Item(mapping) for mapping in document.mappings)


def _write(work: UnitOfWork, item: _Item) -> Added:
    match item.entry, item.parent:
        case OvenVersion() as version, OvenEntry() as oven:
            return _oven(work, item, version, oven)
        case BriefVersion() as version, DevelopmentEntry() as development:
            return _brief(work, item, version, development)
        case snapshot.CookEntry() as cook, DevelopmentEntry() as development:
            return _cook(work, item, cook, development)
        case snapshot.ProposalEntry() as proposal, DevelopmentEntry() as development:
            return _proposal(work, item, proposal, development)
        case Decision() as decided, snapshot.ProposalEntry() as proposal:
            return work.proposals.decide(
                proposal.id, decided.decision, decided.reason, decided.program, client_id=item.client_id, origin=item.origin
            )
        case StateChange() as change, DevelopmentEntry() as development:
            return work.developments.change_state(
                development.id, change.state, change.reason, client_id=item.client_id, origin=item.origin
            )
        case MappingEntry() as mapping, _:
            return work.mappings.remember(
                mapping.layout, mapping.mapping, client_id=item.client_id, customer=mapping.customer, origin=item.origin
            )
    raise AssertionError(f"no way to write {type(item.entry).__name__}")


def _oven(work: UnitOfWork, item: _Item, version: OvenVersion, oven: OvenEntry) -> Added:
    if item.is_first:
        return work.ovens.add(
            version.oven, client_id=item.client_id, customer=oven.customer, kept_id=oven.id, origin=item.origin
        )
    return work.ovens.add_version(oven.id, version.oven, client_id=item.client_id, number=version.number, origin=item.origin)


def _brief(work: UnitOfWork, item: _Item, version: BriefVersion, development: DevelopmentEntry) -> Added:
    if item.is_first:
        return work.developments.start(
            version.brief,
            client_id=item.client_id,
            customer=development.customer,
            oven_id=development.oven_id,
            copied_from=development.copied_from,
            kept_id=development.id,
            origin=item.origin,
        )
    return work.developments.add_brief(
        development.id, version.brief, number=version.number, client_id=item.client_id, origin=item.origin
    )


def _cook(work: UnitOfWork, item: _Item, cook: snapshot.CookEntry, development: DevelopmentEntry) -> Added:
    entry = CookEntry(
        cook.cook,
        item.client_id,
        corrects=cook.corrects,
        reason=cook.reason,
        source=cook.source,
        may_taste=cook.may_taste,
        oven_version=cook.oven_version,
        brief_version=cook.brief_version,
        number=cook.number,
        kept_id=cook.id,
    )
    return work.cooks.add(work.developments.one(development.id), entry, origin=item.origin)


def _proposal(work: UnitOfWork, item: _Item, proposal: snapshot.ProposalEntry, development: DevelopmentEntry) -> Added:
    entry = ProposalEntry(
        proposal=proposal.proposal,
        client_id=item.client_id,
        kind=proposal.kind,
        seed=proposal.seed,
        versions=proposal.versions,
        asked=proposal.asked or {},
        data_hash=proposal.data_hash or "",
        oven_version=proposal.oven_version,
        brief_version=proposal.brief_version,
        number=proposal.number,
        kept_id=proposal.id,
    )
    return work.proposals.issue(work.developments.one(development.id), entry, origin=item.origin)
