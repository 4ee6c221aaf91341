"""The thermometer and placing study on which a guard below the usual 2 K would have to stand."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from tuner.domain import InvalidDocument, NotAllowed
from tuner.services.actor import APPROVER, Actor
from tuner.services.limit_rules import same_person
from tuner.services.texts import checked_text, given_or_made_id
from tuner.services.workspace import Workspace
from tuner.store import RecordEntry

if TYPE_CHECKING:
    from tuner.proof.gauge import GaugeStudy

STUDY = "measuring_study"
TIMING_C = 0.5
"""95 % half-width of a reading from when it is taken [K] (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class MeasuringStudy:
    """What a study shows.

    Attributes
    ----------
    found
        Components of the spread of readings [K].
    guard_supported_c
        Root sum square of the study's half-width and that of timing, rounded up to 0.1 [K]. The guard of a brief stays what it
        is: the food-safety approver may lower it on this evidence, nobody else.
    words
        In words.
    """

    found: GaugeStudy
    guard_supported_c: float
    words: str


def judge_measuring(
    space: Workspace,
    who: Actor,
    *,
    development_id: str,
    thermometer: str,
    readings_c: Sequence[Sequence[Sequence[float]]],
    client_id: str | None = None,
) -> MeasuringStudy:
    """Judge and keep a study: several people read the same portions several times each.

    Parameters
    ----------
    thermometer
        Which one was studied.
    readings_c
        Readings [°C] by portion, person and repeat; complete, at least two of each.

    Raises
    ------
    Conflict
        If the id was used before with another study.
    InvalidDocument
        If the study is not complete.
    NotAllowed
        If the person is not the food-safety approver, or is the recipe's developer.
    NotFound
        If there is no such development, or none this person may see.
    """
    import numpy as np

    from tuner.proof.gauge import gauge_study

    made, named = given_or_made_id(client_id), checked_text("thermometer", thermometer, 200)
    shape = {(len(portion), len(person)) for portion in readings_c for person in portion}
    if len(shape) != 1:
        raise InvalidDocument(
            ["readings_c is not complete. Every person reads every portion equally often. Add what is missing."]
        )
    found = gauge_study(np.array(readings_c, float))
    guard = math.ceil(10.0 * math.hypot(found.guard_half_width, TIMING_C) - 1e-9) / 10.0
    words = (
        f"Readings of one portion spread by {found.measuring:.2f} K (one person {found.repeatability:.2f}, between people "
        f"{found.reproducibility:.2f}); that supports a guard of {guard:g} K."
    )
    with space.store.unit_of_work(space.context(who)) as work:
        development = work.developments.one(development_id)
        if not who.is_approver or same_person(who.name, development.stamp.by):
            raise NotAllowed(f"A measuring study is judged by the {APPROVER}, who is not the recipe's developer. Ask them.")
        content: dict[str, Any] = {
            "thermometer": named,
            "readings_c": [[list(person) for person in portion] for portion in readings_c],
            "measuring_c": found.measuring,
            "guard_supported_c": guard,
            "method": found.method,
        }
        work.records.add(development, RecordEntry(STUDY, content, made))
        work.commit()
    return MeasuringStudy(found, guard, words)
