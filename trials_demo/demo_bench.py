"""A development while it is cooked for the demo: the tool's proposals, a simulated kitchen's readings, flaws of real logs."""

from __future__ import annotations

import uuid
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta
from types import MappingProxyType
from typing import Any

import numpy as np

import tuner
from tuner.cli.documents import read_program
from tuner.domain import Brief, Portion, TestCook
from tuner.domain.plausibility import questions_about_cook
from tuner.rehearsal import Kitchen

NAMESPACE = uuid.UUID("5f0f0f5e-2f52-4c43-9d4a-0d3b8f8a7c11")
"""Of the demo's fixed ids."""

Changes = Mapping[str, Any]

AS_IT_WAS: Changes = MappingProxyType({})
NOT_WEIGHED: Changes = {"mass_out_g": None, "note": "Balance in use elsewhere, not weighed after cooking."}
NOBODY_TASTED: Changes = {"scores": None, "note": "Safe, but the tasters had left."}
INTERRUPTED: Changes = {
    "completed": False,
    "interrupted_by": "door opened after about a minute",
    "core_temperature_c": None,
    "rest_s": None,
    "rest_covered": None,
    "mass_out_g": None,
    "scores": None,
    "note": "Portion discarded.",
}


@dataclass
class Bench:
    """One development while it is cooked: kitchen, brief, seeded chance, clock, and the rows so far."""

    key: str
    kitchen: Kitchen
    brief: Brief
    rng: np.random.Generator
    day: datetime
    person: str
    rows: list[dict[str, Any]] = field(default_factory=list)
    cooks: list[TestCook] = field(default_factory=list)
    minute: int = 0

    def identity(self, name: object) -> str:
        """A fixed id."""
        return str(uuid.uuid5(NAMESPACE, f"{self.key} {name}"))

    def next_morning(self, days: int = 1) -> None:
        """Go on another day."""
        self.day += timedelta(days=days)
        self.minute = 0

    def start_time(self) -> datetime:
        """When the next portion goes in: about four an hour."""
        self.minute += int(self.rng.integers(13, 19))
        return self.day + timedelta(hours=9, minutes=self.minute)

    def benchmark(self) -> None:
        """Cook the dish as it is cooked now."""
        self.log(self.kitchen.benchmark(self.rng, cooked_at=self.start_time()), {})

    def cook(
        self,
        changes: Changes | Callable[[TestCook], Changes] = AS_IT_WAS,
        *,
        program: str = "",
        kitchen: Kitchen | None = None,
        **row: Any,
    ) -> None:
        """Cook what the tool proposes now, or the chef's own program, and log it with a flaw."""
        proposal = tuner.propose(self.brief, self.kitchen.oven, self.cooks)[0]
        chosen, purpose = (read_program(program), "search") if program else (proposal.program, proposal.purpose)
        cook = (kitchen or self.kitchen).cook(chosen, self.rng, purpose=purpose, cooked_at=self.start_time())
        self.log(cook, changes(cook) if callable(changes) else changes, **row)

    def log(self, cook: TestCook, changes: Changes, *, delay_s: float = 240, **row: Any) -> None:
        """Write one row; `changes` are put on what was measured, None takes a field away."""
        document = cook.model_dump(mode="json", exclude_unset=True)
        document |= {"client_id": self.identity(len(self.rows) + 1), "cook": self.person}
        document["thermometer_checked_at"] = stamp(self.day + timedelta(hours=7, minutes=40))
        document = {name: value for name, value in (document | changes).items() if value is not None}
        if tuner.safety.verdict(self.brief, TestCook.model_validate(document)).status != "safe_to_taste":
            document |= by_eye_only(document)
        questions = questions_about_cook(TestCook.model_validate(document), self.brief, self.kitchen.oven)
        if questions:
            document["confirmed"] = [question.code for question in questions]
        logged_at = datetime.fromisoformat(document["cooked_at"]) + timedelta(seconds=delay_s)
        self.rows.append({"cook": document, "logged_at": stamp(logged_at), "logged_by": self.person, **row})
        self.cooks.append(TestCook.model_validate(document))

    def sent_twice(self) -> None:
        """The last row comes once more: the answer to the first was lost on its way."""
        last = self.rows[-1]
        later = datetime.fromisoformat(last["logged_at"]) + timedelta(seconds=45)
        self.rows.append({**last, "logged_at": stamp(later)})

    def corrected(self, wrong: Changes, reason: str) -> None:
        """The last cook was typed wrongly and is put right by a further row."""
        right = self.rows[-1]
        first = {**right, "cook": {**right["cook"], **wrong}}
        codes = [question.code for question in questions_about_cook(TestCook.model_validate(first["cook"]), self.brief)]
        if codes:
            first["cook"]["confirmed"] = codes
        later = datetime.fromisoformat(right["logged_at"]) + timedelta(minutes=6)
        second = {**right["cook"], "client_id": self.identity(f"{len(self.rows)} corrected")}
        self.rows[-1] = first
        self.rows.append(
            {**right, "cook": second, "logged_at": stamp(later), "corrects": first["cook"]["client_id"], "reason": reason}
        )

    def status(self) -> str:
        """Where the development stands."""
        return tuner.assess(self.brief, self.kitchen.oven, self.cooks).status

    def confirmed(self) -> int:
        """Confirmations that have passed."""
        return tuner.assess(self.brief, self.kitchen.oven, self.cooks).confirmations.passed

    def document(self) -> dict[str, Any]:
        """The development as it stands in the file."""
        first = datetime.fromisoformat(self.rows[0]["logged_at"])
        return {
            "id": self.identity("development"),
            "oven": self.kitchen.oven.name,
            "started_at": stamp(first - timedelta(hours=2)),
            "started_by": self.person,
            "brief": self.brief.model_dump(mode="json", exclude_unset=True),
            "cooks": self.rows,
        }


def stamp(moment: datetime) -> str:
    """A moment as the documents write it."""
    return moment.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")


def by_eye_only(document: Mapping[str, Any]) -> Changes:
    """Marks of a cook that nobody may taste: browning, which is seen."""
    seen = [{name: score[name] for name in ("taster", "browning") if name in score} for score in document.get("scores", ())]
    return {"scores": seen} if seen else {}


def taken_by(tasters: str) -> Callable[[TestCook], Changes]:
    """Marks under other names, or of fewer tasters, than usual."""

    def changed(cook: TestCook) -> Changes:
        marks = [score.model_dump(mode="json", exclude_unset=True) for score in cook.scores or ()]
        return {"scores": [{**mark, "taster": name} for mark, name in zip(marks, tasters, strict=False)]}

    return changed


def asked_about_fahrenheit(cook: TestCook) -> Changes:
    """One reading was typed in °F; the tool asked, and the cook said so."""
    readings = [float(value) for value in cook.readings_c]
    typed = round(readings[1] * 1.8 + 32)
    readings[1] = round((typed - 32) / 1.8, 1)
    return {"core_temperature_c": readings, "note": f"Place 2 was typed as {typed}. Asked; it was °F, so {readings[1]} °C."}


def typed_otherwise(cook: TestCook) -> Changes:
    """The oven was given ten seconds more than was ordered; both are kept."""
    assert cook.program is not None
    program = cook.program.model_dump(mode="json", exclude_unset=True)
    ordered = {**program, "duration_s": program["duration_s"] - 10}
    return {"program": ordered, "program_set": program, "note": "Keyed in ten seconds longer than ordered."}


def with_portion(kitchen: Kitchen, **changes: float) -> Kitchen:
    """The same kitchen with other portions."""
    setup = kitchen.bench.setup
    portion = Portion.model_validate({**setup.portion.model_dump(exclude_unset=True), **changes})
    return replace(kitchen, bench=replace(kitchen.bench, setup=replace(setup, portion=portion)))


def with_brief(brief: Brief, **changes: Any) -> Brief:
    """The same brief with some fields changed."""
    return Brief.model_validate({**brief.model_dump(mode="json", exclude_unset=True), **changes})
