"""The fonts that printed pages embed, chosen by the letters in a text; letters none of them holds are refused by name."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from fontTools.ttLib import TTFont

from tuner.domain import InvalidDocument, StoreProblem

MAIN = "atkinson-next"
"""First choice, in both weights."""
_SCRIPTS = ("noto-sans-arabic", "noto-sans-hebrew", "noto-sans-devanagari", "noto-sans-thai", "noto-sans-cjk")
_INVISIBLE = frozenset("\n\r\t\u200b\u200c\u200d\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\ufeff\ufe0f")


@dataclass(frozen=True, slots=True)
class Face:
    """One font file: family, style (empty or `B`) and where it lies."""

    family: str
    style: str
    path: Path


@cache
def font_folder() -> Path:
    """Folder of the font files: beside the package in a checkout, inside it in an installation.

    Raises
    ------
    StoreProblem
        If it is missing.
    """
    package = Path(__file__).resolve().parents[1]
    places = [folder / "static" / "card_fonts" for folder in (package.parent, package / "_served")]
    found = next((place for place in places if place.is_dir()), None)
    if found is None:
        raise StoreProblem("The fonts of printed pages (static/card_fonts) are missing. Install the tool again.")
    return found


@cache
def letters_of(family: str, weight: int) -> frozenset[int]:
    """Code points a font holds."""
    with TTFont(font_folder() / f"{family}-{weight}.ttf", lazy=True) as font:
        return frozenset(font.getBestCmap())


def faces_for(texts: Iterable[str]) -> tuple[Face, ...]:
    """The fonts needed for texts: the main one in both weights, Noto Sans where it lacks letters, then single scripts.

    Raises
    ------
    InvalidDocument
        If a letter is in none of them.
    """
    wanted = {ord(letter) for text in texts for letter in unicodedata.normalize("NFC", text) if letter not in _INVISIBLE}
    chosen = [Face(MAIN, "", _path(MAIN, 400)), Face(MAIN, "B", _path(MAIN, 700))]
    missing = wanted - letters_of(MAIN, 400)
    if missing & letters_of("noto-sans", 400):
        chosen += [Face("noto-sans", "", _path("noto-sans", 400)), Face("noto-sans", "B", _path("noto-sans", 700))]
        missing -= letters_of("noto-sans", 400)
    for script in _SCRIPTS:
        if missing & letters_of(script, 700):
            path = _path(script, 700)
            chosen += [Face(script, "", path), Face(script, "B", path)]
            missing -= letters_of(script, 700)
    if missing:
        shown = ", ".join(f"{chr(code)} (U+{code:04X})" for code in sorted(missing)[:5])
        raise InvalidDocument([f"No font here can print {shown}. A page must show every letter. Write the name with others."])
    return tuple(chosen)


def _path(family: str, weight: int) -> Path:
    return font_folder() / f"{family}-{weight}.ttf"
