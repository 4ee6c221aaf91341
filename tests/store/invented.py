"""Invented documents for the tests of the store."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import Any

from tuner.domain import Brief, Oven, Program, Proposal, TestCook
from tuner.store import CookEntry, ProposalEntry, WriteContext

START = datetime(2026, 3, 2, 10, 0, tzinfo=UTC)

OVEN = Oven.model_validate(
    {
        "name": "Test kitchen left",
        "air_temperature_c": {"low": 200, "high": 270, "step": 5},
        "air_speed_pct": {"low": 10, "high": 100, "step": 5},
        "microwave_pct": {"low": 0, "high": 100, "step": 5},
        "duration_s": {"low": 20, "high": 1200, "step": 5},
        "share_step_pct": 5,
        "max_stages": 5,
    }
)
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


def brief(**changes: Any) -> Brief:
    document = {
        "dish": "Herb chicken strip",
        "food_class": "poultry",
        "allergens": ["milk"],
        "portion": {
            "mass_g": 180,
            "shape": "slab",
            "thickness_mm": 28,
            "water": 0.70,
            "fat": 0.08,
            "protein": 0.19,
            "carbohydrate": 0.02,
            "ash": 0.01,
            "start_state": "chilled",
            "start_temperature_c": 4,
        },
        "targets": {"core_temperature_c": {"low": 74, "high": 84}, "browning": {"low": 2.5, "high": 3.5}},
    }
    return Brief.model_validate({**document, **changes})


def cook(**changes: Any) -> TestCook:
    document = {
        "program": PROGRAM.model_dump(),
        "mass_g": 183.0,
        "start_temperature_c": 4.6,
        "core_temperature_c": [76.4, 77.0, 79.1],
        "cooked_at": "2026-03-02T10:15:00Z",
        "note": "Grüße, 日本, Ω",
    }
    return TestCook.model_validate({**document, **changes})


PROPOSAL = Proposal.model_validate(
    {
        "program": PROGRAM.model_dump(),
        "purpose": "first_guess",
        "forecast": {
            "program": PROGRAM.model_dump(),
            "attributes": {
                "core_temperature_c": {"mean": 78.25, "spread": 3.1, "chance_inside": 0.8, "chance_true_inside": 0.9}
            },
            "chance_all_inside": 0.7,
            "chance_safe": 0.95,
        },
        "reasons": ["Energy first."],
    }
)


def context(name: str = "Ann", customer: str | None = None, *, minutes: float = 0) -> WriteContext:
    return WriteContext(name, customer, "developer", START + timedelta(minutes=minutes))


def cook_entry(client_id: str, **changes: Any) -> CookEntry:
    return CookEntry(cook=changes.pop("cook", cook()), client_id=client_id, **changes)


def proposal_entry(client_id: str, **changes: Any) -> ProposalEntry:
    given: dict[str, Any] = {
        "proposal": PROPOSAL,
        "kind": "next",
        "seed": 0,
        "versions": {"tuner": "0.1.0", "numpy": "2.4"},
        "asked": {"count": 1, "pending": [], "refused": []},
        "data_hash": "d" * 64,
        "oven_version": 1,
    }
    return ProposalEntry(client_id=client_id, **{**given, **changes})
