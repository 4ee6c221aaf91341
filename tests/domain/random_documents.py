"""Random legal documents with every optional field, as Python's JSON reader gives them."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta, timezone
from typing import Any

import numpy as np

from tests.contract import documents

TEXTS = ("Ÿeast & thyme", "зразок", "بط بالبرقوق", "梅ソース", "a" * 80, "line\nbreak", "“quoted”", "0", "-", "🦆")


def _maybe(rng: np.random.Generator, document: dict[str, Any], chance: float = 0.3, **fields: Any) -> None:
    for name, value in fields.items():
        if rng.random() < chance:
            document[name] = value if rng.random() < 0.9 or name in {"trace", "confirmed"} else None


def text(rng: np.random.Generator) -> str:
    return TEXTS[int(rng.integers(len(TEXTS)))]


def instant(rng: np.random.Generator) -> str:
    """A time in any zone, with or without fractions of a second."""
    zone = UTC if rng.random() < 0.5 else timezone(timedelta(minutes=int(rng.integers(-14 * 60, 14 * 60))))
    seconds = rng.integers(0, 2_000_000_000)
    at = datetime(1990, 1, 1, tzinfo=UTC) + timedelta(seconds=int(seconds), microseconds=int(rng.choice((0, 0, 123456, 5))))
    written = at.astimezone(zone).isoformat()
    return written.replace("+00:00", "Z") if rng.random() < 0.5 else written


def brief(rng: np.random.Generator) -> dict[str, Any]:
    document = documents.brief(rng)
    document["dish"] = text(rng)
    _maybe(
        rng,
        document,
        customer=text(rng),
        allergens=[text(rng) for _ in range(int(rng.integers(0, 4)))],
        market=text(rng),
        preparation=text(rng) if rng.random() < 0.5 else [text(rng), text(rng)],
        ingredients=[
            text(rng),
            {"name": text(rng), "amount_g": 12.5, "allergens": ["milk"], "may_contain": [], "supplier": None},
        ],
        budget_cooks=int(rng.integers(1, 1000)),
        texture_with_heat=str(rng.choice(("firmer", "softer"))),
        cook_before_eating=bool(rng.integers(2)),
        confirmed=[text(rng)],
    )
    for name, value in (("places", 9), ("tasters", 50), ("taster_sd", 0), ("cook_sd", 2), ("eaters", "vulnerable")):
        if rng.random() < 0.2:
            document[name] = value
    _maybe(
        rng,
        document["portion"],
        fibre=0.0,
        salt=float(np.round(rng.uniform(0, 0.3), 3)),
        intact=bool(rng.integers(2)),
        covered=bool(rng.integers(2)),
        tolerance={"mass_pct": 3, "start_temperature_c": None},
    )
    limit = document.get("critical_limit")
    if limit and "core_temperature_c" in limit:
        _maybe(
            rng,
            limit,
            z_c=7.5,
            market=text(rng),
            edition="2022",
            none=False,
            moved="stopped and turned",
            count_come_up=True,
            count_rest=False,
        )
        if rng.random() < 0.3:
            limit.update(z_c=5.56, reference_c=60, required_min=11.5, hold_s=int(rng.integers(0, 7200)))
    return document


def oven(rng: np.random.Generator) -> dict[str, Any]:
    document = documents.oven(rng)
    document["name"] = text(rng)
    _maybe(
        rng,
        document,
        serial=text(rng),
        checks=[{"watts_w": 900, "standard_error_w": 0, "hot": False, "h_w_m2k": 80.5, "checked_at": instant(rng)}, {}],
        altitude_m=-400,
    )
    return document


def cook(rng: np.random.Generator) -> dict[str, Any]:
    document = documents.cook(rng)
    if document["purpose"] != "benchmark":
        document["purpose"] = str(rng.choice(("first_guess", "search", "confirm", "benchmark", "proof", "site_check")))
        if rng.random() < 0.1:
            del document["purpose"]
    whole = int(rng.integers(1, 20))
    trace: list[dict[str, Any]] = [
        {"place": text(rng), "time_s": list(range(whole)), "temperature_c": [4.5] * whole},
        {"place": 2, "time_s": -1.5, "temperature_c": 80},
    ]
    _maybe(
        rng,
        document,
        probe_places=[text(rng), 2],
        held_s=float(rng.integers(0, 1000)),
        cook=text(rng),
        note=text(rng),
        trace=trace,
        load=int(rng.integers(1, 51)),
        lot=text(rng),
        seconds_since_last_cook=float(rng.integers(0, 100000)),
        serving_age_s=60,
        photo="photos/cut face.jpg",
        history=True if rng.random() < 0.5 else text(rng),
        client_id=text(rng),
        confirmed=[],
        cooked_at=instant(rng),
        thermometer_checked_at=instant(rng),
    )
    if document.get("completed") is False and rng.random() < 0.5:
        document["interrupted_by"] = text(rng)
    for score in document.get("scores", []):
        _maybe(rng, score, chance=0.1, other={"liking": 4, text(rng): 2.25})
    return document
