"""The demo as it is kept in the project."""

import json
from pathlib import Path
from types import SimpleNamespace

import pytest

from tuner.domain import Brief, Oven, TestCook

FOLDER = Path(__file__).resolve().parents[2] / "trials_demo"


def standing(rows):
    """The cooks that stand: sent twice counts once, a correction takes the place of what it corrects."""
    kept = {}
    for row in rows:
        kept[row.get("corrects", row["cook"]["client_id"])] = TestCook.model_validate(row["cook"])
    return tuple(kept.values())


@pytest.fixture(scope="session")
def folder():
    return FOLDER


@pytest.fixture(scope="session")
def document():
    return json.loads((FOLDER / "demo.json").read_text(encoding="utf-8"))


@pytest.fixture(scope="session")
def developments(document):
    ovens = {oven["name"]: Oven.model_validate(oven) for oven in document["ovens"]}
    return {
        entry["brief"]["food_class"]: SimpleNamespace(
            brief=Brief.model_validate(entry["brief"]),
            oven=ovens[entry["oven"]],
            rows=entry["cooks"],
            cooks=standing(entry["cooks"]),
        )
        for entry in document["developments"]
    }


@pytest.fixture(scope="session")
def cutlet(developments):
    return developments["whole_muscle"]


@pytest.fixture(scope="session")
def kofta(developments):
    return developments["ground_meat"]


@pytest.fixture(scope="session")
def egg_squares(developments):
    return developments["egg"]
