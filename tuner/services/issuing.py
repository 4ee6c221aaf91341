"""Keeping proposals as they were issued, with everything needed to compute them again."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, Literal

from tuner.domain import Conflict, Proposal
from tuner.services.actor import Actor
from tuner.services.loading import Loaded, read_development, refuse_unless_open
from tuner.services.proposal_states import states_of
from tuner.services.tool_versions import tool_versions
from tuner.services.viewing import proposal_record
from tuner.services.views import ProposalRecord
from tuner.services.workspace import Workspace
from tuner.store import Plain, ProposalEntry, content_hash


def issue(
    space: Workspace,
    who: Actor,
    loaded: Loaded,
    proposals: Sequence[Proposal],
    *,
    kind: Literal["next", "first_day"],
    seed: int,
    asked: Mapping[str, Any],
) -> tuple[ProposalRecord, ...]:
    """Keep proposals; the same ones computed at the same time by two people are kept once.

    Raises
    ------
    Conflict
        If cooks, brief or oven moved on while they were computed.
    NotAllowed
        If the development was closed meanwhile.
    """
    versions = tool_versions()
    common: dict[str, Plain] = {"data": loaded.data_hash, "kind": kind, "seed": seed, "asked": asked, "versions": versions}
    with space.store.unit_of_work(space.context(who)) as work:
        now = read_development(work, loaded.development.id)
        refuse_unless_open(now.development)
        if now.data_hash != loaded.data_hash:
            raise Conflict("Cooks, brief or oven changed while the proposal was computed. Nothing was kept. Ask again.")
        ids = [
            work.proposals.issue(
                now.development,
                ProposalEntry(
                    proposal=proposal,
                    client_id=content_hash({**common, "place": place}),
                    kind=kind,
                    seed=seed,
                    versions=versions,
                    asked={**asked, "place": place},
                    data_hash=loaded.data_hash,
                    oven_version=now.oven_record.version,
                ),
            ).id
            for place, proposal in enumerate(proposals)
        ]
        after = read_development(work, loaded.development.id)
        work.commit()
    states = states_of(after)
    by_id = {kept.id: kept for kept in after.proposals}
    return tuple(proposal_record(by_id[id_], states[id_]) for id_ in ids)
