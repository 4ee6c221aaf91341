"""Allergens that must be declared, by market, as data.

From memory: EU, Regulation (EU) No 1169/2011, Annex II (14); US, FALCPA 2004 and FASTER Act 2021 (9). Look the current law up
before relying on them. An allergen list that is missing means unknown, never none.
"""

from __future__ import annotations

from tuner.safety.markets import markets_of

_EU = (
    "gluten",
    "crustaceans",
    "egg",
    "fish",
    "peanuts",
    "soya",
    "milk",
    "nuts",
    "celery",
    "mustard",
    "sesame",
    "sulphites",
    "lupin",
    "molluscs",
)
_US = ("milk", "egg", "fish", "crustaceans", "nuts", "peanuts", "wheat", "soya", "sesame")
_EU_NAMES = frozenset(
    [
        "eu",
        "european union",
        "austria",
        "belgium",
        "bulgaria",
        "croatia",
        "cyprus",
        "czechia",
        "denmark",
        "estonia",
        "finland",
        "france",
        "germany",
        "greece",
        "hungary",
        "ireland",
        "italy",
        "latvia",
        "lithuania",
        "luxembourg",
        "malta",
        "netherlands",
        "poland",
        "portugal",
        "romania",
        "slovakia",
        "slovenia",
        "spain",
        "sweden",
    ]
)


def allergen_list(market: str | None = None) -> tuple[str, ...]:
    """Allergens to be declared in a market, in plain words.

    The 14 of the EU (in force in the UK too) and the 9 of the US are shipped. Where no list is shipped, or no market is
    given, it is all names of both: nothing is left out because a market is unknown.
    """
    known = markets_of(market)
    if "US" in known:
        return _US
    if "UK" in known or (market or "").strip().casefold() in _EU_NAMES:
        return _EU
    return (*_EU, *(name for name in _US if name not in _EU))
