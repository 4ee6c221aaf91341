"""What a program card says of a release, in the units of a site; numbers rounded towards what was proven."""

from __future__ import annotations

import math
from collections.abc import Iterator

from tuner.domain import Brief
from tuner.domain.card import TemperatureUnit
from tuner.domain.release import ReleaseDocument

_STARCHY = 0.2
"""Mass fraction of carbohydrate from which the caution about starchy food is printed."""


def claim_words(document: ReleaseDocument) -> str:
    """What the proof lets the card say."""
    content = document.proof.content
    if content["strength"] == "light":
        return f"checked on {len(content['cooks'])} cooks"
    if document.standing == "restricted":
        return "restricted: the proof over ovens is still open"
    return str(content["claim"])


def start_words(document: ReleaseDocument, unit: TemperatureUnit) -> Iterator[str]:
    """State, temperature, mass and load at the start, as far as they were proven."""
    window = document.operating_window
    portion = document.brief.portion
    # Rounded towards the inside: the card never allows more than was proven.
    mass = f"{math.ceil(window.mass_g.low - 1e-9)} to {math.floor(window.mass_g.high + 1e-9)} g"
    low, high = window.start_temperature_c.low, window.start_temperature_c.high
    if unit == "F":
        low, high = math.ceil(low * 9 / 5 + 32 - 1e-9), math.floor(high * 9 / 5 + 32 + 1e-9)
    yield f"{portion.start_state}, {low:g} to {high:g} °{unit}"
    yield f"{mass}, {portion.thickness_mm:g} mm thick"
    most = int(window.load.high)
    yield "one at a time" if most == 1 else f"{int(window.load.low)} to {most} at a time"


def probe_words(document: ReleaseDocument) -> Iterator[str]:
    """Where, when and how to probe."""
    places = document.brief.places
    if document.limit.none:
        yield "Nothing to kill: no temperature is asked for by the limit."
        return
    yield f"After the rest, at {places} places in the middle of the thickness; the lowest counts."
    if document.limit.hold_s > 0:
        yield f"It must stay there for {document.limit.hold_s:g} s."
    if document.standing == "restricted":
        yield "Every portion, and write it down before it is served."
    yield "Clean tip, not on tray or bone. Thermometer checked today."


def must_read_words(document: ReleaseDocument, unit: TemperatureUnit) -> str | None:
    """What the thermometer must show; None where no temperature is asked."""
    limit = document.limit
    if limit.none or limit.core_temperature_c is None:
        return None
    return f"at least {_at_least(limit.core_temperature_c + limit.guard_c, unit)} everywhere"


def _at_least(temperature_c: float, unit: TemperatureUnit) -> str:
    """A lower bound in the unit, rounded up: never less than the limit asks."""
    if unit == "C":
        return f"{math.ceil(temperature_c * 10 - 1e-9) / 10:g} °C"
    return f"{math.ceil(temperature_c * 9 / 5 + 32 - 1e-9)} °F"


def discard_words(document: ReleaseDocument) -> str:
    """When to throw away."""
    if document.limit.none:
        return "Interrupted, dropped or doubtful: throw it away."
    if document.top_up is None:
        return "No top-up is proven: a portion below that reading, or interrupted, is thrown away. Never 30 seconds more."
    return "Rest and probe again. Still below: throw it away. Interrupted raw portions are thrown away."


def hold_words(document: ReleaseDocument) -> Iterator[str]:
    """Holding, serving, weakest oven, and what to do when the oven is down."""
    recipe = document.recipe
    if recipe.hold_s is not None:
        yield "Serve at once." if recipe.hold_s == 0 else f"Hold hot {recipe.hold_s / 60:g} min at most."
    if recipe.shelf:
        yield f"Keeps: {recipe.shelf}"
    yield f"Serving {recipe.serving_g:g} g" + (f", with {recipe.serving_utensil}" if recipe.serving_utensil else "")
    weakest = document.operating_window.lowest_oven_w or document.proof.content.get("lowest_oven_w")
    if isinstance(weakest, int | float):
        yield f"Oven: at least {weakest:.0f} W into food at its last check."
    if recipe.fallback:
        yield f"Oven down: {recipe.fallback}"


def limit_words(document: ReleaseDocument, unit: TemperatureUnit) -> str:
    """The critical limit with rule, edition and approver (C8)."""
    limit = document.limit
    whose = ", ".join(part for part in (limit.rule, limit.edition, limit.market) if part)
    if limit.none or limit.core_temperature_c is None:
        return f"C8 Limit: nothing to kill ({whose}); approved by {limit.approved_by}. The local code has the last word."
    asked = _at_least(limit.core_temperature_c, unit)
    guard = limit.guard_c if unit == "C" else limit.guard_c * 9 / 5
    held = f" for {limit.hold_s:g} s" if limit.hold_s else ""
    return (
        f"C8 Critical limit {asked}{held} + {guard:g} °{unit} guard ({whose}); approved by {limit.approved_by}. "
        "The local code has the last word."
    )


def cautions_words(document: ReleaseDocument) -> Iterator[tuple[str, str]]:
    """Cautions that belong on this card, in the order of their codes."""
    from tuner.safety import CAUTIONS

    wanted = _caution_codes(document, document.brief)
    yield from ((one.code, one.text) for one in CAUTIONS if one.code in wanted)


def _caution_codes(document: ReleaseDocument, brief: Brief) -> set[str]:
    """Codes beside C8, which stands with the limit itself."""
    codes = {"C3", "C4", "C5", "C6"}
    if document.proof.content["strength"] == "light":
        codes.add("C9")
    if brief.food_class == "egg" or _mentions(document, ("skin", "pouch", "shell")):
        codes.add("C10")
    if document.top_up is not None:
        codes.add("C11")
    if brief.food_class == "bakery" or brief.portion.carbohydrate >= _STARCHY:
        codes.add("C12")
    if brief.eaters == "vulnerable":
        codes.add("C13")
    return codes


def _mentions(document: ReleaseDocument, words: tuple[str, ...]) -> bool:
    recipe = document.recipe
    text = " ".join([*(one.name for one in recipe.ingredients), *(recipe.before or ()), recipe.trayware or ""]).casefold()
    return any(word in text for word in words)
