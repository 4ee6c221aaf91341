"""Which signs of the trade's rules a cook shows, from its measurements and from what was written down."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from tuner.domain import ATTRIBUTES, Brief, InvalidDocument, Oven, TestCook
from tuner.learning.aim import offsets
from tuner.learning.goals import CORE, SCORE_COLUMNS, Goals
from tuner.learning.program_table import Array
from tuner.learning.trade_table import SEEN_SIGNS

_NOTABLE = 0.8
"""Distance from the middle, in half-widths, from which a value is called off although it is still inside."""
_LOW = ("core low", "pale", "soft", "dry", "loss low")
_HIGH = ("core high", "dark", "firm", "wet", "loss high")
_RIGHT = ("core right", "colour right", "texture right", "moisture right", "loss right")
_THICK_MM, _SMALL_G, _FEWEST_PERIODS = 40.0, 60.0, 3.0
_LONG_SHARE = 0.97
_HOT_OVEN_S = 150.0


def measured_of(cook: TestCook) -> Array:
    """Mean of the core readings, panel means, cook loss; NaN where not measured, (5,)."""
    readings = cook.readings_c
    values = [
        float(np.mean(readings)) if readings else None,
        *(cook.panel_mean(name) for name in ATTRIBUTES[SCORE_COLUMNS]),
        cook.cook_loss_pct,
    ]
    return np.array([np.nan if value is None else value for value in values])


def off_by(cook: TestCook, goals: Goals) -> Array:
    """Signed distance of each measured attribute from the aim in half-widths; beyond 1 is outside; 0 where nothing is asked.

    A core whose lowest reading is below the low edge is outside whatever its mean, (5,).
    """
    found = offsets(measured_of(cook)[None, :], goals)[0]
    readings = cook.readings_c
    if readings and min(readings) < goals.low[CORE]:
        below = (goals.low[CORE] - min(readings)) / float(goals.half_width[CORE])
        found[CORE] = min(found[CORE], -1.0 - below)
    return np.asarray(np.where(goals.bound, found, np.where(np.isnan(found), np.nan, 0.0)))


def signs_of(brief: Brief, oven: Oven, goals: Goals, cook: TestCook, seen: Iterable[str]) -> frozenset[str]:
    """All signs of a cook.

    Raises
    ------
    InvalidDocument
        If `seen` holds a sign that is not one of `SEEN_SIGNS`.
    """
    ticked = frozenset(seen)
    strange = sorted(ticked - frozenset(SEEN_SIGNS))
    if strange:
        raise InvalidDocument(
            [f"seen holds {strange[0]!r}. Only known signs can be ticked: {', '.join(SEEN_SIGNS)}. Choose among these"]
        )
    return ticked | _measured_signs(off_by(cook, goals)) | _told_signs(brief, oven, cook)


def _measured_signs(off: Array) -> frozenset[str]:
    found = set()
    for column, value in enumerate(off):
        if np.isnan(value):
            continue
        found.add(_LOW[column] if value <= -_NOTABLE else _HIGH[column] if value >= _NOTABLE else _RIGHT[column])
    scores = off[SCORE_COLUMNS]
    if not np.isnan(scores).any() and (np.abs(scores) < _NOTABLE).all():
        found.add("scores right")
    return frozenset(found)


def _told_signs(brief: Brief, oven: Oven, cook: TestCook) -> frozenset[str]:
    portion, program = brief.portion, cook.done_program
    icy = portion.start_state in {"frozen", "tempered"}
    period = oven.on_off_period_s
    shortest = min((program.duration_s * s.share_pct / 100 for s in program.stages), default=np.inf) if program else np.inf
    window = brief.targets.duration_s
    longest = window.high if window is not None else None
    told = {
        "frozen start": icy,
        "thick and thawed": portion.thickness_mm > _THICK_MM and not icy,
        "small load": portion.mass_g < _SMALL_G,
        "several portions": (cook.load or 1) > 1,
        "hot oven": cook.seconds_since_last_cook is not None and cook.seconds_since_last_cook < _HOT_OVEN_S,
        "raw dough or bread": brief.food_class == "bakery",
        "egg": brief.food_class == "egg",
        "fish": brief.food_class == "fish",
        "plant": brief.food_class == "plant",
        "other oven": cook.oven_serial is not None and cook.oven_serial != oven.serial,
        "slow switching": period is not None and shortest < _FEWEST_PERIODS * period,
        "long program": program is not None and longest is not None and program.duration_s >= _LONG_SHARE * longest,
    }
    return frozenset(name for name, there in told.items() if there)
