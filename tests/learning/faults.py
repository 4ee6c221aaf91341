"""Developments in simulated kitchens whose last cooks have one known fault, the truth of a diagnosis."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from tuner.domain import Program, TestCook
from tuner.learning.candidates import neighbours
from tuner.learning.goals import goals_of
from tuner.learning.grid import grid_of
from tuner.rehearsal import Kitchen, kitchen

KITCHENS = ("pork-cutlet", "egg-squares", "paprika-strips", "cauliflower-crumb")
_ROUNDS = 8


@dataclass(frozen=True, eq=False)
class Case:
    """Cooks whose last ones have the fault `cause`."""

    where: Kitchen
    cooks: list[TestCook]
    cause: str


Fault = Callable[[Kitchen, Program, list[TestCook], np.random.Generator], list[TestCook]]


def history(where: Kitchen, rng: np.random.Generator) -> list[TestCook]:
    """Cooks round a good program, the good one itself among them."""
    goals = goals_of(where.brief)
    grid = grid_of(where.brief, where.oven, goals)
    code = grid.snapped(where.good_program)
    assert code is not None
    wide = neighbours(rng, neighbours(rng, code[None, :], 12, grid), 2, grid)
    others = grid.programs(wide[rng.permutation(len(wide))[:_ROUNDS]])
    programs = [*others[: _ROUNDS // 2], where.good_program, *others[_ROUNDS // 2 :], where.good_program, where.good_program]
    return [where.cook(program, rng) for program in programs]


def _portion(where: Kitchen, **changes: float) -> Kitchen:
    setup = where.bench.setup
    portion = setup.portion.model_copy(update=changes)
    return replace(where, bench=replace(where.bench, setup=replace(setup, portion=portion)))


def _cook(where: Kitchen, program: Program, rng: np.random.Generator, **record: object) -> TestCook:
    cook = where.cook(program, rng)
    document = {**cook.model_dump(mode="json", exclude_unset=True), **record}
    return TestCook.model_validate({name: value for name, value in document.items() if value is not None})


def cold_start(where: Kitchen, program: Program, before: list[TestCook], rng: np.random.Generator) -> list[TestCook]:
    """A portion much colder or warmer than the brief's, written down."""
    usual = where.bench.setup.portion.start_temperature_c
    away = 14.0 if usual < 15 else -15.0
    return [_cook(_portion(where, start_temperature_c=usual + away), program, rng)]


def unwritten_start(where: Kitchen, program: Program, before: list[TestCook], rng: np.random.Generator) -> list[TestCook]:
    """The same, not written down."""
    usual = where.bench.setup.portion.start_temperature_c
    away = 12.0 if usual < 15 else -13.0
    return [_cook(_portion(where, start_temperature_c=usual + away), program, rng, start_temperature_c=None)]


def heavy_portion(where: Kitchen, program: Program, before: list[TestCook], rng: np.random.Generator) -> list[TestCook]:
    """A portion a quarter heavier than the brief's, weighed."""
    portion = where.bench.setup.portion
    return [_cook(_portion(where, mass_g=1.25 * portion.mass_g, thickness_mm=1.1 * portion.thickness_mm), program, rng)]


def wrong_thermometer(where: Kitchen, program: Program, before: list[TestCook], rng: np.random.Generator) -> list[TestCook]:
    """A thermometer that reads ten degrees wrong."""
    cook = _cook(where, program, rng)
    away = float(rng.choice([-11.0, 11.0]))
    return [cook.model_copy(update={"core_temperature_c": tuple(round(value + away, 1) for value in cook.readings_c)})]


def weak_magnetron(where: Kitchen, program: Program, before: list[TestCook], rng: np.random.Generator) -> list[TestCook]:
    """An oven that lost two fifths of its watts three cooks ago."""
    rated = where.oven.microwave_rated_w or 1500.0
    weak = where.on(where.oven.model_copy(update={"microwave_rated_w": 0.6 * rated}))
    return [_cook(weak, program, rng) for _ in range(3)]


def new_lot(where: Kitchen, program: Program, before: list[TestCook], rng: np.random.Generator) -> list[TestCook]:
    """Another lot, that browns four times as fast."""
    before[:] = [cook.model_copy(update={"lot": "L1"}) for cook in before]
    setup = where.bench.setup
    nature = setup.nature
    faster = replace(
        nature.browning, first_per_s=4.0 * nature.browning.first_per_s, second_per_s=4.0 * nature.browning.second_per_s
    )
    sugary = replace(where, bench=replace(where.bench, setup=replace(setup, nature=replace(nature, browning=faster))))
    return [_cook(sugary, program, rng, lot="L2")]


def other_panel(where: Kitchen, program: Program, before: list[TestCook], rng: np.random.Generator) -> list[TestCook]:
    """Tasters who were never there before and mark a step higher."""
    cook = _cook(where, program, rng)
    scores = []
    for score in cook.scores or ():
        marks = {
            name: None if (mark := getattr(score, name)) is None else min(mark + 1.0, 5.0)
            for name in ("browning", "texture", "moisture")
        }
        known = {name: mark for name, mark in marks.items() if mark is not None}
        scores.append({"taster": f"New {score.taster}", **known})
    return [TestCook.model_validate({**cook.model_dump(mode="json", exclude_unset=True), "scores": scores})]


def wrong_program(where: Kitchen, program: Program, before: list[TestCook], rng: np.random.Generator) -> list[TestCook]:
    """A program that is simply wrong: far too long or far too short."""
    times = float(rng.choice([0.6, 1.5]))
    step = where.oven.duration_s.step or 1.0
    low, high = where.oven.duration_s.low, where.oven.duration_s.high
    duration = float(np.clip(low + step * round((program.duration_s * times - low) / step), low, high))
    return [_cook(where, program.model_copy(update={"duration_s": duration}), rng)]


def wrong_keys(where: Kitchen, program: Program, before: list[TestCook], rng: np.random.Generator) -> list[TestCook]:
    """Another program keyed in than ordered, and written down so."""
    [cook] = wrong_program(where, program, before, rng)
    done = cook.program
    assert done is not None
    document = cook.model_dump(mode="json", exclude_unset=True)
    keyed = {"program": program.model_dump(mode="json"), "program_set": done.model_dump(mode="json")}
    return [TestCook.model_validate({**document, **keyed})]


def bad_luck(where: Kitchen, program: Program, before: list[TestCook], rng: np.random.Generator) -> list[TestCook]:
    """Nothing wrong: of many cooks of a good program one that misses a window by chance."""
    from tuner.proof import judge

    for _ in range(400):
        cook = _cook(where, program, rng)
        if judge(where.brief, cook).result == "fail":
            return [cook]
    raise AssertionError("no cook of the good program failed by chance")


FAULTS: dict[str, tuple[str, Fault]] = {
    "cold or warm start": ("start_temperature", cold_start),
    "start not written down": ("start_temperature", unwritten_start),
    "heavy portion": ("portion_mass", heavy_portion),
    "thermometer": ("reading", wrong_thermometer),
    "weak magnetron": ("oven", weak_magnetron),
    "new lot": ("lot", new_lot),
    "other panel": ("panel", other_panel),
    "wrong program": ("program", wrong_program),
    "keyed in wrong": ("keyed_in", wrong_keys),
    "bad luck": ("chance", bad_luck),
}


def cases() -> list[tuple[str, Case]]:
    """Forty faults: ten kinds in four kitchens."""
    found = []
    for row, name in enumerate(KITCHENS):
        where = kitchen(name)
        for column, (kind, (cause, fault)) in enumerate(FAULTS.items()):
            rng = np.random.default_rng([row, column, 77])
            before = history(where, rng)
            newest = fault(where, where.good_program, before, rng)
            found.append((f"{name}: {kind}", Case(where, [*before, *newest], cause)))
    return found
