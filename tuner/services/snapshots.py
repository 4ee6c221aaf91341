"""Everything kept, or everything about one development, as one document."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from tuner.domain.snapshot import SNAPSHOT_FORMAT, Snapshot
from tuner.services.loading import Loaded, read_rest
from tuner.store import KeptCook, KeptMapping, KeptOven, KeptProposal, KeptState, Reading, Stamp


def snapshot_of(reading: Reading, development_id: str | None) -> Snapshot:
    """All that this customer may see; of one development where it is named, with the oven it uses.

    Raises
    ------
    NotFound
        If there is no such development, or none this customer may see.
    """
    chosen = reading.developments.all() if development_id is None else (reading.developments.one(development_id),)
    loaded = [read_rest(reading, development) for development in chosen]
    used = [one.development.oven_id for one in loaded]
    seen = [oven.id for oven in reading.ovens.all()] if development_id is None else []
    ovens = [reading.ovens.versions(id_, of_development=True) for id_ in dict.fromkeys((*seen, *used))]
    states = {one.development.id: reading.developments.states(one.development.id) for one in loaded}
    mappings = reading.mappings.all() if development_id is None else ()
    ranks = _ranks(_stamps(ovens, loaded, states, mappings))
    document = {
        "format": SNAPSHOT_FORMAT,
        "ovens": [_oven(versions, ranks) for versions in ovens],
        "developments": [_development(one, states[one.development.id], ranks) for one in loaded],
        "mappings": [_mapping(mapping, ranks) for mapping in mappings],
    }
    return Snapshot.model_validate(document)


def _stamps(
    ovens: Iterable[tuple[KeptOven, ...]],
    loaded: Iterable[Loaded],
    states: dict[str, tuple[KeptState, ...]],
    mappings: Iterable[KeptMapping],
) -> Iterator[Stamp]:
    for versions in ovens:
        yield from (version.stamp for version in versions)
    for one in loaded:
        yield from (brief.stamp for brief in one.briefs)
        yield from (state.stamp for state in states[one.development.id])
        yield from (row.stamp for row in one.rows)
        for kept in one.proposals:
            yield kept.stamp
            yield from (decision.stamp for decision in kept.decisions)
    yield from (mapping.stamp for mapping in mappings)


def _ranks(stamps: Iterable[Stamp]) -> dict[int, int]:
    """Order of the writes, counted from 1 without gaps: audit numbers would tell of what is not in the document."""
    return {sequence: rank for rank, sequence in enumerate(sorted({stamp.sequence for stamp in stamps}), start=1)}


def _written(stamp: Stamp, ranks: dict[int, int]) -> dict[str, Any]:
    return {
        "by": stamp.by,
        "by_customer": stamp.by_customer,
        "at": stamp.at,
        "order": ranks[stamp.sequence],
        "client_id": stamp.client_id,
    }


def _oven(versions: tuple[KeptOven, ...], ranks: dict[int, int]) -> dict[str, Any]:
    return {
        "id": versions[0].id,
        "customer": versions[0].customer,
        "versions": [
            {"number": version.version, "oven": version.oven, **_written(version.stamp, ranks)} for version in versions
        ],
    }


def _development(loaded: Loaded, states: tuple[KeptState, ...], ranks: dict[int, int]) -> dict[str, Any]:
    kept = loaded.development
    return {
        "id": kept.id,
        "customer": kept.customer,
        "state": kept.state,
        "state_changes": [
            {"state": change.state, "reason": change.reason, **_written(change.stamp, ranks)} for change in states
        ],
        "oven_id": kept.oven_id,
        "copied_from": kept.copied_from,
        "brief_versions": [
            {"number": brief.number, "brief": brief.brief, **_written(brief.stamp, ranks)} for brief in loaded.briefs
        ],
        "cooks": [_cook(row, ranks) for row in loaded.rows],
        "proposals": [_proposal(proposal, ranks) for proposal in loaded.proposals],
    }


def _cook(row: KeptCook, ranks: dict[int, int]) -> dict[str, Any]:
    taken = row.cook.cooked_at if row.source == "live" else None
    return {
        "id": row.id,
        "number": row.number,
        "cook": row.cook,
        "corrects": row.corrects,
        "reason": row.reason,
        "delay_s": None if taken is None else (row.stamp.at - taken).total_seconds(),
        "source": row.source,
        "may_taste": None if row.may_taste is None else dict(row.may_taste),
        "brief_version": row.brief_version,
        "oven_version": row.oven_version,
        **_written(row.stamp, ranks),
    }


def _proposal(kept: KeptProposal, ranks: dict[int, int]) -> dict[str, Any]:
    return {
        "id": kept.id,
        "number": kept.number,
        "kind": kept.kind,
        "proposal": kept.proposal,
        "seed": kept.seed,
        "brief_version": kept.brief_version,
        "oven_version": kept.oven_version,
        "versions": dict(kept.versions),
        "data_hash": kept.data_hash,
        "asked": dict(kept.asked),
        "decisions": [
            {
                "decision": decision.decision,
                "reason": decision.reason,
                "program": decision.program,
                **_written(decision.stamp, ranks),
            }
            for decision in kept.decisions
        ],
        **_written(kept.stamp, ranks),
    }


def _mapping(kept: KeptMapping, ranks: dict[int, int]) -> dict[str, Any]:
    return {
        "layout": kept.layout,
        "customer": kept.customer,
        "mapping": dict(kept.mapping),
        **_written(kept.stamp, ranks),
    }
