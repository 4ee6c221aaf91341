"""Cautions in our words, and the places where each must appear."""

from __future__ import annotations

from tuner.domain import Caution, InvalidDocument

PLACES = (
    "brief",
    "oven",
    "oven check",
    "cook sheet",
    "measuring",
    "verdict",
    "score entry",
    "session invitation",
    "card",
    "light-plan card",
    "printed limit",
)
"""Where cautions appear."""


def _caution(code: str, text: str, *places: str) -> Caution:
    return Caution(code=code, text=text, places=places)


CAUTIONS: tuple[Caution, ...] = (
    _caution("C1", "Too cold inside: nobody tastes this portion.", "verdict", "score entry", "cook sheet"),
    _caution(
        "C2",
        "Something needed is missing, so safety is unknown: handle it as not safe.",
        "verdict",
        "score entry",
        "cook sheet",
    ),
    _caution(
        "C3",
        "Hot oven, tray, steam and fat: wear gloves, and lift covers away from your face.",
        "cook sheet",
        "card",
    ),
    _caution(
        "C4",
        "Keep thermometers, metal and trays out of the cavity unless the oven's maker permits them. Never run microwave "
        "with nothing inside.",
        "measuring",
        "cook sheet",
        "card",
    ),
    _caution("C5", "Sparks, smoke, or a damaged door or seal: stop and call a licensed service.", "oven", "cook sheet"),
    _caution(
        "C6",
        "Read out what it contains and may contain, and look at the label of today's lot.",
        "session invitation",
        "cook sheet",
        "card",
    ),
    _caution(
        "C7",
        "Hot water can erupt when touched: stand a wooden stick in it, and wait half a minute before moving it.",
        "oven check",
    ),
    _caution("C8", "Print rule, edition and approver with the limit. The local code has the last word.", "printed limit"),
    _caution(
        "C9",
        "Checked on 8 cooks only, which proves little: of recipes that fail one cook in ten, 43 in 100 get through.",
        "light-plan card",
    ),
    _caution("C10", "Prick skins and pouches. No whole egg in its shell, ever.", "brief", "card"),
    _caution("C11", "One top-up with the proven program; still too cold, throw it away.", "card", "verdict"),
    _caution("C12", "Bread, potato and other starch: stop at golden, before brown turns dark.", "card"),
    _caution("C13", "For vulnerable guests the full limit holds, always.", "brief", "card"),
)
"""All cautions, in the order of their codes."""


def cautions(place: str) -> tuple[Caution, ...]:
    """Cautions that must appear at a place, in the order of their codes.

    Raises
    ------
    InvalidDocument
        If there is no such place; the message lists those there are.
    """
    if place not in PLACES:
        raise InvalidDocument([f"place {place!r} is not known for cautions. Use one of: {', '.join(PLACES)}."])
    return tuple(caution for caution in CAUTIONS if place in caution.places)
