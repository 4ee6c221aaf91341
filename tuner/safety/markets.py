"""Markets as people write them, and the shipped rows that hold there."""

from __future__ import annotations

from tuner.domain import FoodClass
from tuner.safety.limit_row import LimitRow
from tuner.safety.limit_rows import SHIPPED_LIMITS

_MARKETS = {
    "us": ("US",),
    "usa": ("US",),
    "u.s.": ("US",),
    "united states": ("US",),
    "united states of america": ("US",),
    "uk": ("UK",),
    "gb": ("UK",),
    "united kingdom": ("UK",),
    "great britain": ("UK",),
    "england": ("UK",),
    "wales": ("UK",),
    "northern ireland": ("UK",),
    "scotland": ("UK", "Scotland"),
    "australia": ("Australia",),
    "au": ("Australia",),
    "new zealand": ("Australia",),
}


def markets_of(market: str | None) -> tuple[str, ...]:
    """Markets whose shipped rows hold where `market` is written in a brief; empty where none are shipped."""
    return _MARKETS.get((market or "").strip().casefold(), ())


def rows_for(food_class: FoodClass, market: str | None = None) -> tuple[LimitRow, ...]:
    """Shipped rows of a food class, those of `market` only where one is given; strictest first."""
    known = markets_of(market)
    rows = [
        row
        for row in SHIPPED_LIMITS
        if food_class in row.food_classes and (market is None or row.market == "any" or row.market in known)
    ]
    return tuple(sorted(rows, key=lambda row: row.strictness, reverse=True))
