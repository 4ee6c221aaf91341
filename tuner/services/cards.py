"""Program cards: made from a release in force for one site, in its units; refused where there is a program but no recipe."""

from __future__ import annotations

import os
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from tuner.domain import NotAllowed, Program
from tuner.domain.card import KeyedProgram, KeyedStage, Placement, ProgramCard, TemperatureUnit
from tuner.domain.read_back import read_back_word
from tuner.domain.recipe import allergens_of, missing_parts
from tuner.domain.release import ReleaseDocument
from tuner.services.actor import Actor
from tuner.services.card_words import (
    cautions_words,
    claim_words,
    discard_words,
    hold_words,
    limit_words,
    must_read_words,
    probe_words,
    start_words,
)
from tuner.services.release_reading import ReleaseView, one_version
from tuner.services.texts import checked_text
from tuner.services.workspace import Workspace
from tuner.store import RecordEntry, file_hash

CARD_ISSUE = "card_issue"
ADDRESS_VARIABLE = "TUNER_ADDRESS"
DEFAULT_ADDRESS = "http://localhost:8501"


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
        claim=claim_words(document),
        unit=unit,
        site=site,
        start=tuple(start_words(document, unit)),
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
        probe=tuple(probe_words(document)),
        must_read=must_read_words(document, unit),
        top_up=None if document.top_up is None else keyed(document.top_up.program, unit, document.oven.max_stages),
        discard=discard_words(document),
        allergens=allergens_of(recipe, stated=brief.allergens).in_words(),
        hold=tuple(hold_words(document)),
        limit=limit_words(document, unit),
        cautions=tuple(cautions_words(document)),
        signed=tuple(f"{one.role}: {one.name}, {one.signed_at.date().isoformat()}" for one in version.signed),
        sha256=version.sha256 or "",
        link=link,
        released_on=version.changes[-1].at.date(),
        expires_on=None if document.expires_at is None else document.expires_at.date(),
        photo=photo,
    )


def read_back(air_temperature: float, duration_s: float, stages: Sequence[tuple[float, float, float]], *, slots: int) -> str:
    """Word of what an oven shows, as it was typed off: the card's own word only if every digit is the card's.

    Parameters
    ----------
    air_temperature
        In the unit the oven shows.
    stages
        Share of the time, air speed, microwave of each stage in use [%].
    slots
        How many stages the oven holds; those not in use count as zeros.

    Raises
    ------
    InvalidDocument
        If a number can't be keyed in.
    """
    numbers = [air_temperature, duration_s, *(number for stage in stages for number in stage)]
    return read_back_word([*numbers, *[0.0] * (3 * (max(slots, len(stages)) - len(stages)))])


def keyed(program: Program, unit: TemperatureUnit, slots: int) -> KeyedProgram:
    """A program as it is keyed in at a site, with the word of exactly these numbers; stages not used count as zeros."""
    air = program.air_temperature_c if unit == "C" else float(round(program.air_temperature_c * 9 / 5 + 32))
    shown = max(slots, len(program.stages))
    typed = [(stage.share_pct, stage.air_speed_pct, stage.microwave_pct) for stage in program.stages]
    word = read_back(air, program.duration_s, typed, slots=shown)
    stages = tuple(
        KeyedStage(stage.share_pct, stage.air_speed_pct, stage.microwave_pct, seconds)
        for stage, seconds in zip(program.stages, program.stage_seconds(), strict=True)
    )
    return KeyedProgram(air, program.duration_s, stages, shown, word)
