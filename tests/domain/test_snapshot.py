"""What an export must carry, and what it must not accept."""

from __future__ import annotations

import copy

import pytest
from pydantic import ValidationError

from tuner.domain import Snapshot

_AT = "2026-03-02T10:15:00Z"
_OVEN = {
    "name": "Left",
    "air_temperature_c": {"low": 200, "high": 270, "step": 5},
    "air_speed_pct": {"low": 10, "high": 100, "step": 5},
    "microwave_pct": {"low": 0, "high": 100, "step": 5},
    "duration_s": {"low": 20, "high": 1200, "step": 5},
    "share_step_pct": 5,
    "max_stages": 3,
}
_BRIEF = {
    "dish": "Barley patty",
    "food_class": "plant",
    "portion": {
        "mass_g": 120,
        "shape": "slab",
        "thickness_mm": 18,
        "water": 0.6,
        "fat": 0.1,
        "protein": 0.1,
        "carbohydrate": 0.17,
        "ash": 0.02,
        "start_state": "chilled",
        "start_temperature_c": 4,
    },
}
_PROGRAM = {
    "air_temperature_c": 250,
    "duration_s": 150,
    "stages": [{"share_pct": 100, "air_speed_pct": 50, "microwave_pct": 40}],
}


def _document() -> dict:
    return {
        "format": "test-cook-tuner/1",
        "ovens": [{"id": "o1", "versions": [{"number": 1, "oven": _OVEN, "by": "mk", "at": _AT}]}],
        "developments": [
            {
                "id": "d1",
                "oven_id": "o1",
                "brief_versions": [{"number": 1, "brief": _BRIEF, "by": "mk", "at": _AT}],
                "cooks": [
                    {"id": "c1", "number": 1, "cook": {"program": _PROGRAM}, "by": "mk", "at": _AT},
                    {
                        "id": "c2",
                        "number": 1,
                        "cook": {"program": _PROGRAM, "mass_g": 121.0},
                        "corrects": "c1",
                        "reason": "mass was left out",
                        "by": "mk",
                        "at": _AT,
                    },
                ],
            }
        ],
    }


def test_a_snapshot_is_written_back_as_it_was_read() -> None:
    document = _document()
    assert Snapshot.model_validate(document).model_dump(mode="json", exclude_unset=True) == document


def test_the_newest_brief_counts() -> None:
    document = _document()
    newer = {"number": 2, "brief": {**_BRIEF, "dish": "Barley patty, larger"}, "by": "mk", "at": _AT}
    document["developments"][0]["brief_versions"].append(newer)
    assert Snapshot.model_validate(document).developments[0].brief.dish == "Barley patty, larger"


def _unknown_oven(document: dict) -> None:
    document["developments"][0]["oven_id"] = "o9"


def _double_cook(document: dict) -> None:
    document["developments"][0]["cooks"][1]["id"] = "c1"
    document["developments"][0]["cooks"][1].pop("corrects")


def _correction_of_nothing(document: dict) -> None:
    document["developments"][0]["cooks"][1]["corrects"] = "c7"


def _double_oven(document: dict) -> None:
    document["ovens"].append(copy.deepcopy(document["ovens"][0]))


def _versions_out_of_order(document: dict) -> None:
    version = copy.deepcopy(document["ovens"][0]["versions"][0])
    document["ovens"][0]["versions"].append(version)


def _other_format(document: dict) -> None:
    document["format"] = "test-cook-tuner/99"


@pytest.mark.parametrize(
    ("damage", "words"),
    [
        (_unknown_oven, "uses oven 'o9'"),
        (_double_cook, "hold the id 'c1' twice"),
        (_correction_of_nothing, "corrects 'c7'"),
        (_double_oven, "hold the id 'o1' twice"),
        (_versions_out_of_order, "Numbers must rise"),
        (_other_format, "test-cook-tuner/1"),
    ],
)
def test_a_snapshot_that_does_not_hold_together_is_refused(damage, words: str) -> None:
    document = _document()
    damage(document)
    with pytest.raises(ValidationError) as refused:
        Snapshot.model_validate(document)
    assert words in str(refused.value)
