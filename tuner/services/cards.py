"""Program cards: made from a release in force for one site, in its units; refused where there is a program but no recipe."""

from __future__ import annotations

import math
import os
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from tuner.domain import Brief, NotAllowed, Program
from tuner.domain.card import KeyedProgram, KeyedStage, Placement, ProgramCard, TemperatureUnit
from tuner.domain.read_back import read_back_word
from tuner.domain.recipe import allergens_of, missing_parts
from tuner.domain.release import ReleaseDocument
from tuner.services.actor import Actor
from tuner.services.release_reading import ReleaseView, one_version
from tuner.services.texts import checked_text
from tuner.services.workspace import Workspace
from tuner.store import RecordEntry, file_hash

CARD_ISSUE = "card_issue"
ADDRESS_VARIABLE = "TUNER_ADDRESS"
DEFAULT_ADDRESS = "http://localhost:8501"
_STARCHY = 0.2
"""Mass fraction of carbohydrate from which the caution about starchy food is printed."""


@dataclass(frozen=True, slots=True)
class IssuedCard:
    """A card as it was issued: its bytes, their SHA-256, and the word read back at the oven."""

    data: bytes
    media_type: str
    sha256: str
    word: str


def issue_card(
    space: Workspace,
    who: Actor,
    *,
    release_id: str,
    form: Literal["pdf", "html"] = "pdf",
    site: str | None = None,
    unit: TemperatureUnit = "C",
    address: str | None = None,
) -> IssuedCard:
    """Issue the card of a release for a site; the bytes issued are kept.

    Parameters
    ----------
    unit
        In which the site's oven and thermometer show temperatures.
    address
        Where the tool is reached from the site, for the code on the card; `$TUNER_ADDRESS` by default.

    Raises
    ------
    InvalidDocument
        If a text is too long for the page, or holds a letter that can't be printed.
    NotAllowed
        If the release is not in force, has expired, or has a program but no whole recipe.
    NotFound
        If there is no such release, or none this person may see.
    """
    named = None if site is None else checked_text("site", site, 100)
    card, version = _card(space, who, release_id, named, unit, address)
    data, media_type = _drawn(card, form)
    content = {
        "site": named,
        "unit": unit,
        "form": form,
        "word": card.program.word,
        "sha256": file_hash(data),
        "number": version.number,
        "release_sha256": card.sha256,
    }
    with space.store.unit_of_work(space.context(who)) as work:
        development = work.developments.one(version.development_id)
        work.files.keep(development, data, media_type=media_type)
        work.records.add(
            development, RecordEntry(CARD_ISSUE, content, f"{release_id} {file_hash(data)[:24]}", about=release_id)
        )
        work.commit()
    return IssuedCard(data, media_type, file_hash(data), card.program.word)


def view_card(
    space: Workspace,
    who: Actor,
    *,
    release_id: str,
    site: str | None = None,
    unit: TemperatureUnit = "C",
    address: str | None = None,
) -> ProgramCard:
    """The content of a card, to be shown; nothing is issued.

    Raises
    ------
    NotAllowed
        If the release is not in force, has expired, or has a program but no whole recipe.
    NotFound
        If there is no such release, or none this person may see.
    """
    return _card(space, who, release_id, site, unit, address)[0]


def _drawn(card: ProgramCard, form: str) -> tuple[bytes, str]:
    if form == "html":
        from tuner.exchange.program_card_html import program_card_html

        return program_card_html(card).encode("utf-8"), "text/html"
    from tuner.exchange.program_card_pdf import program_card_pdf

    return program_card_pdf(card), "application/pdf"


def _card(
    space: Workspace, who: Actor, release_id: str, site: str | None, unit: TemperatureUnit, address: str | None
) -> tuple[ProgramCard, ReleaseView]:
    with space.store.read(who.customer) as reading:
        version = one_version(reading, release_id)
        document = version.document
        if document is None or not version.in_force:
            raise NotAllowed(
                f"Version {version.number} is {version.state}: there is a program, and no released recipe. A card is made from "
                "a release in force."
            )
        if version.expired(space.clock()):
            raise NotAllowed(f"Version {version.number} has expired. No card is issued from it.")
        photo = None if document.recipe.photo is None else reading.files.get(document.recipe.photo).data
    base = (address or os.environ.get(ADDRESS_VARIABLE) or DEFAULT_ADDRESS).rstrip("/")
    return card_of(
        document, version, site=site, unit=unit, link=f"{base}/check-file?release={version.id}", photo=photo
    ), version


def card_of(
    document: ReleaseDocument,
    version: ReleaseView,
    *,
    site: str | None,
    unit: TemperatureUnit,
    link: str,
    photo: bytes | None,
) -> ProgramCard:
    """The content of the card of a release.

    Raises
    ------
    NotAllowed
        If parts of the recipe are missing: that is a program, not a recipe.
    """
    missing = missing_parts(document.recipe)
    if missing:
        raise NotAllowed(f"This is a program, not a recipe: {'; '.join(missing)} missing. A card needs the whole recipe.")
    recipe, brief = document.recipe, document.brief
    return ProgramCard(
        dish=document.dish,
        customer=document.customer,
        number=document.number,
        standing=document.standing,
        claim=_claim(document),
        unit=unit,
        site=site,
        start=tuple(_start(document, unit)),
        before=recipe.before or (),
        after=recipe.after or (),
        placement=Placement(
            brief.portion.shape,
            brief.portion.thickness_mm,
            int(document.operating_window.load.high),
            brief.places,
            f"{recipe.trayware}: {recipe.placement}",
        ),
        program=keyed(document.program, unit, document.oven.max_stages),
        rest_s=max(brief.rest_s, document.limit.rest_s),
        rest_words="covered" if document.limit.covered else "open",
        probe=tuple(_probe(document)),
        must_read=_must_read(document, unit),
        top_up=None if document.top_up is None else keyed(document.top_up.program, unit, document.oven.max_stages),
        discard=_discard(document),
        allergens=allergens_of(recipe, stated=brief.allergens).in_words(),
        hold=tuple(_hold(document)),
        limit=_limit(document, unit),
        cautions=tuple(_cautions(document)),
        signed=tuple(f"{one.role}: {one.name}, {one.signed_at.date().isoformat()}" for one in version.signed),
        sha256=version.sha256 or "",
        link=link,
        released_on=version.changes[-1].at.date(),
        expires_on=None if document.expires_at is None else document.expires_at.date(),
        photo=photo,
    )


def keyed(program: Program, unit: TemperatureUnit, slots: int) -> KeyedProgram:
    """A program as it is keyed in at a site, with the word of exactly these numbers; stages not used count as zeros."""
    air = program.air_temperature_c if unit == "C" else float(round(program.air_temperature_c * 9 / 5 + 32))
    numbers = [air, program.duration_s]
    for stage in program.stages:
        numbers += [stage.share_pct, stage.air_speed_pct, stage.microwave_pct]
    shown = max(slots, len(program.stages))
    numbers += [0.0] * (3 * (shown - len(program.stages)))
    stages = tuple(
        KeyedStage(stage.share_pct, stage.air_speed_pct, stage.microwave_pct, seconds)
        for stage, seconds in zip(program.stages, program.stage_seconds(), strict=True)
    )
    return KeyedProgram(air, program.duration_s, stages, shown, read_back_word([round(number, 2) for number in numbers]))


def _claim(document: ReleaseDocument) -> str:
    content = document.proof.content
    if content["strength"] == "light":
        return f"checked on {len(content['cooks'])} cooks"
    if document.standing == "restricted":
        return "restricted: the proof over ovens is still open"
    return str(content["claim"])


def _start(document: ReleaseDocument, unit: TemperatureUnit) -> Iterator[str]:
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


def _probe(document: ReleaseDocument) -> Iterator[str]:
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


def _must_read(document: ReleaseDocument, unit: TemperatureUnit) -> str | None:
    limit = document.limit
    if limit.none or limit.core_temperature_c is None:
        return None
    return f"at least {_at_least(limit.core_temperature_c + limit.guard_c, unit)} everywhere"


def _at_least(temperature_c: float, unit: TemperatureUnit) -> str:
    """A lower bound in the unit, rounded up: never less than the limit asks."""
    if unit == "C":
        return f"{math.ceil(temperature_c * 10 - 1e-9) / 10:g} °C"
    return f"{math.ceil(temperature_c * 9 / 5 + 32 - 1e-9)} °F"


def _discard(document: ReleaseDocument) -> str:
    if document.limit.none:
        return "Interrupted, dropped or doubtful: throw it away."
    if document.top_up is None:
        return "No top-up is proven: a portion below that reading, or interrupted, is thrown away. Never 30 seconds more."
    return "Rest and probe again. Still below: throw it away. Interrupted raw portions are thrown away."


def _hold(document: ReleaseDocument) -> Iterator[str]:
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


def _limit(document: ReleaseDocument, unit: TemperatureUnit) -> str:
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


def _cautions(document: ReleaseDocument) -> Iterator[tuple[str, str]]:
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
