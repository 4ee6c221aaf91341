"""The verdict: what the readings of one cook allow. Order of decision: not safe, unknown, safe to taste."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from tuner.domain import Brief, TestCook, Verdict
from tuner.domain.brief import EDGE
from tuner.safety.lethality import lethality_min
from tuner.safety.limit_in_force import EffectiveLimit, effective_limit
from tuner.safety.trace_evidence import Series, coldest_place_traced, hold_at, minutes, series_by_place

_CHECK_HOLDS_FOR = timedelta(hours=24)


def verdict(brief: Brief, cook: TestCook) -> Verdict:
    """Decide whether a cook is safe to taste, not safe, or unknown (handled as not safe).

    In this order: (1) `not_safe` when anything measured lies below the limit, guard taken off; this beats everything that
    is missing. (2) `unknown` when anything needed is missing, above all the approval of the limit. (3) `safe_to_taste`.
    With an approved "nothing to kill" a completed cook is safe to taste without readings. `reasons` names each.

    Allergens and the tasters' own "may taste today" are asked by `eat_gate`.
    """
    limit = effective_limit(brief)
    if limit.none:
        missing = [*_interrupted(cook), *_unapproved(limit)]
        if missing:
            return Verdict(status="unknown", reasons=tuple(missing))
        return Verdict(status="safe_to_taste", reasons=(f"Nothing to kill: {limit.rule}, approved by {limit.approved_by}.",))
    below = tuple(_below(limit, cook))
    if below:
        return Verdict(status="not_safe", reasons=below)
    missing = list(_missing(brief, limit, cook))
    if missing:
        return Verdict(status="unknown", reasons=tuple(missing))
    lowest = min(cook.readings_c)
    return Verdict(
        status="safe_to_taste",
        reasons=(
            f"Lowest reading {lowest:g} °C less guard {limit.guard_c:g} K is {lowest - limit.guard_c:g} °C; the limit is "
            f"{limit.core_temperature_c:g} °C ({limit.rule or 'no rule named'}, approved by {limit.approved_by}).",
        ),
    )


def _below(limit: EffectiveLimit, cook: TestCook) -> Iterator[str]:
    """Everything measured that lies below the limit."""
    line = limit.pass_line_c or 0.0
    for index, reading in enumerate(cook.readings_c):
        if reading < line - EDGE:
            yield (
                f"{_place(cook, index)}: {reading:g} °C less guard {limit.guard_c:g} K is {reading - limit.guard_c:g} °C, "
                f"below the limit {limit.core_temperature_c:g} °C. The thermometer must show {line:g} °C."
            )
    for series in series_by_place(cook.trace or ()):
        yield from _too_few_minutes(limit, cook, series)


def _place(cook: TestCook, index: int) -> str:
    named = cook.probe_places[index] if cook.probe_places and index < len(cook.probe_places) else index + 1
    return f"place {named}" if isinstance(named, int) else named


def _too_few_minutes(limit: EffectiveLimit, cook: TestCook, series: Series) -> Iterator[str]:
    if limit.minutes_rule is None:
        return
    required_min, reference_c, z_c = limit.minutes_rule
    found_min = minutes(series, limit, cook, reference_c=reference_c, z_c=z_c)
    if found_min < required_min * (1 - EDGE):
        yield (
            f"Trace at {series.place}: {found_min:.3g} equivalent minutes at {reference_c:g} °C, guard taken off; the limit "
            f"asks for {required_min:g}."
        )


def _missing(brief: Brief, limit: EffectiveLimit, cook: TestCook) -> Iterator[str]:
    """Everything needed for a safe verdict that is not there."""
    if len(cook.readings_c) < brief.places:
        yield f"{len(cook.readings_c)} of {brief.places} places read. Every place of the brief must be read."
    yield from _interrupted(cook)
    rest_s = max(brief.rest_s, limit.rest_s)
    if cook.rest_s is None:
        yield f"Rest not noted. The limit and the brief ask for {rest_s:g} s before reading."
    elif cook.rest_s < rest_s - EDGE:
        yield f"Rest {cook.rest_s:g} s is shorter than the {rest_s:g} s that the limit and the brief ask for."
    if limit.covered and cook.rest_covered is not True:
        yield "The limit asks for a covered rest, and a covered rest is not noted."
    yield from _thermometer(cook)
    yield from _unshown_time(limit, cook)
    yield from _unapproved(limit)


def _interrupted(cook: TestCook) -> Iterator[str]:
    if cook.completed is False or cook.interrupted_by:
        cause = f" ({cook.interrupted_by})" if cook.interrupted_by else ""
        yield f"The cook was interrupted{cause}. Top up once with a proven program, or discard; it is never started again."


def _thermometer(cook: TestCook) -> Iterator[str]:
    if cook.cooked_at is None:
        yield "Time of the cook not noted, so the thermometer check can't be placed."
    if cook.thermometer_checked_at is None:
        yield "Thermometer check not noted. It must be at most 24 h before the cook."
    elif cook.cooked_at is not None:
        age = cook.cooked_at - cook.thermometer_checked_at
        if age < timedelta(0):
            yield "The thermometer was checked after the cook, not before it."
        elif age > _CHECK_HOLDS_FOR:
            yield "The thermometer was checked more than 24 h before the cook. Check it daily."


def _unshown_time(limit: EffectiveLimit, cook: TestCook) -> Iterator[str]:
    """Time at temperature, or equivalent minutes, that nothing shows."""
    noted_s = cook.held_s or 0.0
    hold_noted = noted_s >= limit.hold_s - EDGE
    if not cook.trace:
        if not hold_noted:
            yield f"The limit asks for {limit.hold_s:g} s at temperature; neither a trace nor held_s shows it."
        yield from _unshown_minutes(limit, noted_s)
        return
    line = limit.pass_line_c or 0.0
    for series in series_by_place(cook.trace):
        hold = hold_at(series, line)
        if hold.longest_s >= limit.hold_s - EDGE:
            continue
        if not hold.unfinished:
            yield (
                f"Trace at {series.place}: {hold.longest_s:.4g} s at or above {line:g} °C (limit + guard); the limit asks "
                f"for {limit.hold_s:g} s."
            )
        elif not hold_noted:
            yield f"The trace at {series.place} ends before the {limit.hold_s:g} s at temperature are full."
    if (limit.minutes_rule or not hold_noted) and not coldest_place_traced(cook):
        yield "The trace does not cover the coldest place that was read."


def _unshown_minutes(limit: EffectiveLimit, held_s: float) -> Iterator[str]:
    """Without a trace only a noted hold shows minutes: it is worth at least its time at the limit temperature."""
    if limit.minutes_rule is None:
        return
    required_min, reference_c, z_c = limit.minutes_rule
    limit_c = limit.core_temperature_c or 0.0
    held_min = lethality_min([0.0, held_s], [limit_c, limit_c], reference_c=reference_c, z_c=z_c)
    if held_min < required_min * (1 - EDGE):
        yield f"The limit asks for {required_min:g} equivalent minutes at {reference_c:g} °C, and no trace shows them."


def _unapproved(limit: EffectiveLimit) -> Iterator[str]:
    if not limit.approved:
        named = limit.rule or "no rule named"
        yield f"The limit ({named}) has no approver. {limit.why} Somebody with a food-safety role must approve rule and limit."
