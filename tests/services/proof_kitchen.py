"""A development on its way through a proof: slots cooked as the plan asks, with the margin a test gives."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

from tests.services.invented import ANN, LIMIT, Clock, cook, oven, program
from tests.services.invented import brief as plain_brief
from tuner.domain import Brief, PlanSetting, PlanSlot, TestCook
from tuner.services import (
    Actor,
    DevelopmentView,
    ProofView,
    Workspace,
    add_oven,
    cook_plan_slot,
    fix_plan,
    log_cook,
    start_development,
)

NONE = {"none": True, "rule": "crumb only", "approved_by": "Quinn"}
LIGHT: dict[str, Any] = {"food_class": "bakery", "critical_limit": NONE, "allergens": ["gluten"]}
STANDARD: dict[str, Any] = {"food_class": "reheated", "critical_limit": LIMIT}
OVENS = ("A", "B", "C", "D", "E", "F")
LINE_C = 76.0
FOUR = [{"taster": name, "browning": 3, "texture": 3, "moisture": 3} for name in "KLMN"]
FOUR_YES = dict.fromkeys("KLMN", True)


def brief(**changes: Any) -> Brief:
    return plain_brief(**{**STANDARD, **changes})


def developed(space: Workspace, clock: Clock, *, floor: bool = True, **changes: Any) -> DevelopmentView:
    """A development whose program has passed the simple rule, unless that is left out."""
    record = add_oven(space, ANN, oven=oven(serial="A"), client_id="oven")
    view = start_development(space, ANN, brief=brief(**changes), oven_id=record.id, client_id=f"dev {sorted(changes)}")
    for index in range(4 if floor else 0):
        at = clock.now - timedelta(hours=3, minutes=-10 * index)
        sent = cook(
            core_temperature_c=[79.0, 80.0, 80.5],
            cooked_at=at.isoformat(),
            thermometer_checked_at=(at - timedelta(hours=1)).isoformat(),
            scores=FOUR,
        )
        log_cook(space, ANN, development_id=view.id, cook=sent, may_taste=FOUR_YES, client_id=f"floor {index}")
    return view


def fixed(space: Workspace, view: DevelopmentView, who: Actor = ANN, **more: Any) -> ProofView:
    setting = PlanSetting(ovens=OVENS, people=("Ann", "Ben"), lots=("L1", "L2"), greatest_load=2, seed=5)
    return fix_plan(space, who, development_id=view.id, program=program(), **{"setting": setting, **more})


def slot_cook(slot: PlanSlot, clock: Clock, y: float = 4.0, **changes: Any) -> TestCook:
    at = clock.now + timedelta(days=slot.day - 1, minutes=10 * slot.number)
    document = {
        "purpose": "proof",
        "mass_g": slot.mass_g,
        "start_temperature_c": slot.start_temperature_c,
        "core_temperature_c": [round(LINE_C + y + 0.1 * (slot.number % 4) + 0.2 * place, 3) for place in range(slot.places)],
        "mass_out_g": round(slot.mass_g * (0.9 - 0.001 * (slot.number % 5)), 2),
        "scores": FOUR if slot.scored else None,
        "cooked_at": at.isoformat(),
        "thermometer_checked_at": (at - timedelta(hours=1)).isoformat(),
        "cook": slot.person,
        "lot": slot.lot,
        "load": slot.load,
        "oven_serial": slot.oven,
        "seconds_since_last_cook": 60 if slot.hot else 1200,
        "confirmed": ["load", "core_temperature_c"],
    }
    return cook(**{**document, **changes})


def cook_slot(space: Workspace, proof: ProofView, slot: PlanSlot, clock: Clock, y: float = 4.0, **changes: Any) -> ProofView:
    sent = slot_cook(slot, clock, y, **changes)
    may_taste = FOUR_YES if sent.scores else None
    return cook_plan_slot(space, ANN, plan_id=proof.id, slot=slot.number, cook=sent, may_taste=may_taste)


def cook_all(space: Workspace, proof: ProofView, clock: Clock, y: float = 4.0, leave: int = 0) -> ProofView:
    for slot in proof.next_slots[: len(proof.next_slots) - leave]:
        proof = cook_slot(space, proof, slot, clock, y)
    return proof
