"""Random states of a store, for tests of the export."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import Any

from hypothesis import strategies as st

from tests.exchange.invented import OVEN, brief_document, cook_documents
from tuner.domain import Snapshot

_TEXT = st.text(st.characters(exclude_categories=["Cs", "Cc"]), min_size=1, max_size=12)


@st.composite
def _writes(draw: st.DrawFn) -> dict[str, Any]:
    at = datetime(2026, 1, 1, tzinfo=UTC) + timedelta(
        seconds=draw(st.integers(0, 10**7)), microseconds=draw(st.integers(0, 999))
    )
    return {"by": draw(_TEXT), "at": at.isoformat().replace("+00:00", "Z")}


def _proposal(program: dict[str, Any]) -> dict[str, Any]:
    attributes = {name: {"mean": 3.0, "spread": 0.3} for name in ("browning", "texture", "moisture")}
    attributes |= {"core_temperature_c": {"mean": 78.0, "spread": 2.0}, "cook_loss_pct": {"mean": 9.5, "spread": 1.0}}
    forecast = {"program": program, "attributes": attributes, "chance_all_inside": 0.25, "chance_safe": 0.95}
    return {"program": program, "purpose": "search", "forecast": forecast, "reasons": ["more late air"]}


@st.composite
def _developments(draw: st.DrawFn, number: int) -> dict[str, Any]:
    cooks = draw(cook_documents(max_size=4))
    entries = [
        {"id": f"c{number}-{index}", "number": index + 1, "cook": cook, **draw(_writes())} for index, cook in enumerate(cooks)
    ]
    if entries and draw(st.booleans()):
        entries.append(
            {**entries[0], "id": f"c{number}-fix", "corrects": entries[0]["id"], "reason": draw(_TEXT), **draw(_writes())}
        )
    proposals = [
        {
            "id": f"p{number}",
            "proposal": _proposal(cooks[0]["program"]),
            "seed": draw(st.integers(0, 10**6)),
            "brief_version": 1,
            "versions": {"tuner": "0.1.0"},
            "decisions": [{"decision": "refuse", "reason": draw(_TEXT), **draw(_writes())}],
            **draw(_writes()),
        }
    ]
    return {
        "id": f"d{number}",
        "customer": draw(st.none() | _TEXT),
        "state": draw(st.sampled_from(["open", "closed", "archived"])),
        "oven_id": "o1",
        "brief_versions": [{"number": 1, "brief": brief_document(), **draw(_writes())}],
        "cooks": entries,
        "proposals": proposals if cooks else [],
    }


@st.composite
def snapshots(draw: st.DrawFn) -> Snapshot:
    """A state with one oven and up to three developments."""
    return Snapshot.model_validate(
        {
            "format": "test-cook-tuner/1",
            "ovens": [{"id": "o1", "versions": [{"number": 1, "oven": OVEN, **draw(_writes())}]}],
            "developments": [draw(_developments(number)) for number in range(draw(st.integers(0, 3)))],
            "mappings": [{"layout": "a|b", "mapping": {"answers": {draw(_TEXT): draw(_TEXT)}}, **draw(_writes())}],
        }
    )
