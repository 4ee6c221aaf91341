"""A cook as the same kind of facts that the logs state, and the comparison of both."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Any

from tests.exchange.unseen.kitchen_log import Facts
from tuner.domain import TestCook

TOLERANCE = {
    "air": 0.06, "duration": 0.51, "mass_in": 0.06, "mass_out": 0.06, "start": 0.06, "rest": 0.51, "load": 0.0,
}  # fmt: skip
SHARE_TOLERANCE = 0.06
ZONES = timedelta(hours=15)
"""A time without a zone may mean any zone; the days of the logs differ by more wherever it matters."""


def facts_of(cook: TestCook) -> Facts:
    """What an imported cook holds, one entry a topic; marks of each attribute are a topic of their own."""
    found: Facts = {
        "mass_in": cook.mass_g, "mass_out": cook.mass_out_g, "start": cook.start_temperature_c,
        "core": None if cook.core_temperature_c is None else list(cook.core_temperature_c),
        "rest": cook.rest_s, "covered": cook.rest_covered, "completed": cook.completed, "when": cook.cooked_at,
        "check": cook.thermometer_checked_at, "who": cook.cook, "lot": cook.lot, "load": cook.load,
        "serial": cook.oven_serial, "held": cook.held_s, "trace": cook.trace,
        "photo": cook.photo, "since": cook.seconds_since_last_cook, "serving_age": cook.serving_age_s,
    }  # fmt: skip
    if cook.program_set is not None:
        found["keyed"] = [[part.share_pct, part.air_speed_pct, part.microwave_pct] for part in cook.program_set.stages]
    if cook.program is not None:
        found |= {
            "air": cook.program.air_temperature_c,
            "duration": cook.program.duration_s,
            "stages": [[part.share_pct, part.air_speed_pct, part.microwave_pct] for part in cook.program.stages],
        }
    for name in ("browning", "texture", "moisture"):
        marks = {score.taster: getattr(score, name) for score in cook.scores or () if getattr(score, name) is not None}
        found[name] = marks or None
    if any(score.other for score in cook.scores or ()):
        found["other"] = sum(len(score.other) for score in cook.scores or () if score.other)
    return {name: value for name, value in found.items() if value is not None}


def stated(truth: Facts) -> Facts:
    """The truth by the same topics."""
    spread = {name: value for name, value in truth.items() if name not in ("scores", "note", "purpose")}
    for place, name in enumerate(("browning", "texture", "moisture")):
        marks = {taster: given[place] for taster, given in truth.get("scores", {}).items() if given[place] is not None}
        if marks:
            spread[name] = marks
    return spread


def agrees(topic: str, found: Any, truth: Any) -> bool:
    """Whether a value that came in is what the log says."""
    if topic in TOLERANCE:
        return abs(float(found) - float(truth)) <= TOLERANCE[topic]
    if topic == "other":
        return int(found) <= int(truth)
    if topic == "core":
        return len(found) == len(truth) and all(abs(a - b) <= 0.06 for a, b in zip(found, truth, strict=True))
    if topic in ("stages", "keyed"):
        return len(found) == len(truth) and all(
            abs(a[0] - b[0]) <= SHARE_TOLERANCE and a[1:] == b[1:] for a, b in zip(found, truth, strict=True)
        )
    if topic in ("browning", "texture", "moisture"):
        return _same_marks(found, truth)
    if topic in ("when", "check"):
        return _same_moment(found, truth)
    return str(found).lower() == str(truth).lower()


def _same_marks(found: dict[str, float], truth: dict[str, float]) -> bool:
    if all(name.startswith("?") for name in truth):
        return sorted(found.values()) == sorted(truth.values())
    return {name.lower(): mark for name, mark in found.items()} == {name.lower(): mark for name, mark in truth.items()}


def _same_moment(found: datetime, truth: str) -> bool:
    wanted = datetime.fromisoformat(truth).replace(tzinfo=found.tzinfo)
    if len(truth) == 10:
        return abs(found - (wanted + timedelta(hours=12))) <= ZONES + timedelta(hours=12)
    return abs(found - wanted) <= ZONES and (found.minute - wanted.minute) % 15 == 0


def rightness(cook: TestCook, truth: Facts) -> int:
    """How well a cook fits a truth: right values less three times the wrong ones."""
    found, wanted = facts_of(cook), stated(truth)
    points = 0
    for topic, value in found.items():
        if topic in wanted:
            points += 1 if agrees(topic, value, wanted[topic]) else -3
        else:
            points -= 3
    if "note" in truth:
        points += 1 if truth["note"] in (cook.note or "") else 0
    return points
