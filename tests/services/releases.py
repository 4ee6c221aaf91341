"""Invented people, recipes and proofs for the tests of releases. Passwords cost little here, so that tests are quick."""

from __future__ import annotations

import io
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from typing import Any

from PIL import Image

from tests.services.invented import ANN, PROGRAM, cook, started
from tuner.domain import Program
from tuner.domain.recipe import Recipe
from tuner.services import Actor, DevelopmentView, Workspace, log_cook
from tuner.services.password_cost import PasswordCost
from tuner.services.people import add_account
from tuner.services.recipes import RecipeView, save_recipe
from tuner.services.release_reading import ReleaseView
from tuner.services.release_signing import sign_release
from tuner.services.releasing import begin_proving, draft_release, mark_proven, propose_candidate, seal_release
from tuner.store import RecordEntry

CHEAP = PasswordCost(time=1, memory_kib=64, lanes=1)
QUINN = Actor("Quinn")
CARL = Actor("Carl")
ROOT = Actor("Root")
PROVED = Program.model_validate(PROGRAM)
COOKED = datetime(2026, 3, 2, 10, 10, tzinfo=UTC)
PEOPLE = (
    ("Root", "administrator"),
    ("Ann", "developer"),
    ("Quinn", "food-safety approver"),
    ("Carl", "customer approver"),
)


def password(name: str) -> str:
    return f"correct horse {name}"


def cheap(space: Workspace) -> Workspace:
    return replace(space, password_cost=CHEAP)


def with_people(space: Workspace, *, customer: str | None = None) -> dict[str, str]:
    """Accounts of an administrator, a developer (Ann), an approver (Quinn) and a customer approver (Carl): ids by name."""
    added = {}
    for name, role in PEOPLE:
        account = add_account(
            space,
            ROOT,
            name=name,
            password=password(name),
            roles=[role],  # type: ignore[list-item]
            customer=customer if name == "Carl" else None,
            own_password=password("Root"),
        )
        added[name] = account.id
    return added


def picture(colour: str = "peru") -> bytes:
    written = io.BytesIO()
    Image.new("RGB", (320, 240), colour).save(written, "PNG")
    return written.getvalue()


def recipe(**changes: Any) -> Recipe:
    document = {
        "ingredients": [
            {"name": "chicken strip", "amount_g": 1800, "allergens": []},
            {"name": "herb crumb", "amount_g": 120, "allergens": ["gluten", "milk"], "may_contain": ["sesame"]},
        ],
        "before": ["Thaw in the chiller overnight.", "Coat with crumb on one side."],
        "after": ["Lift onto a warm plate."],
        "trayware": "ceramic tray, 20 cm",
        "placement": "centred, crumb up",
        "portions": 10,
        "serving_g": 160,
        "hold_s": 0,
        "fallback": "Conventional oven 190 °C, 25 min, same limit.",
    }
    return Recipe.model_validate({**document, **changes})


def written(space: Workspace, development_id: str, **changes: Any) -> RecipeView:
    return save_recipe(space, ANN, development_id=development_id, recipe=recipe(**changes), photo=picture())


def confirmed(
    space: Workspace, view: DevelopmentView, *, count: int = 4, program: Program = PROVED, start: int = 0
) -> list[str]:
    """Cooks of the program that pass: their ids."""
    ids = []
    for number in range(start, start + count):
        sent = cook(
            program=program.model_dump(),
            cooked_at=(COOKED + timedelta(seconds=10 * number)).isoformat(),
            core_temperature_c=[78.0, 78.5, 79.0],
        )
        outcome = log_cook(
            space, ANN, development_id=view.id, cook=sent, client_id=f"cook-{number}", may_taste={"A": True, "B": True}
        )
        ids.append(outcome.id)
    return ids


def record(space: Workspace, development_id: str, kind: str, content: dict[str, Any], client_id: str, **given: Any) -> str:
    """What the proof room writes."""
    with space.store.unit_of_work(space.context(Actor("Prover"))) as work:
        added = work.records.add(work.developments.one(development_id), RecordEntry(kind, content, client_id, **given))
        work.commit()
    return added.id


def proof_result(cook_ids: list[str], **changes: Any) -> dict[str, Any]:
    return {
        "attempt": 1,
        "plan_hash": "ab" * 32,
        "plan_id": "plan",
        "strength": "full",
        "complete": True,
        "passed": True,
        "claim": "proven: 95 % sure that at least 95 % comply at the worst corner",
        "program": PROVED.model_dump(mode="json"),
        "brief_version": 1,
        "map_and_worst_corner": True,
        "statistics": [
            {
                "name": "tolerance limit at the worst corner",
                "method": "one-sided normal, exact non-central t",
                "value": 0.7,
                "unit": "°C",
                "needed": ">= 0",
                "passed": True,
                "n": 15,
            }
        ],
        "cooks": [
            {"cook_id": id_, "number": place + 1, "part": "worst corner", "y_c": 2.0, "passed": True, "excluded": None}
            for place, id_ in enumerate(cook_ids)
        ],
        "ovens": ["Test kitchen left"],
        **changes,
    }


def window(**changes: Any) -> dict[str, Any]:
    return {
        "program": PROVED.model_dump(mode="json"),
        "start_temperature_c": {"low": 1, "high": 5},
        "mass_g": {"low": 171, "high": 189},
        "load": {"low": 1, "high": 1},
        "lowest_oven_w": 980,
        "hot_oven": True,
        "chance": 0.95,
        "words": ["180 g ± 9 g, from 1 to 5 °C, one at a time"],
        **changes,
    }


def proved(space: Workspace, development_id: str, cook_ids: list[str], **changes: Any) -> None:
    record(space, development_id, "proof_plan", {"program": PROVED.model_dump(mode="json")}, "plan")
    record(space, development_id, "proof_result", proof_result(cook_ids, **changes), "result")
    record(space, development_id, "operating_window", window(), "window")


def top_up(space: Workspace, development_id: str) -> None:
    program = {**PROVED.model_dump(mode="json"), "duration_s": 40}
    content = {"program": program, "for_program": PROVED.model_dump(mode="json"), "strength": "full", "passed": True}
    record(space, development_id, "top_up", content, "top up")


def at_proven(space: Workspace, **brief: Any) -> ReleaseView:
    """A version with everything it needs, up to `proven`."""
    view = started(space, **brief)
    written(space, view.id)
    ids = confirmed(space, view)
    proved(space, view.id, ids)
    version = draft_release(space, ANN, development_id=view.id, program=PROVED)
    propose_candidate(space, ANN, release_id=version.id)
    begin_proving(space, ANN, release_id=version.id)
    return mark_proven(space, ANN, release_id=version.id)


def signed(space: Workspace, version: ReleaseView) -> ReleaseView:
    sign_release(space, ANN, release_id=version.id, role="developer", password=password("Ann"))
    return sign_release(space, QUINN, release_id=version.id, role="food-safety approver", password=password("Quinn"))


def released(space: Workspace, **brief: Any) -> ReleaseView:
    """A release with all its signatures."""
    version = at_proven(space, **brief)
    return signed(space, seal_release(space, ANN, release_id=version.id))
