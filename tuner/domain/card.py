"""What stands on a program card, ready to be drawn on paper or on a phone: words and numbers in the units of a site."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

from tuner.domain.portion import Shape

TemperatureUnit = Literal["C", "F"]


@dataclass(frozen=True, slots=True)
class KeyedStage:
    """One stage to key in: share [%], air speed [%], microwave [%]; `seconds` is for reading only."""

    share_pct: float
    air_speed_pct: float
    microwave_pct: float
    seconds: float


@dataclass(frozen=True, slots=True)
class KeyedProgram:
    """A program as it is keyed in, with the word that is read back."""

    air_temperature: float
    duration_s: float
    stages: tuple[KeyedStage, ...]
    slots: int
    word: str


@dataclass(frozen=True, slots=True)
class Placement:
    """Picture of the start: shape and thickness of the portion, how many stand in the oven at once, where to probe."""

    shape: Shape
    thickness_mm: float
    load: int
    places: int
    words: str


@dataclass(frozen=True, slots=True)
class ProgramCard:
    """One card of one release for one site."""

    dish: str
    customer: str | None
    number: int
    standing: Literal["released", "restricted"]
    claim: str
    unit: TemperatureUnit
    site: str | None
    start: tuple[str, ...]
    before: tuple[str, ...]
    after: tuple[str, ...]
    placement: Placement
    program: KeyedProgram
    rest_s: float
    rest_words: str
    probe: tuple[str, ...]
    must_read: str | None
    top_up: KeyedProgram | None
    discard: str
    allergens: str
    hold: tuple[str, ...]
    limit: str
    cautions: tuple[tuple[str, str], ...]
    signed: tuple[str, ...]
    sha256: str
    link: str
    released_on: date
    expires_on: date | None
    photo: bytes | None
