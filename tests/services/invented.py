"""Invented documents and people for the tests of the use cases."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import Any

from tuner.domain import Brief, Oven, Program, Score, TestCook
from tuner.services import APPROVER, Actor, DevelopmentView, Workspace, add_oven, start_development

ANN = Actor("Ann")
BEN = Actor("Ben")
QUINN = Actor("Quinn", role=APPROVER)
VALE = Actor("Vera", customer="Vale")
NORTH = Actor("Nils", customer="North")

PROGRAM: dict[str, Any] = {
    "air_temperature_c": 250,
    "duration_s": 210,
    "stages": [
        {"share_pct": 40, "air_speed_pct": 30, "microwave_pct": 80},
        {"share_pct": 60, "air_speed_pct": 90, "microwave_pct": 20},
    ],
}
LIMIT: dict[str, Any] = {
    "core_temperature_c": 74,
    "rest_s": 120,
    "covered": True,
    "rule": "Food Code 3-401.12",
    "approved_by": "Quinn",
}
YES = {"A": True, "B": True}


class Clock:
    """A clock that the test sets."""

    def __init__(self) -> None:
        self.now = datetime(2026, 3, 2, 11, 0, tzinfo=UTC)

    def __call__(self) -> datetime:
        return self.now

    def forward(self, **by: float) -> None:
        self.now += timedelta(**by)


def oven(**changes: Any) -> Oven:
    document = {
        "name": "Test kitchen left",
        "air_temperature_c": {"low": 200, "high": 270, "step": 5},
        "air_speed_pct": {"low": 10, "high": 100, "step": 5},
        "microwave_pct": {"low": 0, "high": 100, "step": 5},
        "duration_s": {"low": 20, "high": 600, "step": 5},
        "share_step_pct": 5,
        "max_stages": 3,
        "microwave_rated_w": 1500,
    }
    return Oven.model_validate({**document, **changes})


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
        "conventional": {"method": "oven", "oven_temperature_c": 190, "duration_s": 1500},
        "targets": {
            "core_temperature_c": {"low": 74, "high": 84},
            "browning": {"low": 2.5, "high": 3.5},
            "texture": {"low": 2.5, "high": 3.5},
            "moisture": {"low": 2.5, "high": 3.5},
            "cook_loss_pct": {"low": 0, "high": 18},
            "duration_s": {"low": 0, "high": 300},
        },
        "critical_limit": LIMIT,
        "rest_s": 120,
    }
    return Brief.model_validate({name: value for name, value in {**document, **changes}.items() if value is not None})


def scores(**changes: Any) -> list[dict[str, Any]]:
    return [
        {"taster": "A", "browning": 2.5, "texture": 3, "moisture": 3},
        {"taster": "B", "browning": 3, "texture": 3, "moisture": 3.5, **changes},
    ]


def cook(**changes: Any) -> TestCook:
    """A safe cook with everything; None takes a field away."""
    document = {
        "program": PROGRAM,
        "mass_g": 183.0,
        "start_temperature_c": 4.6,
        "core_temperature_c": [76.4, 77.0, 79.1],
        "rest_s": 120,
        "rest_covered": True,
        "completed": True,
        "mass_out_g": 160.2,
        "scores": scores(),
        "purpose": "search",
        "cooked_at": "2026-03-02T10:15:00Z",
        "thermometer_checked_at": "2026-03-02T07:40:00Z",
    }
    return TestCook.model_validate({name: value for name, value in {**document, **changes}.items() if value is not None})


def by_eye() -> list[dict[str, Any]]:
    """Scores of browning alone: nobody ate."""
    return [{"taster": "A", "browning": 2.5}, {"taster": "B", "browning": 3}]


def tasting(taster: str = "A", **marks: float) -> Score:
    return Score.model_validate({"taster": taster, **(marks or {"texture": 3})})


def started(space: Workspace, who: Actor = ANN, **changes: Any) -> DevelopmentView:
    """A development with its oven."""
    record = add_oven(space, who, oven=oven(), client_id="oven")
    return start_development(space, who, brief=brief(**changes), oven_id=record.id, client_id=f"dev {changes.get('dish')}")


def program(**changes: Any) -> Program:
    return Program.model_validate({**PROGRAM, **changes})
