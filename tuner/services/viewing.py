"""From kept rows to the records that are shown."""

from __future__ import annotations

from tuner.services.actor import Actor
from tuner.services.knowing import assessment_of, feasibility_of
from tuner.services.loading import Loaded, load
from tuner.services.proposal_states import states_of
from tuner.services.views import BriefVersion, CookOutcome, CookRecord, DecisionRecord, DevelopmentView, ProposalRecord
from tuner.services.workspace import Workspace
from tuner.store import KeptCook, KeptDecision, KeptProposal

LIVE = "live"


def view_development(space: Workspace, who: Actor, *, development_id: str) -> DevelopmentView:
    """One development with everything a page shows.

    Raises
    ------
    NotFound
        If there is none of that id, or none this person may see.
    """
    return view_of(space, who, load(space, who, development_id))


def view_of(space: Workspace, who: Actor, loaded: Loaded) -> DevelopmentView:
    """The view of a development that was read already."""
    from tuner.safety import effective_limit

    development = loaded.development
    states = states_of(loaded)
    proposals = tuple(proposal_record(kept, states[kept.id]) for kept in loaded.proposals)
    return DevelopmentView(
        id=development.id,
        dish=loaded.brief.dish,
        customer=development.customer,
        state=development.state,
        state_reason=development.state_reason,
        brief=loaded.brief,
        brief_version=development.brief_version,
        brief_versions=tuple(BriefVersion(kept.number, kept.brief, kept.stamp.at, kept.stamp.by) for kept in loaded.briefs),
        oven=loaded.oven,
        oven_id=development.oven_id,
        oven_version=loaded.oven_record.version,
        cooks=tuple(cook_record(loaded, row) for row in loaded.rows),
        proposals=proposals,
        decisions=tuple(decision_record(decision) for kept in loaded.proposals for decision in kept.decisions),
        assessment=assessment_of(space, who, loaded),
        feasibility=feasibility_of(space, loaded.brief, loaded.oven),
        limit=effective_limit(loaded.brief),
        copied_from=development.copied_from,
        started_at=development.stamp.at,
        started_by=development.stamp.by,
        moved_at=development.moved_at,
        token=development.token,
    )


def cook_record(loaded: Loaded, row: KeptCook) -> CookRecord:
    """One cook, judged by the brief and the oven as they are now."""
    from tuner import proof, safety

    brief, oven, cook = loaded.brief, loaded.oven, row.cook
    outcome = proof.judge(brief, cook)
    return CookRecord(
        id=row.id,
        number=row.number,
        cook=cook,
        verdict=safety.verdict(brief, cook),
        outcome=CookOutcome(outcome.result, tuple(outcome.outside), tuple(outcome.missing)),
        margins=proof.margins(brief, cook),
        counts=proof.counts(brief, oven, cook),
        corrects=row.corrects,
        superseded=row.superseded,
        logged_at=row.stamp.at,
        logged_by=row.stamp.by,
        delay_s=_delay_s(row),
        reason=row.reason or "",
        source=row.source,
        brief_version=row.brief_version,
        client_id=row.stamp.client_id,
    )


def _delay_s(row: KeptCook) -> float | None:
    """Seconds from cooking to logging; an imported log says nothing about that."""
    if row.cook.cooked_at is None or row.source != LIVE:
        return None
    return (row.stamp.at - row.cook.cooked_at).total_seconds()


def decision_record(decision: KeptDecision) -> DecisionRecord:
    """A decision as it is shown."""
    return DecisionRecord(
        decision.proposal_id,
        decision.decision,
        decision.program,
        decision.reason,
        decision.stamp.at,
        decision.stamp.by,
    )


def proposal_record(kept: KeptProposal, state: str) -> ProposalRecord:
    """A proposal as it is shown."""
    last = kept.decisions[-1] if kept.decisions else None
    return ProposalRecord(
        id=kept.id,
        number=kept.number,
        proposal=kept.proposal,
        kind=kept.kind,
        state=state,  # type: ignore[arg-type]  # states_of knows these words only
        decision=decision_record(last) if last else None,
        seed=kept.seed,
        tool_version=kept.versions.get("tuner", ""),
        libraries={name: version for name, version in kept.versions.items() if name != "tuner"},
        data_hash=kept.data_hash,
        brief_version=kept.brief_version,
        issued_at=kept.stamp.at,
        issued_by=kept.stamp.by,
    )
