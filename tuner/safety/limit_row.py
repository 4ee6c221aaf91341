"""One critical limit of one rule, as the tool ships it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from tuner.domain import FoodClass

REVIEW_BY = "2027-12-31"
"""Day by which somebody with a food-safety role should look at every shipped row again (ISO date)."""


Seen = Literal["verified", "from memory", "common practice"]
"""How far the text behind a row can be trusted: read in a public copy, not read, or no text at all."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LimitRow:
    """One critical limit of one rule.

    Attributes
    ----------
    code
        Stable short name of the row.
    rule, authority, market, edition
        Where it comes from and where it holds.
    food_classes
        Classes it applies to.
    use
        `default`: counts for its food classes when a brief names no limit of its own. `market`: counts instead where the
        brief names this market and the row is stricter. `alternative`: may be chosen and approved, never counts by itself.
    core_temperature_c
        Temperature every part must reach [°C]; None where nothing needs killing.
    hold_s, rest_s, covered, moved
        Time at that temperature [s], stand after cooking [s], covered or not, turned or stirred or not.
    z_c, reference_c
        Of a time-temperature table [K, °C], else None.
    table
        Pairs (temperature [°C], hold [s]) of a table, lowest temperature first; empty for a plain temperature.
    conditions
        What else the rule asks for, in our words.
    seen
        See `Seen`.
    status
        Always `unapproved`: approval belongs to a brief.
    review_by
        ISO date.
    """

    code: str
    rule: str
    authority: str
    market: str
    edition: str
    food_classes: tuple[FoodClass, ...]
    use: Literal["default", "market", "alternative"] = "alternative"
    core_temperature_c: float | None
    hold_s: float = 0.0
    rest_s: float = 0.0
    covered: bool = False
    moved: bool = False
    z_c: float | None = None
    reference_c: float | None = None
    table: tuple[tuple[float, float], ...] = ()
    conditions: str = ""
    seen: Seen = "verified"
    status: Literal["unapproved"] = "unapproved"
    review_by: str = REVIEW_BY

    @property
    def strictness(self) -> tuple[float, float, float, bool]:
        """Orders rows: higher temperature, then longer hold, longer rest, covered.

        Temperature comes first because hold times of different rules are not interchangeable.
        """
        return (self.core_temperature_c or 0.0, self.hold_s, self.rest_s, self.covered)
