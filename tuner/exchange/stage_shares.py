"""Shares of the time from what a log gives: per cent, fractions, seconds, minutes, or ends of stages."""

from __future__ import annotations

from dataclasses import dataclass

from tuner.exchange.cook_reading import CookReading

_NEAR = 0.0051
"""Slack of a sum of shares, as part of the whole: what rounding to whole per cent or seconds leaves."""


@dataclass
class StageNumbers:
    """Numbers of the stages as they stand, one entry a stage; shares None where not told.

    `share_unit` is "%", "fraction", "s", "min" or empty (told by the sum); with `until` they are ends, not lengths.
    """

    shares: list[float | None]
    airs: list[float | None]
    microwaves: list[float | None]
    share_unit: str = ""
    until: bool = False


def shares_of(numbers: StageNumbers, seconds: float | None, reading: CookReading) -> tuple[list[float] | None, float | None]:
    """Shares in per cent that add up to exactly 100, and the duration where only the stages tell it."""
    if any(value is None for value in (*numbers.airs, *numbers.microwaves)):
        asked = any(question.code.startswith("level:") for question in reading.mapping.open_questions)
        what = "how air speed or microwave are meant is asked. Answer it first"
        lacking = "air speed or microwave of a stage is missing. Each stage needs both. Add what was set, or 0"
        reading.problems.append(what if asked else lacking)
        return None, seconds
    given = _completed([*numbers.shares], numbers, seconds)
    if given is None:
        told = [f"{share:g}" for share in numbers.shares if share is not None]
        reading.problems.append(
            f"shares of the time are told for {len(told)} of {len(numbers.shares)} stages. Each stage needs one. Add the missing ones"
        )
        return None, seconds
    if numbers.until:
        given = [later - earlier for earlier, later in zip([0.0, *given], given, strict=False)]
    return _normalised(given, numbers.share_unit, seconds, reading)


def _completed(shares: list[float | None], numbers: StageNumbers, seconds: float | None) -> list[float] | None:
    """Shares with the last one worked out where it alone is missing; a single stage has the whole time."""
    if len(shares) == 1 and shares[0] is None:
        return [100.0]
    known = [share for share in shares if share is not None]
    if len(known) == len(shares):
        return known
    if len(known) == len(shares) - 1 and shares[-1] is None:
        unit = numbers.share_unit
        whole = (seconds or 0.0) if unit in ("s", "mm:ss") else 1.0 if unit == "fraction" or max(known) < 1 else 100.0
        if unit == "" and sum(known) >= 100 and seconds:
            whole = seconds
        rest = whole - (known[-1] if numbers.until else sum(known))
        return [*known, whole if numbers.until else rest] if rest > 0 else None
    return None


def _normalised(
    given: list[float], unit: str, seconds: float | None, reading: CookReading
) -> tuple[list[float] | None, float | None]:
    total = sum(given)
    if total <= 0 or any(share < 0 for share in given):
        reading.problems.append(f"shares of the time add up to {total:g}. They must add up to 100 %. Correct them")
        return None, seconds
    targets = _targets(unit, seconds)
    slack = max(_NEAR, 0.5 * len(given) / total) if total > 1.5 else _NEAR
    for kind, target in targets:
        if abs(total - target) <= min(slack, 0.02) * target:
            if kind == "time":
                return _from_seconds(
                    [share * (seconds or total) / total for share in given], seconds or total, reading
                ), seconds
            return _exact([100 * share / target for share in given], given, reading), seconds
    if unit in ("s", "min", "mm:ss") and seconds is None:
        own = [share * (60.0 if unit == "min" else 1.0) for share in given]
        return _from_seconds(own, sum(own), reading), sum(own)
    shown = " + ".join(f"{share:g}" for share in given)
    against = f", the duration is {seconds:g} s" if unit in ("s", "min", "mm:ss") and seconds else ""
    reading.problems.append(
        f"shares of the time {shown} add up to {total:g}{against}. They must add up to 100 % or to the duration. Correct them"
    )
    return None, seconds


def _targets(unit: str, seconds: float | None) -> list[tuple[str, float]]:
    """What shares may add up to, by unit; all of it where no unit is told."""
    by_unit = {"%": [("part", 100.0)], "fraction": [("part", 1.0)]}
    if unit in by_unit:
        return [*by_unit[unit], ("part", 1.0)] if unit == "%" else by_unit[unit]
    timed = [("time", seconds)] if seconds else []
    minutes = [("time", seconds / 60)] if seconds else []
    if unit in ("s", "mm:ss", "h:mm:ss"):
        return timed
    if unit == "min":
        return minutes
    return [("part", 100.0), ("part", 1.0), *timed, *minutes]


def _exact(shares: list[float], given: list[float], reading: CookReading) -> list[float] | None:
    """Shares as written where they add up; thirds and the like are evened out; others are refused."""
    total = sum(shares)
    if abs(total - 100) <= 1e-6:
        rounded = [round(share, 6) for share in shares]
        rounded[-1] = round(100 - sum(rounded[:-1]), 6)
        return rounded
    equal = max(given) - min(given) <= 0.011 * max(given)
    fine = any(abs(share - round(share)) > 1e-9 for share in shares)
    if equal or fine:
        reading.remarks.append(f"shares add up to {total:g} % by rounding and were evened out")
        return _summed([share * 100 / total for share in shares])
    shown = " + ".join(f"{share:g}" for share in given)
    reading.problems.append(
        f"shares of the time {shown} add up to {total:g} %. They must add up to exactly 100 %. Correct them"
    )
    return None


def _from_seconds(times: list[float], seconds: float, reading: CookReading) -> list[float]:
    """Shares of stages given in time: on the oven's steps where those give the same whole seconds, else as they are."""
    steps = [step for step in (reading.mapping.expected.share_step_pct, 5.0, 1.0) if step]
    for step in dict.fromkeys(steps):
        shares = [round(round(100 * time / seconds / step) * step, 6) for time in times]
        apart = seconds * step / 100 >= 2.5  # then a stage between two rounded ends, up to a second off, is still told apart
        slack = 1.0 if step >= 5 and apart else 0.5
        close = all(abs(share * seconds / 100 - time) <= slack + 0.01 for share, time in zip(shares, times, strict=True))
        if close and abs(sum(shares) - 100) <= 1e-6 and all(share > 0 for share in shares):
            return shares
    return _summed([100 * time / seconds for time in times])


def _summed(shares: list[float]) -> list[float]:
    rounded = [round(share, 6) for share in shares]
    rounded[-1] = round(100 - sum(rounded[:-1]), 6)
    return rounded
