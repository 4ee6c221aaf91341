"""What may be behind a cook that came out unlike its forecast, apart from its program.

Each suspect would move the measured numbers of the newest cooks along directions of its own, by an unknown size with a prior:
another start temperature heats the whole portion, a thermometer that reads wrong moves the core alone, a weak magnetron moves
core, loss and scores together and stays. Prior weights are judgement; what was written down about the cook raises or lowers
them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import timedelta
from typing import Literal

import numpy as np

from tuner.domain import SCORES, Brief, Oven, TestCook
from tuner.learning.joint_prediction import Joint
from tuner.learning.program_table import Array
from tuner.physics import PARAMETERS

CauseName = Literal[
    "program", "keyed_in", "start_temperature", "portion_mass", "rest", "reading", "oven", "lot", "panel", "load",
    "interruption", "chance",
]  # fmt: skip

_START_OFF_C, _MASS_OFF = 7.0, 0.15
_LEAST_OFF_C, _LEAST_OFF = 3.0, 0.06
_FAR_OFF_AGAIN = 0.7
"""What is written down as far off may act by so much more or less than the model thinks."""
_FAR_START_C, _FAR_MASS = 4.0, 0.08
_READING_OFF_C, _REST_OFF_C = 9.0, 3.0
_WATTS_OFF_LOG, _AIR_OFF_C, _JET_OFF_LOG = 0.25, 12.0, 0.2
_LOT_OFF = (0.9, 0.5, 0.5, 1.0)
"""Browning, texture and moisture as latents, loss in points."""
_PANEL_OFF = 0.6
_LOAD_WATTS_LOG = 0.4
_INTERRUPTED_OFF = (20.0, 1.5, 1.5, 1.5, 5.0)

_CHECK_HOLDS = timedelta(hours=24)
_HOT_OVEN_S = 150.0
_ODD_PLACE_C, _ODD_TASTER = 6.0, 0.9
_WATTS, _AIR, _JET = (
    next(k for k, parameter in enumerate(PARAMETERS) if parameter.name == name)
    for name in ("coupled_share", "air_offset", "h_jet")
)


@dataclass(frozen=True, eq=False)
class Suspect:
    """A cause other than the program.

    Attributes
    ----------
    weight
        Prior weight against 1 for 'nothing of the kind'.
    effect : ndarray (5 K, k)
        Directions in which it moves the numbers of the K newest cooks; each column one standard deviation of its size.
    since
        First of the K cooks that it touches.
    """

    cause: CauseName
    weight: float
    effect: Array
    since: int


@dataclass(frozen=True)
class Facts:
    """What is written down about the newest cook that makes a cause likelier or not."""

    start_known: bool
    mass_known: bool
    start_away_c: float
    mass_away: float
    rest_known: bool
    interrupted: bool
    several_portions: bool
    other_oven: bool
    oven_hot: bool
    thermometer_checked: bool
    odd_place: bool
    odd_taster: str | None
    new_tasters: tuple[str, ...]
    new_lot: bool


def facts_of(brief: Brief, oven: Oven, cooks: Sequence[TestCook]) -> Facts:
    """Facts about the last of `cooks`, held against the brief and the ones before."""
    portion = brief.portion
    last, before = cooks[-1], cooks[:-1]
    readings = last.readings_c
    odd_place = len(readings) >= 3 and float(np.max(np.abs(np.array(readings) - np.median(readings)))) > _ODD_PLACE_C
    checked = last.thermometer_checked_at
    fresh = checked is not None and (last.cooked_at is None or timedelta(0) <= last.cooked_at - checked <= _CHECK_HOLDS)
    known_tasters = {score.taster for cook in before for score in cook.scores or ()}
    lots = [cook.lot for cook in before if cook.lot is not None]
    return Facts(
        start_known=last.start_temperature_c is not None,
        mass_known=last.mass_g is not None,
        start_away_c=0.0 if last.start_temperature_c is None else last.start_temperature_c - portion.start_temperature_c,
        mass_away=0.0 if last.mass_g is None else last.mass_g / portion.mass_g - 1.0,
        rest_known=last.rest_s is not None,
        interrupted=last.completed is False,
        several_portions=(last.load or 1) > 1,
        other_oven=last.oven_serial is not None and last.oven_serial != oven.serial,
        oven_hot=last.seconds_since_last_cook is not None and last.seconds_since_last_cook < _HOT_OVEN_S,
        thermometer_checked=fresh,
        odd_place=odd_place,
        odd_taster=_odd_taster(last),
        new_tasters=tuple(s.taster for s in last.scores or () if known_tasters and s.taster not in known_tasters),
        new_lot=last.lot is not None and bool(lots) and last.lot not in lots[-1:],
    )


def _odd_taster(cook: TestCook) -> str | None:
    """The taster farthest from the others in the mean over the scores, where that is far."""
    scores = cook.scores or ()
    if len(scores) < 3:
        return None
    away: dict[str, float] = {}
    for score in scores:
        gaps = []
        for name in SCORES:
            mine = getattr(score, name)
            others = [m for other in scores if other is not score and (m := getattr(other, name)) is not None]
            if mine is not None and others:
                gaps.append(mine - float(np.mean(others)))
        away[score.taster] = float(np.mean(gaps)) if gaps else 0.0
    worst = max(away, key=lambda who: abs(away[who]))
    return worst if abs(away[worst]) >= _ODD_TASTER else None


def _of_cooks(count: int, since: int, columns: Array) -> Array:
    """Directions (K, 5, k) with nothing before `since`, as (5 K, k)."""
    kept = columns.copy()
    kept[:since] = 0.0
    return kept.reshape(5 * count, -1)


def _one_hot(count: int, sizes: Sequence[float]) -> Array:
    """One column for each attribute with a size, the same for all cooks, (K, 5, k)."""
    used = [k for k, size in enumerate(sizes) if size]
    columns = np.zeros((count, 5, len(used)))
    for place, attribute in enumerate(used):
        columns[:, attribute, place] = sizes[attribute]
    return columns


def _by_parameters(joint: Joint, scale: Array, sizes: dict[int, float]) -> Array:
    """Directions along parameters of the oven, each by its size on the parameter's own scale, (K, 5, k)."""
    return np.stack(
        [
            joint.expansion.jacobian[:, :, place] / scale[place] / PARAMETERS[place].spread * size
            for place, size in sizes.items()
        ],
        axis=2,
    )


def suspects_of(facts: Facts, joint: Joint, prior_sd: Array) -> list[Suspect]:
    """All causes that could have moved the K newest cooks, with their directions.

    Parameters
    ----------
    joint
        Forecast of the K newest cooks, the last one under suspicion.
    prior_sd : ndarray (P,)
        Scale of the derivatives in `joint`.
    """
    count = len(joint.mean)
    last = count - 1
    sensitivity = joint.expansion.sensitivity
    start_c = max(_FAR_OFF_AGAIN * abs(facts.start_away_c), 0.0 if facts.start_known else _START_OFF_C, _LEAST_OFF_C)
    mass_off = max(_FAR_OFF_AGAIN * abs(facts.mass_away), 0.0 if facts.mass_known else _MASS_OFF, _LEAST_OFF)
    start, mass = sensitivity[:, :, 1:2] * start_c, sensitivity[:, :, 0:1] * mass_off
    far_start, far_mass = abs(facts.start_away_c) > _FAR_START_C, abs(facts.mass_away) > _FAR_MASS
    watts = {_WATTS: _WATTS_OFF_LOG, _AIR: _AIR_OFF_C, _JET: _JET_OFF_LOG}
    oven = _by_parameters(joint, prior_sd, watts)
    core = _one_hot(count, (_READING_OFF_C, 0, 0, 0, 0))
    lot = _one_hot(count, (0, *_LOT_OFF))
    panel = _one_hot(count, (0, _PANEL_OFF, _PANEL_OFF, _PANEL_OFF, 0))
    doubted = (0.06 if facts.thermometer_checked else 0.15) * (4.0 if facts.odd_place else 1.0)
    strange = 0.03 * (8.0 if facts.new_tasters else 1.0) * (3.0 if facts.odd_taster else 1.0)
    oven_weight = 0.08 * (30.0 if facts.other_oven else 3.0 if facts.oven_hot else 1.0)
    found = [
        Suspect(
            "start_temperature", 1.0 if far_start else 0.03 if facts.start_known else 0.4, _of_cooks(count, last, start), last
        ),
        Suspect("portion_mass", 1.0 if far_mass else 0.01 if facts.mass_known else 0.3, _of_cooks(count, last, mass), last),
    ]
    if not facts.rest_known:
        found.append(Suspect("rest", 0.2, _of_cooks(count, last, _one_hot(count, (_REST_OFF_C, 0, 0, 0, 0))), last))
    if facts.several_portions:
        load = _by_parameters(joint, prior_sd, {_WATTS: _LOAD_WATTS_LOG})
        found.append(Suspect("load", 5.0, _of_cooks(count, last, load), last))
    if facts.interrupted:
        found.append(Suspect("interruption", 50.0, _of_cooks(count, last, _one_hot(count, _INTERRUPTED_OFF)), last))
    for since in range(count):
        share = 0.5 if since == last else 0.5 / max(last, 1)
        found += [
            Suspect("reading", doubted * share, _of_cooks(count, since, core), since),
            Suspect("oven", oven_weight * share, _of_cooks(count, since, oven), since),
            Suspect("panel", strange * share, _of_cooks(count, since, panel), since),
        ]
    found.append(Suspect("lot", 1.0 if facts.new_lot else 0.02, _of_cooks(count, last, lot), last))
    return found
