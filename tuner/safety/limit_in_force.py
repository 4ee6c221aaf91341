"""Which critical limit counts for a brief: its own where it may stand, else the default of the food class."""

from __future__ import annotations

from dataclasses import dataclass

from tuner.domain import Brief, CriticalLimit, FoodClass
from tuner.domain.brief import EDGE
from tuner.safety.limit_row import LimitRow
from tuner.safety.limit_rows import MICROWAVE_RAW, NOTHING_TO_KILL, SHIPPED_LIMITS, UK_TABLE
from tuner.safety.markets import markets_of


@dataclass(frozen=True, slots=True, kw_only=True)
class EffectiveLimit:
    """The limit that counts.

    Attributes
    ----------
    none
        Nothing needs killing (approved or not, see `approved`).
    core_temperature_c
        Temperature every part must reach [°C]; None when `none`.
    hold_s, rest_s, covered
        Time at that temperature [s], stand after cooking [s], covered or not.
    guard_c
        Degrees kept clear for measuring error [K].
    z_c, reference_c, required_min
        Of a rule in equivalent minutes [K, °C, min], else None.
    count_come_up, count_rest
        Whether the time before the limit is first reached, and after the program, counts in those minutes.
    rule, market, edition, approved_by
        Where it comes from and who approved it; `approved_by` is None for every shipped default.
    is_default
        Whether the default of the food class counts.
    why
        One sentence for a person: why this limit counts.
    """

    none: bool
    core_temperature_c: float | None
    hold_s: float
    rest_s: float
    covered: bool
    guard_c: float
    z_c: float | None
    reference_c: float | None
    required_min: float | None
    count_come_up: bool
    count_rest: bool
    rule: str | None
    market: str | None
    edition: str | None
    approved_by: str | None
    is_default: bool
    why: str

    @property
    def pass_line_c(self) -> float | None:
        """What the lowest reading must show [°C]: limit + guard; None where nothing needs killing."""
        return None if self.core_temperature_c is None else round(self.core_temperature_c + self.guard_c, 9)

    @property
    def minutes_rule(self) -> tuple[float, float, float] | None:
        """(required [min], reference [°C], z [K]) where the limit asks for equivalent minutes, else None."""
        if self.required_min is None or self.reference_c is None or self.z_c is None:
            return None
        return self.required_min, self.reference_c, self.z_c

    @property
    def approved(self) -> bool:
        """Whether somebody stands for it. Nothing to kill is approved only with its rule and approver."""
        return _written(self.approved_by) and (_written(self.rule) or not self.none)


_DEFAULTS = {food_class: row for row in SHIPPED_LIMITS if row.use == "default" for food_class in row.food_classes}
_OF_MARKETS = tuple(row for row in SHIPPED_LIMITS if row.use == "market")


def _written(text: str | None) -> bool:
    return bool(text and text.strip())


def limit_class(brief: Brief) -> FoodClass:
    """Food class that counts for the limit: injected or tenderised meat and fish count as ground."""
    if brief.portion.intact is False and brief.food_class in {"whole_muscle", "fish"}:
        return "ground_meat"
    return brief.food_class


def default_row(brief: Brief) -> LimitRow:
    """Shipped row that counts where the brief names no limit: the class default, or the strictest row of its market.

    Plant food to be cooked before eating takes the caterers' table (70 °C for 2 min) instead of the hot-holding row.
    """
    food_class = limit_class(brief)
    first = UK_TABLE if food_class == "plant" and brief.cook_before_eating else _DEFAULTS.get(food_class, MICROWAVE_RAW)
    market = brief.market or (brief.critical_limit.market if brief.critical_limit else None)
    known = markets_of(market)
    of_market = [row for row in _OF_MARKETS if row.market in known and food_class in row.food_classes]
    if not brief.cook_before_eating and food_class == "plant":
        of_market = [row for row in of_market if row is not UK_TABLE]
    return max([first, *of_market], key=lambda row: row.strictness)


def is_below_default(brief: Brief) -> bool:
    """Whether the brief's own limit asks for less than the default: colder, as hot but shorter, or nothing at all.

    Such a limit needs a rule and an approver, who is not the recipe's developer.
    """
    own, default = brief.critical_limit, default_row(brief)
    if own is None or default.core_temperature_c is None:
        return False
    if own.none or own.core_temperature_c is None:
        return True
    if own.core_temperature_c < default.core_temperature_c - EDGE:
        return True
    return own.core_temperature_c <= default.core_temperature_c + EDGE and own.hold_s < default.hold_s - EDGE


def effective_limit(brief: Brief) -> EffectiveLimit:
    """Critical limit that counts for a brief.

    Its own limit, unless that asks for less than the default of the food class (or for nothing where the class has a
    default) without rule and approver; then, and where none is given, the default: the class row, or the strictest shipped
    row of the brief's market.
    """
    own, row = brief.critical_limit, default_row(brief)
    if own is None:
        return _from_row(row, f"The brief names no limit, so the default for {limit_class(brief)} counts.")
    absent = " and ".join(name for name in ("rule", "approved_by") if not _written(getattr(own, name)))
    if absent and is_below_default(brief):
        asked = "nothing to kill" if own.none else f"{own.core_temperature_c:g} °C"
        why = f"The brief's own limit ({asked}) asks for less than the default and has no {absent}, so the default counts."
        return _from_row(row, why)
    return _from_brief(own)


def _from_row(row: LimitRow, why: str) -> EffectiveLimit:
    return EffectiveLimit(
        none=row is NOTHING_TO_KILL,
        core_temperature_c=row.core_temperature_c,
        hold_s=row.hold_s,
        rest_s=row.rest_s,
        covered=row.covered,
        guard_c=DEFAULT_GUARD_C,
        z_c=row.z_c,
        reference_c=row.reference_c,
        required_min=None,
        count_come_up=True,
        count_rest=True,
        rule=row.rule,
        market=row.market,
        edition=row.edition,
        approved_by=None,
        is_default=True,
        why=why,
    )


def _from_brief(own: CriticalLimit) -> EffectiveLimit:
    return EffectiveLimit(
        none=bool(own.none),
        core_temperature_c=own.core_temperature_c,
        hold_s=own.hold_s,
        rest_s=own.rest_s,
        covered=own.covered,
        guard_c=own.guard_c,
        z_c=own.z_c,
        reference_c=own.reference_c,
        required_min=own.required_min,
        count_come_up=own.count_come_up is not False,
        count_rest=own.count_rest is not False,
        rule=own.rule,
        market=own.market,
        edition=own.edition,
        approved_by=own.approved_by,
        is_default=False,
        why="The brief's own limit counts.",
    )


DEFAULT_GUARD_C = 2.0
"""Root sum square of the 95 % half-widths of thermometer 1.0, missed coldest place 1.5 and timing 0.5 K is 1.87, used as 2
(common practice). It covers error common to all cooks; scatter between cooks is dealt with by the proof."""


def usable_core_window(brief: Brief) -> tuple[float | None, float | None]:
    """Core window that can be used [°C]: (low, high), None where an edge is open.

    The low edge is the higher of the window's low and limit + guard, and exists whenever a limit exists, with or without a
    core window. It may lie at or above the high edge; then no program can be inside.
    """
    window = brief.targets.core_temperature_c
    edges = [edge for edge in (window.low if window else None, effective_limit(brief).pass_line_c) if edge is not None]
    return (max(edges) if edges else None, window.high if window else None)
