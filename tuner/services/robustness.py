"""Robustness: the cooks that find what a recipe minds, and the operating window for the card."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from tuner.domain import InvalidDocument, NotAllowed, NotFound, PlanSetting, Program
from tuner.services.actor import Actor
from tuner.services.loading import Loaded, read_development, read_rest, refuse_unless_open
from tuner.services.texts import given_or_made_id
from tuner.services.workspace import Workspace
from tuner.store import KeptRecord, Reading, RecordEntry, UnitOfWork

if TYPE_CHECKING:
    from tuner.domain import PlanSlot
    from tuner.proof.benchmark_cooks import BenchmarkSummary
    from tuner.proof.robustness_results import Robustness

PLAN = "robustness_plan"
WINDOW = "operating_window"


@dataclass(frozen=True, slots=True)
class RobustnessView:
    """A robustness plan and what its cooks show so far.

    Attributes
    ----------
    runs
        The ten cooks, in the order drawn, with their conditions.
    cooks
        Measured cooks of the program that are used, whatever they were cooked for.
    found
        None while there are too few.
    missing
        What is missing, in words; empty once there is a result.
    """

    id: str
    development_id: str
    program: Program
    runs: tuple[PlanSlot, ...]
    cooks: int
    found: Robustness | None
    missing: str


def plan_robustness(
    space: Workspace,
    who: Actor,
    *,
    development_id: str,
    program: Program,
    setting: PlanSetting | None = None,
    client_id: str | None = None,
) -> RobustnessView:
    """Plan the robustness cooks of a program: eight two-level runs and two in the middle.

    The ovens of the setting are the weakest first and the strongest last; its worst corner says how far mass, start and load
    are varied. The cooks are logged as any other, with the levels that were achieved; they are for finding out, not for proof.

    Raises
    ------
    Conflict
        If the id was used before with another plan.
    InvalidDocument
        If the worst corner is easier than the brief.
    NotAllowed
        If the development is closed.
    NotFound
        If there is no such development, or none this person may see.
    """
    from tuner.proof.plan_slots import robustness_runs

    made = given_or_made_id(client_id)
    with space.store.unit_of_work(space.context(who)) as work:
        loaded = read_development(work, development_id)
        if made not in {one.stamp.client_id for one in work.records.of_development(development_id, PLAN)}:
            refuse_unless_open(loaded.development)
        filled, runs = robustness_runs(loaded.brief, setting or PlanSetting())
        content: dict[str, Any] = {
            "program": program.model_dump(mode="json"),
            "setting": filled.model_dump(mode="json"),
            "runs": [run.model_dump(mode="json") for run in runs],
        }
        added = work.records.add(loaded.development, RecordEntry(PLAN, content, made))
        view = _view(loaded, work.records.one(added.id))
        work.commit()
    return view


def view_robustness(space: Workspace, who: Actor, *, plan_id: str) -> RobustnessView:
    """A robustness plan and what its cooks show so far: effects, operating window, worst corners, price of widening.

    Raises
    ------
    NotFound
        If there is no such plan, or none this person may see.
    """
    with space.store.read(who.customer) as reading:
        return _view(*_read(reading, plan_id))


def _read(reading: Reading | UnitOfWork, plan_id: str) -> tuple[Loaded, KeptRecord]:
    record = reading.records.one(plan_id)
    if record.kind != PLAN or record.development_id is None:
        raise NotFound(f"No robustness plan has the id {plan_id!r}. Check the id.")
    return read_rest(reading, reading.developments.one(record.development_id)), record


def _view(loaded: Loaded, record: KeptRecord) -> RobustnessView:
    from tuner.domain import PlanSlot
    from tuner.proof.robustness import robustness
    from tuner.proof.robustness_results import Observation, Ranges

    program = Program.model_validate(record.content["program"])
    setting = PlanSetting.model_validate(record.content["setting"])
    portion = loaded.brief.portion
    ranges = Ranges(
        mass_g=portion.mass_g,
        start_c=portion.start_temperature_c,
        mass_reach_g=(setting.heaviest_g or portion.mass_g) - portion.mass_g,
        start_reach_c=portion.start_temperature_c
        - (portion.start_temperature_c if setting.coldest_c is None else setting.coldest_c),
        greatest_load=setting.greatest_load,
    )
    own = loaded.oven.serial or loaded.oven.name
    seen = [
        Observation(cook, _power(cook.oven_serial or own, setting), _hot(cook.seconds_since_last_cook))
        for cook in loaded.cooks
        if cook.done_program is not None and cook.done_program.key == program.key and cook.completed is not False
    ]
    found, missing = None, ""
    try:
        found = robustness(loaded.brief, ranges, seen)
    except InvalidDocument as error:
        missing = str(error)
    runs = tuple(PlanSlot.model_validate(run) for run in record.content["runs"])
    return RobustnessView(record.id, loaded.development.id, program, runs, len(seen), found, missing)


def _power(oven: str, setting: PlanSetting) -> float:
    """Where an oven lies between the strongest (-1) and the weakest (+1) of the setting; others lie in the middle."""
    ovens: Sequence[str] = setting.ovens
    if len(ovens) < 2 or oven not in ovens:
        return 0.0
    return 1.0 - 2.0 * ovens.index(oven) / (len(ovens) - 1)


def _hot(seconds_since_last_cook: float | None) -> bool:
    from tuner.proof.plan_cooks import HOT_WITHIN_S

    return seconds_since_last_cook is not None and seconds_since_last_cook <= HOT_WITHIN_S


def keep_operating_window(space: Workspace, who: Actor, *, plan_id: str, client_id: str | None = None) -> RobustnessView:
    """Keep the operating window that the cooks show, for the card; a later one takes its place and neither is lost.

    Raises
    ------
    Conflict
        If the id was used before with another window.
    NotAllowed
        If the cooks show no window that holds with 95 % chance.
    NotFound
        If there is no such plan, or none this person may see.
    """
    made = given_or_made_id(client_id)
    with space.store.unit_of_work(space.context(who)) as work:
        loaded, record = _read(work, plan_id)
        view = _view(loaded, record)
        window = view.found.window if view.found else None
        if window is None or view.found is None:
            raise NotAllowed(
                view.missing or "No window holds with 95 % chance, not even for the brief's own portion. Change the program."
            )
        content: dict[str, Any] = {
            "program": view.program.model_dump(mode="json"),
            "start_temperature_c": {"low": window.start_c[0], "high": window.start_c[1]},
            "mass_g": {"low": window.mass_g[0], "high": window.mass_g[1]},
            "load": {"low": 1, "high": window.load},
            "lowest_oven_w": None,
            "hot_oven": window.hot_oven,
            "chance": window.chance,
            "words": [window.words],
            "method": view.found.method,
            "cooks": view.found.cooks,
            "left_out": list(view.found.left_out),
            "data_hash": loaded.data_hash,
        }
        before = work.records.newest(loaded.development.id, WINDOW)
        if before is None or before.stamp.client_id != made:
            again = before is not None and before.content.get("program") == content["program"]
            corrects = before.id if before is not None and again else None
            entry = RecordEntry(
                WINDOW, content, made, about=plan_id, corrects=corrects, reason="more cooks" if corrects else None
            )
            work.records.add(loaded.development, entry)
        work.commit()
    return view


def summarise_benchmark(space: Workspace, who: Actor, *, development_id: str) -> BenchmarkSummary:
    """Mean and spread of the benchmark cooks, at what age they were served, and what is missing.

    Raises
    ------
    NotFound
        If there is no such development, or none this person may see.
    """
    from tuner.proof.benchmark_cooks import benchmark_summary

    with space.store.read(who.customer) as reading:
        return benchmark_summary(read_development(reading, development_id).cooks)
