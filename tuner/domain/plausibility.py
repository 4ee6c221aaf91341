"""Values that are possible but unlikely: asked about once, accepted on confirmation, kept as confirmed.

The ranges are the trade's usual ones (common practice, no source). What is impossible is refused by the models.
A document confirms a question by carrying its code in `confirmed`.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from tuner.domain.brief import Brief
from tuner.domain.cook import TestCook
from tuner.domain.model import Model, Number, Text
from tuner.domain.oven import Oven
from tuner.domain.program import Program


class Question(Model):
    """One unlikely value: a stable `code`, the field it is about, and the question in words."""

    code: Text
    field: Text
    value: Number | None
    text: Text


_CORRECT = "Correct it, or confirm that it is meant."


def _outside(field: str, value: float | None, low: float, high: float, unit: str, hint: str = "") -> Iterator[Question]:
    if value is not None and not low <= value <= high:
        unit = f" {unit}" if unit else ""
        yield Question(
            code=f"{field}={value:g}",
            field=field,
            value=float(value),
            text=f"{field} {value:g}{unit}? Usual is {low:g} to {high:g}{unit}. {hint or _CORRECT}",
        )


def boiling_point_c(altitude_m: float | None) -> float:
    """Boiling point of water [°C], 0.34 K lower for each 100 m (common practice)."""
    return 100.0 - 0.0034 * (altitude_m or 0.0)


_USUAL_START_C = {"frozen": (-22.0, -15.0), "tempered": (-6.0, -1.0), "chilled": (1.0, 5.0), "ambient": (15.0, 25.0)}


def _brief(brief: Brief) -> Iterator[Question]:
    portion = brief.portion
    yield from _outside("portion.mass_g", portion.mass_g, 20, 1500, "g")
    yield from _outside("portion.thickness_mm", portion.thickness_mm, 5, 80, "mm")
    total = portion.water + portion.fat + portion.protein + portion.carbohydrate + portion.ash + (portion.fibre or 0.0)
    yield from _outside(
        "portion.make_up", round(total, 4), 0.95, 1.01, "", "The fractions of the make-up should add up to about 1."
    )
    yield from _outside("portion.ash", portion.ash, 0, 0.03, "")
    low, high = _USUAL_START_C[portion.start_state]
    yield from _outside("portion.start_temperature_c", portion.start_temperature_c, low, high, "°C")
    if brief.conventional:
        yield from _outside("conventional.oven_temperature_c", brief.conventional.oven_temperature_c, 120, 260, "°C")
        yield from _outside("conventional.duration_s", brief.conventional.duration_s, 120, 14400, "s")
    for name in ("browning", "texture", "moisture"):
        window = brief.targets.of(name)
        if window and window.low is not None and window.high is not None:
            hint = "A narrow window can't be won with few tasters; a wide one says little."
            yield from _outside(f"targets.{name}.width", round(window.high - window.low, 6), 1.0, 2.0, "marks", hint)
    core = brief.targets.core_temperature_c
    if core and core.low is not None and core.high is not None:
        yield from _outside("targets.core_temperature_c.width", round(core.high - core.low, 6), 6, 15, "K")
    duration = brief.targets.duration_s
    if duration and duration.high is not None:
        yield from _outside("targets.duration_s.high", duration.high, 20, 900, "s")
    if brief.critical_limit and not brief.critical_limit.none:
        yield from _outside("critical_limit.guard_c", brief.critical_limit.guard_c, 1, 4, "K")
    yield from _outside("tasters", float(brief.tasters), 2, 12, "")


def _program(program: Program, prefix: str) -> Iterator[Question]:
    yield from _outside(f"{prefix}.air_temperature_c", program.air_temperature_c, 180, 280, "°C", "Typed in °F? Give °C.")
    yield from _outside(f"{prefix}.duration_s", program.duration_s, 20, 900, "s")
    if all(stage.microwave_pct == 0 for stage in program.stages):
        yield Question(
            code=f"{prefix}.no_microwave", field=prefix, value=0.0, text=f"{prefix} uses no microwave at all. Is that meant?"
        )


def _cook(cook: TestCook, brief: Brief | None, oven: Oven | None) -> Iterator[Question]:
    if cook.done_program is not None and cook.purpose != "benchmark":
        yield from _program(cook.done_program, "program")
    boiling = boiling_point_c(oven.altitude_m if oven else None)
    for index, reading in enumerate(cook.readings_c, start=1):
        field = f"core_temperature_c.{index}"
        if reading > boiling + 1:
            as_f = f" Typed in °F? {reading:g} °F is {(reading - 32) / 1.8:.1f} °C." if 130 <= reading <= 212 else ""
            yield Question(
                code=f"{field}={reading:g}",
                field=field,
                value=reading,
                text=f"Core reading {reading:g} °C at place {index}? Water boils at {boiling:.1f} °C there.{as_f} {_CORRECT}",
            )
        elif cook.start_temperature_c is not None and reading < cook.start_temperature_c:
            yield Question(
                code=f"{field}={reading:g}",
                field=field,
                value=reading,
                text=f"Core reading {reading:g} °C at place {index} is below the start temperature "
                f"{cook.start_temperature_c:g} °C. Correct one of them, or confirm.",
            )
    if brief is not None:
        usual = brief.portion.mass_g
        yield from _outside("mass_g", cook.mass_g, 0.9 * usual, 1.1 * usual, "g", f"The brief asks for {usual:g} g.")
        start = brief.portion.start_temperature_c
        yield from _outside("start_temperature_c", cook.start_temperature_c, start - 5, start + 5, "°C")
        if len(cook.readings_c) > brief.places * 3:
            yield from _outside("core_temperature_c", float(len(cook.readings_c)), 1, brief.places * 3, "readings")
    if cook.mass_g is not None and cook.mass_out_g is not None:
        ratio = round(cook.mass_out_g / cook.mass_g, 4)
        yield from _outside("mass_out_g", ratio, 0.6, 1.0, "of mass in", "Weighed with the tray, or another portion?")
    yield from _outside("trace.gap_s", _longest_gap_s(cook), 0, 5, "s", "Between samples the trace is taken as straight.")
    yield from _scores(cook)


def _longest_gap_s(cook: TestCook) -> float | None:
    """Longest time between two samples at one place of the trace [s]; None without a trace."""
    times: dict[str, set[float]] = {}
    for piece in cook.trace or ():
        here = piece.time_s if isinstance(piece.time_s, tuple) else (piece.time_s,)
        times.setdefault(str(piece.place), set()).update(here)
    gaps = [later - earlier for place in times.values() for earlier, later in pairwise(sorted(place))]
    return round(max(gaps), 3) if gaps else None


def _scores(cook: TestCook) -> Iterator[Question]:
    tasters = [score.taster for score in cook.scores or ()]
    for taster in dict.fromkeys(name for name in tasters if tasters.count(name) > 1):
        yield Question(
            code=f"scores.{taster}.twice",
            field="scores",
            value=float(tasters.count(taster)),
            text=f"Taster {taster} scored {tasters.count(taster)} times, and each counts in the mean. {_CORRECT}",
        )
    for score in cook.scores or ():
        for name in ("browning", "texture", "moisture"):
            mark = getattr(score, name)
            if mark in (1.0, 5.0):
                yield Question(
                    code=f"scores.{score.taster}.{name}={mark:g}",
                    field=f"scores.{score.taster}.{name}",
                    value=float(mark),
                    text=f"Taster {score.taster} gave {name} {mark:g}, the end of the scale. Confirm that it is meant.",
                )


def questions_about_brief(brief: Brief) -> tuple[Question, ...]:
    """Unlikely values of a brief that its `confirmed` does not name yet."""
    confirmed = set(brief.confirmed or ())
    return tuple(question for question in _brief(brief) if question.code not in confirmed)


def questions_about_cook(cook: TestCook, brief: Brief | None = None, oven: Oven | None = None) -> tuple[Question, ...]:
    """Unlikely values of a cook that its `confirmed` does not name yet; the brief says what was to be expected."""
    confirmed = set(cook.confirmed or ())
    return tuple(question for question in _cook(cook, brief, oven) if question.code not in confirmed)


def questions_about_program(program: Program) -> tuple[Question, ...]:
    """Unlikely values of a program."""
    return tuple(_program(program, "program"))
