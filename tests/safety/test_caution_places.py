"""Each caution is shown where it must appear: every place is asked for by something that people see."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

from tuner import safety

SOURCE = Path(__file__).parents[2] / "tuner"
CARD = sorted((SOURCE / "services").glob("card*.py"))


def _asked_for() -> set[str]:
    """Places named in calls of `cautions` and of what shows them, outside the room of safety."""
    found: set[str] = set()
    for path in SOURCE.rglob("*.py"):
        if "safety" in path.parts:
            continue
        tree = ast.parse(path.read_text("utf-8"))
        constants = {
            target.id: node.value.value
            for node in ast.walk(tree)
            if isinstance(node, ast.Assign) and isinstance(node.value, ast.Constant) and isinstance(node.value.value, str)
            for target in node.targets
            if isinstance(target, ast.Name)
        }
        for node in ast.walk(tree):
            if isinstance(node, ast.Call) and _name(node.func) in {"cautions", "show_cautions"}:
                for argument in node.args:
                    if isinstance(argument, ast.Constant) and isinstance(argument.value, str):
                        found.add(argument.value)
                    elif isinstance(argument, ast.Name) and argument.id in constants:
                        found.add(constants[argument.id])
    return found


def _name(function: ast.expr) -> str:
    return function.attr if isinstance(function, ast.Attribute) else getattr(function, "id", "")


@pytest.mark.parametrize("place", [place for place in safety.PLACES if not place.endswith("card")])
def test_somebody_shows_the_cautions_of_a_place(place: str) -> None:
    assert place in _asked_for()


@pytest.mark.parametrize("place", ["card", "light-plan card"])
def test_the_card_chooses_among_all_that_belong_on_it(place: str) -> None:
    written = {
        node.value
        for path in CARD
        for node in ast.walk(ast.parse(path.read_text("utf-8")))
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    }
    assert {caution.code for caution in safety.cautions(place)} <= written


def test_no_place_is_asked_for_that_has_none() -> None:
    assert _asked_for() <= set(safety.PLACES)
