"""Can a brief be met at all, by hand: energy, the time of the crust, and how deep the microwave reaches, before any search.

Each check is made twice: at what the prior expects, and at what a lucky oven and food would give. Only what fails even with
luck is impossible.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import ceil, floor
from typing import Literal

from tuner.domain import Brief, Oven
from tuner.learning.goals import BROWNING, CORE, Goals
from tuner.physics import Estimates, estimates

_LUCK = 1.5
"""Standard deviations of the prior by which oven and food may be luckier than expected and still count as possible."""
_BROWNED_FROM = 2.0
"""A browning window that begins below this mark asks for no crust."""
_SOME_COLOUR = 0.25
"""Share of the time to half of the final colour below which a crust is doubtful (judgement)."""
_HALVINGS = 24
_LONGER, _SMALLER = 4.0, 2.0
"""Largest change that is still worth naming: times the duration, and of thickness or mass."""
_WARMER: tuple[tuple[str, float, str], ...] = (
    ("tempered", -3.0, "Temper it to -3 °C in the chiller before cooking."),
    ("chilled", 4.0, "Thaw it in the chiller before cooking."),
)
_TROUBLE_OF_THAWING = 1.3
"""Thawing before is as much trouble as so much more time (judgement)."""

Which = Literal["energy", "crust", "thickness"]


@dataclass(frozen=True)
class HandFinding:
    """One thing that stands in the way: which check, whether even luck does not help, and the words for it."""

    which: Which
    impossible: bool
    text: str


@dataclass(frozen=True)
class _Case:
    brief: Brief
    oven: Oven
    goals: Goals

    @property
    def longest_s(self) -> float:
        setting = self.oven.duration_s
        return min(self.goals.duration_high_s, setting.high)

    @property
    def needed_c(self) -> float:
        low = float(self.goals.low[CORE])
        return low if low > -1e6 else float("-inf")

    def seen(self, luck: float) -> Estimates:
        return estimates(self.brief, self.oven, self.needed_c if self.needed_c > -1e6 else 0.0, luck=luck)


def _energy(case: _Case) -> HandFinding | None:
    if case.needed_c < -1e6:
        return None
    for luck, impossible in ((_LUCK, True), (0.0, False)):
        least_s = case.seen(luck).energy_s
        if case.longest_s < least_s:
            chance = "even if it takes its microwave well" if impossible else "as far as is known"
            portion = case.brief.portion
            return HandFinding(
                "energy",
                impossible,
                f"Heating {portion.mass_g:g} g from {portion.start_temperature_c:g} to {case.needed_c:g} °C takes at least "
                f"{least_s:.0f} s of full power on this oven, {chance}; there are {case.longest_s:g} s.",
            )
    return None


def _crust(case: _Case) -> HandFinding | None:
    low = float(case.goals.low[BROWNING])
    if low < _BROWNED_FROM:
        return None
    lucky, usual = case.seen(_LUCK), case.seen(0.0)
    if case.longest_s < lucky.drying_s:
        text = f"Full air needs {lucky.drying_s:.0f} s to dry a skin before it can brown; there are {case.longest_s:g} s."
        return HandFinding("crust", True, text)
    wanted_s = usual.drying_s + _SOME_COLOUR * usual.browning_s
    if case.longest_s < wanted_s:
        text = f"Drying and browning a crust takes about {wanted_s:.0f} s of full air; there are {case.longest_s:g} s."
        return HandFinding("crust", False, text)
    return None


def _thickness(case: _Case) -> HandFinding | None:
    if case.needed_c < -1e6:
        return None
    for luck, impossible in ((_LUCK, True), (0.0, False)):
        reached_c = case.seen(luck).centre_c(case.longest_s)
        if reached_c < case.needed_c:
            portion = case.brief.portion
            return HandFinding(
                "thickness",
                impossible,
                f"The middle of {portion.thickness_mm:g} mm lies beyond what the microwave reaches: it gets to about "
                f"{reached_c:.0f} °C in {case.longest_s:g} s of full power, and {case.needed_c:g} °C are needed.",
            )
    return None


_CHECKS: dict[Which, Callable[[_Case], HandFinding | None]] = {"energy": _energy, "crust": _crust, "thickness": _thickness}


def hand_findings(brief: Brief, oven: Oven, goals: Goals) -> list[HandFinding]:
    """What stands in the way by hand; a portion that lacks the energy is not blamed for its thickness too."""
    case = _Case(brief, oven, goals)
    found = [finding for finding in (check(case) for check in _CHECKS.values()) if finding is not None]
    if any(finding.which == "energy" for finding in found):
        return [finding for finding in found if finding.which != "thickness"]
    return found


@dataclass(frozen=True)
class _Within(_Case):
    """A case with another limit on the duration."""

    allowed_s: float = 0.0

    @property
    def longest_s(self) -> float:
        return min(self.allowed_s, self.oven.duration_s.high)


def _least_factor(passes: Callable[[float], bool], most: float) -> float | None:
    """Smallest factor above 1 that passes; None where the largest does not."""
    if not passes(most):
        return None
    low, high = 1.0, most
    for _ in range(_HALVINGS):
        middle = (low * high) ** 0.5
        low, high = (low, middle) if passes(middle) else (middle, high)
    return high


def _all_pass(case: _Case) -> bool:
    return all(check(case) is None for check in _CHECKS.values())


def _portion(brief: Brief, **changes: object) -> Brief:
    return brief.model_copy(update={"portion": brief.portion.model_copy(update=changes)})


def hand_relaxations(brief: Brief, oven: Oven, goals: Goals, findings: Sequence[HandFinding]) -> list[str]:
    """What would clear the findings by hand, one thing at a time, the smallest change first.

    Where no single thing clears them, both time and thickness are named.
    """
    portion, longest = brief.portion, _Case(brief, oven, goals).longest_s
    checks = [_CHECKS[finding.which] for finding in findings]

    def passes(case: _Case) -> bool:
        return all(check(case) is None for check in checks)

    def with_portion(**changes: object) -> bool:
        return passes(_Case(_portion(brief, **changes), oven, goals))

    options: list[tuple[float, str]] = []
    more = _least_factor(lambda by: _all_pass(_Within(brief, oven, goals, longest * by)), _LONGER)
    if more is None:
        more = _least_factor(lambda by: passes(_Within(brief, oven, goals, longest * by)), _LONGER)
    if more is not None:
        step = oven.duration_s.step or 1.0
        options.append((more, f"Allow {ceil(longest * more / step) * step:g} s instead of {longest:g} s."))
    thin = _least_factor(lambda by: with_portion(thickness_mm=max(portion.thickness_mm / by, 1.0)), _SMALLER)
    if thin is not None:
        words = f"Make the portion {floor(portion.thickness_mm / thin)} mm thick instead of {portion.thickness_mm:g} mm."
        options.append((1.05 * thin, words))
    light = _least_factor(lambda by: with_portion(mass_g=portion.mass_g / by), _SMALLER)
    if light is not None:
        words = f"Take {floor(portion.mass_g / light)} g instead of {portion.mass_g:g} g, or cook fewer at once."
        options.append((1.1 * light, words))
    if portion.start_state == "frozen":
        for state, start_c, words in _WARMER:
            if with_portion(start_state=state, start_temperature_c=start_c):
                options.append((_TROUBLE_OF_THAWING, words))
                break
    if not options:
        return ["Allow more time and make the portion thinner: neither is enough alone."]
    return [text for _, text in sorted(options, key=lambda option: option[0])]
