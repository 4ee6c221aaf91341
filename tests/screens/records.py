"""Records as the services answer them, built in memory from the example documents."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import Any

from tests.example import brief, cook, oven
from tuner import proof, safety
from tuner.domain import (
    Assessment,
    AttributeForecast,
    Brief,
    Confirmations,
    Feasibility,
    Forecast,
    Program,
    Proposal,
    TestCook,
)
from tuner.services import (
    BriefVersion,
    CookOutcome,
    CookRecord,
    CookSheetRecord,
    DecisionRecord,
    DevelopmentSummary,
    DevelopmentView,
    ProposalRecord,
)

WHEN = datetime(2026, 3, 2, 11, 0, tzinfo=UTC)
NASTY = '<img src=x onerror="alert(1)">'
"""Text that must stay text wherever it is shown."""

PROGRAM = Program.model_validate(
    {
        "air_temperature_c": 250,
        "duration_s": 210,
        "stages": [
            {"share_pct": 40, "air_speed_pct": 30, "microwave_pct": 80},
            {"share_pct": 60, "air_speed_pct": 90, "microwave_pct": 20},
        ],
    }
)


def forecast(program: Program = PROGRAM) -> Forecast:
    means = {"core_temperature_c": 79.6, "browning": 2.9, "texture": 3.1, "moisture": 3.0, "cook_loss_pct": 15.4}
    attributes = {
        name: AttributeForecast(mean=mean, spread=0.25, chance_inside=0.9, chance_true_inside=0.95)
        for name, mean in means.items()
    }
    return Forecast(program=program, attributes=attributes, chance_all_inside=0.72, chance_safe=0.97)


def record(number: int = 1, *, of: Brief | None = None, tested: TestCook | None = None, **changes: Any) -> CookRecord:
    wanted, done = of or brief(), tested or cook()
    judged = proof.judge(wanted, done)
    fields: dict[str, Any] = {
        "id": f"cook-{number}",
        "number": number,
        "cook": done,
        "verdict": safety.verdict(wanted, done),
        "outcome": CookOutcome(judged.result, judged.outside, judged.missing),
        "margins": proof.margins(wanted, done),
        "counts": True,
        "corrects": None,
        "superseded": False,
        "logged_at": WHEN,
        "logged_by": "R. Osei",
        "delay_s": 60.0,
    }
    return CookRecord(**(fields | changes))


def proposal(number: int = 1, *, reasons: tuple[str, ...] = ("late air is low",), **changes: Any) -> ProposalRecord:
    fields: dict[str, Any] = {
        "id": f"proposal-{number}",
        "number": number,
        "proposal": Proposal(program=PROGRAM, purpose="search", forecast=forecast(), reasons=reasons),
        "kind": "next",
        "state": "open",
        "decision": None,
        "seed": 0,
        "tool_version": "0",
        "libraries": {},
        "data_hash": "",
        "brief_version": 1,
        "issued_at": WHEN,
        "issued_by": "R. Osei",
    }
    return ProposalRecord(**(fields | changes))


def decided(number: int = 1, *, decision: str = "refuse", reason: str = "too slow") -> ProposalRecord:
    made = DecisionRecord(f"proposal-{number}", decision, None, reason, WHEN, "R. Osei")  # type: ignore[arg-type]
    return proposal(number, decision=made, state="refused")


def assessment(**changes: Any) -> Assessment:
    fields: dict[str, Any] = {
        "status": "gathering",
        "best_program": PROGRAM,
        "confirmations": Confirmations(passed=0, needed=3),
        "chance_reliable": 0.4,
        "cooks_left_estimate": 4.0,
        "cooks_left_range": (3.0, 7.0),
        "advice": ("Cook the next proposal.",),
    }
    return Assessment(**(fields | changes))


def view(*cooks: CookRecord, of: Brief | None = None, **changes: Any) -> DevelopmentView:
    wanted = of or brief()
    fields: dict[str, Any] = {
        "id": "development-1",
        "dish": wanted.dish,
        "customer": wanted.customer,
        "state": "open",
        "state_reason": "",
        "brief": wanted,
        "brief_version": 1,
        "brief_versions": (BriefVersion(1, wanted, WHEN, "R. Osei"),),
        "oven": oven(),
        "oven_id": "oven-1",
        "oven_version": 1,
        "cooks": cooks,
        "proposals": (),
        "decisions": (),
        "assessment": assessment(),
        "feasibility": Feasibility(possible="yes", pass_chance=0.6),
        "limit": safety.effective_limit(wanted),
        "copied_from": None,
        "started_at": WHEN,
        "started_by": "R. Osei",
        "moved_at": WHEN,
        "token": 1,
    }
    return DevelopmentView(**(fields | changes))


def summary(number: int = 1, **changes: Any) -> DevelopmentSummary:
    fields: dict[str, Any] = {
        "id": f"development-{number}",
        "dish": f"Dish {number}",
        "customer": None,
        "oven_name": "Test kitchen left",
        "status": "gathering",
        "waits_for": "you: log cook 2",
        "my_turn": True,
        "idle_days": 0,
        "cook_count": 1,
        "best_program": PROGRAM,
        "chance_reliable": 0.4,
        "cooks_left_estimate": 4.0,
        "cooks_left_range": (3.0, 7.0),
        "moved_at": WHEN,
        "token": 1,
    }
    return DevelopmentSummary(**(fields | changes))


def cook_sheet(number: int = 1, **changes: Any) -> CookSheetRecord:
    """A cook sheet of the first proposal, just made."""
    given = {
        "id": f"sheet-{number}",
        "number": number,
        "development_id": "development-1",
        "proposal_id": "proposal-1",
        "dish": "Herb chicken strip",
        "program": PROGRAM,
        "for_cook": None,
        "language": "en",
        "state": "sent",
        "issued_at": WHEN,
        "issued_by": "R. Osei",
        "expires_at": WHEN + timedelta(days=14),
        "opened_at": None,
        "withdrawn_because": None,
        "cook_ids": (),
        "fragment": f"sheet=sheet-{number}&s=abc",
    }
    return CookSheetRecord(**{**given, **changes})
