"""The demo: an invented scenario that ships with the tool."""

from __future__ import annotations

import json
import uuid
from collections.abc import Iterator
from itertools import count
from pathlib import Path
from typing import Any

from pydantic import ValidationError

import tuner
from tuner.domain import InvalidDocument, NotAllowed, NotFound
from tuner.domain.snapshot import SNAPSHOT_FORMAT, Snapshot
from tuner.domain.wording import problems_of
from tuner.services.actor import Actor
from tuner.services.restoring import restore
from tuner.services.workspace import Workspace

_NAMESPACE = uuid.UUID("0b5c2a6e-6b0f-4a40-8a6b-0a4f5f1b7d21")


def load_demo(space: Workspace, who: Actor) -> int:
    """Load the invented developments of the demo; loading again changes nothing.

    Returns
    -------
    int
        Number of developments in the demo.

    Raises
    ------
    Conflict
        If an id of the demo is used here for something else.
    NotAllowed
        If the person belongs to a customer: the demo has several.
    NotFound
        If the demo is not beside the tool.
    """
    if who.customer is not None:
        raise NotAllowed(
            f"The demo holds developments of several customers, and you work for {who.customer!r}. The house loads it. "
            "Leave the customer out."
        )
    document = _snapshot(json.loads(demo_file().read_text(encoding="utf-8")))
    with space.store.unit_of_work(space.context(who)) as work:
        restore(work, who, document)
        work.commit()
    return len(document.developments)


def demo_file() -> Path:
    """Where the demo lies: beside the package in a checkout, inside it where it was installed.

    Raises
    ------
    NotFound
        If it is in neither place.
    """
    package = Path(tuner.__file__).parent
    places = [folder / "trials_demo" / "demo.json" for folder in (package.parent, package / "_served")]
    found = next((place for place in places if place.is_file()), None)
    if found is None:
        raise NotFound(f"The demo is not beside the tool. Looked for {places[0]} and {places[1]}. Install the tool again.")
    return found


def _snapshot(demo: dict[str, Any]) -> Snapshot:
    order = count(1)
    first_day = min(development["started_at"] for development in demo["developments"])
    somebody = demo["developments"][0]["started_by"]
    document = {
        "format": SNAPSHOT_FORMAT,
        "ovens": [
            {
                "id": _oven_id(oven["name"]),
                "versions": [{"number": 1, "oven": oven, "by": somebody, "at": first_day, "order": next(order)}],
            }
            for oven in demo["ovens"]
        ],
        "developments": [_development(development, order) for development in demo["developments"]],
    }
    try:
        return Snapshot.model_validate(document)
    except ValidationError as error:
        raise InvalidDocument(problems_of(error)) from error


def _oven_id(name: str) -> str:
    return str(uuid.uuid5(_NAMESPACE, name))


def _development(development: dict[str, Any], order: count[int]) -> dict[str, Any]:
    started = {"by": development["started_by"], "at": development["started_at"], "order": next(order)}
    return {
        "id": development["id"],
        "customer": development["brief"].get("customer"),
        "oven_id": _oven_id(development["oven"]),
        "brief_versions": [{"number": 1, "brief": development["brief"], **started}],
        "cooks": list(_cooks(development["cooks"], order)),
    }


def _cooks(rows: list[dict[str, Any]], order: count[int]) -> Iterator[dict[str, Any]]:
    """Rows as they came in. A row that came twice, as the demo tells, is kept once, as everywhere."""
    numbers: dict[str, int] = {}
    for row in rows:
        client_id = row["cook"]["client_id"]
        if client_id in numbers:
            continue
        corrects = row.get("corrects")
        numbers[client_id] = numbers[corrects] if corrects else max(numbers.values(), default=0) + 1
        yield {
            "id": client_id,
            "client_id": client_id,
            "number": numbers[client_id],
            "cook": row["cook"],
            "corrects": corrects,
            "reason": row.get("reason"),
            "may_taste": {score["taster"]: True for score in row["cook"].get("scores") or ()} or None,
            "by": row["logged_by"],
            "at": row["logged_at"],
            "order": next(order),
        }
