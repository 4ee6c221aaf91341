"""What one heading says: the things it names, its unit, its scale, its numbers, and what is left over.

Nothing is decided here; `naming` weighs what headings say, and `guessing` asks the values.
"""

from __future__ import annotations

import difflib
import re
import unicodedata
from dataclasses import dataclass
from functools import lru_cache

from tuner.exchange.phrases import PHRASES
from tuner.exchange.words import CONCEPTS, FILLERS

_WORDS: dict[str, frozenset[str]] = {}
for _concept, _listed in CONCEPTS.items():
    for _word in _listed.split():
        _WORDS[_word] = _WORDS.get(_word, frozenset()) | {_concept.rstrip("_")}
_PHRASES = sorted(PHRASES, key=lambda pair: -len(pair[0]))
_PARTS = sorted((word for word in _WORDS if len(word) >= 3 or word in {"mw", "id"}), key=len, reverse=True)
_FUZZY = sorted(word for word in _WORDS if len(word) >= 5)

UNIT_NAMES: dict[str, str] = {
    "°C": "c °c celsius degc degreesc degreec gradc c° centigrade grc grdc °gradc gradcelsius degcelsius degreescelsius",
    "°F": "f °f fahrenheit degf degreesf degreef f° grf degfahrenheit degreesfahrenheit",
    "K": "kelvin",
    "g": "g gr gram grams gramm gramme grammes gramos",
    "kg": "kg kilo kilos kilogram kilograms kilogramm",
    "oz": "oz ounce ounces unze unzen onces onza onzas",
    "lb": "lb lbs pound pounds libra libras",
    "s": "s sec secs second seconds sek sekunde sekunden seconde secondes segundo segundos \" '' ″",
    "min": "min mins minute minutes minuten minuto minutos mn ' ′",
    "h": "h hr hrs hour hours std stunden heures horas",
    "mm:ss": "mm:ss m:ss min:sec min:s m:s mn:s mm:ss.s min:sek mmss mm.ss",
    "h:mm:ss": "h:mm:ss hh:mm:ss h:m:s",
    "hh:mm": "hh:mm h:mm",
    "%": "% pct percent prozent pourcent percentage porciento vh",
    "fraction": "fraction 0-1 0..1 0–1 0to1 bruch",
    "W": "w watt watts",
    "kW": "kw",
    "m/s": "m/s ms-1",
    "rpm": "rpm u/min tr/min",
}
_UNITS = {name: unit for unit, names in UNIT_NAMES.items() for name in names.split()}
_TIMED = frozenset({"time", "seconds", "rest", "hold", "stage", "since", "serving", "until", "share", "age", "lasts", "clock"})
_ATTRIBUTE_ALONE = frozenset(
    {"what", "was", "quoi", "que", "cosa", "wat", "item", "field", "feld", "champ", "campo", "measured"}
)
"""Words that head a column of names of measures where they stand alone."""
_CLOCK_ALONE = frozenset({"at", "um", "alle", "om"})
"""Words that mean the time of day where they stand alone, and nothing beside others."""
_BARE = frozenset({"c", "f", "g", "s", "h", "w", "k", '"', "'"})
_BRACKETS = re.compile(r"[\[({]([^\])}]*)[\])}]")
_DEGREES = re.compile(r"(?:\bin\s+|\ben\s+)?(?:°|º|˚|\bdeg(?:rees?)?\.?\s?|\bgrad\s)\s?([CF])\b|\b([CF])°", re.IGNORECASE)
_PCT = re.compile(r"(?<![^\W_])pct(?![^\W_])", re.IGNORECASE)
_SCALE = re.compile(r"(-?\d{1,3})\s*(?:-|–|—|to|bis|à|a|\.\.+|…)\s*\+?(\d{1,3})(?!\d)")
_ENDS = re.compile(
    r"(-?\d)\s*[=:]?\s+[^\d,;]*[^\W\d_]{3,}[^\d,;]*?(?:-|–|to|bis|/|\.\.)\s*(\d{1,3})\s*[=:]?\s*[^\d]*[^\W\d_]{3,}[^\d]*"
)
_OUT_OF = re.compile(r"(?:/|out of|von|sur|de)\s*(\d{1,3})\s*$")


@dataclass(frozen=True, slots=True)
class Said:
    """What a heading says.

    Attributes
    ----------
    things
        What its words stand for (see `words.CONCEPTS`).
    order
        The same, in the order in which they come.
    numbers
        Whole numbers in it, as in "Stage 2" or "Core 1".
    rest
        Words that stand for nothing known, as they were written: a taster, a place, a dish.
    unit
        Canonical unit, empty where none is named.
    bare
        The single letter that `unit` was read from, which may also be a name ("Core C"); empty where it is plain.
    scale
        Lowest and highest mark where the heading states them.
    text
        The heading as it was written.
    """

    things: frozenset[str]
    order: tuple[str, ...]
    numbers: tuple[int, ...]
    rest: tuple[str, ...]
    unit: str
    bare: str
    scale: tuple[int, int] | None
    text: str


@lru_cache(maxsize=30_000)
def plain(text: str) -> str:
    """Lower case without accents."""
    text = text.replace("ß", "ss").replace("ø", "o").replace("æ", "ae").replace("œ", "oe").replace("Œ", "oe")
    decomposed = unicodedata.normalize("NFKD", text)
    return "".join(char for char in decomposed if not unicodedata.combining(char)).lower()


def unit_named(text: str) -> str:
    """Canonical unit of a unit's name, empty where it is none."""
    key = re.sub(r"\s+", "", text.strip().rstrip(".")).lower().replace("º", "°").replace("˚", "°")
    return _UNITS.get(key, "")


@lru_cache(maxsize=4096)
def things_of(word: str) -> frozenset[str]:
    """What one word (lower case, no accents) stands for: as it is, as a compound, or with one slip of the pen."""
    if word in _WORDS:
        return _WORDS[word]
    if word in FILLERS or len(word) < 4:
        return frozenset()
    parts = _compound(word)
    if parts is not None:
        return frozenset().union(*(_WORDS[part] for part in parts if part in _WORDS))
    begun = [known for known in _FUZZY if known.startswith(word)]
    if begun:
        return frozenset.intersection(*(_WORDS[known] for known in begun))
    near = difflib.get_close_matches(word, _FUZZY, n=1, cutoff=0.84) if len(word) >= 5 else []
    return _WORDS[near[0]] if near and near[0][0] == word[0] else frozenset()


_TAILS = frozenset(
    {"gehalt", "gebung", "grad", "wert", "werte", "gefuhl", "eindruck", "ton", "niveau", "index", "graad", "waarde"}
)
"""Ends of compounds that add nothing: "Saftgehalt" is the juice."""


def _compound(word: str) -> tuple[str, ...] | None:
    """Known words that make up `word` without a gap, longest first; joints 's' and 'n' are allowed."""
    if not word:
        return ()
    for part in _PARTS:
        if word.startswith(part):
            for joint in ("", "s", "n", "en"):
                tail = word[len(part) :]
                if tail in _TAILS:
                    return (part,)
                if tail.startswith(joint):
                    rest = _compound(tail[len(joint) :])
                    if rest is not None:
                        return (part, *rest)
    return None


@lru_cache(maxsize=4096)
def said(heading: str) -> Said:
    """Take one heading apart."""
    text = heading.replace("\n", " ")
    if plain(text).strip(" .:") in _ATTRIBUTE_ALONE:
        return Said(frozenset({"attribute"}), ("attribute",), (), (), "", "", None, heading)
    if plain(text).strip(" .:") in _CLOCK_ALONE:
        return Said(frozenset({"clock"}), ("clock",), (), (), "", "", None, heading)
    alone = unit_named(text.strip(" [](){}"))
    if alone:
        return Said(frozenset(), (), (), (text.strip(),) if len(text.strip()) == 1 else (), alone, text.strip(), None, heading)
    text = re.sub(r"^\s*(?:second|2nd)\s+(?=[^\W\d_]{3,})", "2 ", text, flags=re.IGNORECASE)
    text = re.sub(r"\bn\s?\.?\s?[°ºo](?![^\W_])\.?", " no ", text, flags=re.IGNORECASE)
    unit, scale, words = _from_brackets(re.sub(r"\bT°(?!\s?[CF]\b)", "temp ", text))
    found = _DEGREES.search(words)
    if found:
        unit = unit or f"°{(found[1] or found[2]).upper()}"
        words = _DEGREES.sub(" ", words)
    if scale is None:
        words, scale = _scale_outside(words)
    if "%" in words or _PCT.search(words):
        unit = unit or "%"
        words = _PCT.sub(" ", words.replace("%", " "))
    clock = next((name for name in ("h:mm:ss", "hh:mm:ss", "mm:ss", "m:ss", "min:sec", "hh:mm") if name in words.lower()), None)
    if clock:
        unit = unit or _UNITS[clock]
        words = re.sub(re.escape(clock), " ", words, flags=re.IGNORECASE)
    flow = re.search(r"\bm\s?/\s?s(?:ec)?\b", words)
    if flow:
        unit = unit or "m/s"
        words = words.replace(flow[0], " ")
    tokens = _tokens(words)
    bare = ""
    if not unit:
        tokens, unit, bare = _trailing_unit(tokens)
    return _read(tokens, unit, bare, scale, heading)


def _from_brackets(text: str) -> tuple[str, tuple[int, int] | None, str]:
    unit, scale, kept = "", None, []
    for content in _BRACKETS.findall(text):
        parts = [part for part in re.split(r"[,;]", content) if part.strip()]
        for part in parts:
            named = unit_named(re.sub(r"^\s*(?:in|en)\s+", "", part, flags=re.IGNORECASE))
            marks = _SCALE.fullmatch(part.strip()) or _SCALE.search(part)
            ends = _ENDS.fullmatch(part.strip())
            below = _OUT_OF.search(part.strip()) if part.strip().startswith(("/", "out", "von", "sur")) else None
            if named:
                unit = unit or named
            elif ends:
                scale = (int(ends[1]), int(ends[2]))
            elif below:
                scale = (1, int(below[1]))
            elif marks and not re.search(r"[a-z]{3,}", part.lower()):
                scale = (int(marks[1]), int(marks[2]))
            elif marks:
                scale = (int(marks[1]), int(marks[2]))
                kept.append(_SCALE.sub(" ", part))
            else:
                kept.append(part)
    return unit, scale, _BRACKETS.sub(" ", text) + " " + " ".join(kept)


def _scale_outside(words: str) -> tuple[str, tuple[int, int] | None]:
    found = _SCALE.search(words)
    if found and int(found[2]) in (5, 7, 9, 10, 100) and int(found[1]) in (0, 1):
        return _SCALE.sub(" ", words, count=1), (int(found[1]), int(found[2]))
    below = _OUT_OF.search(words.strip())
    if below and int(below[1]) in (5, 7, 9, 10, 100):
        return _OUT_OF.sub(" ", words.strip()), (1, int(below[1]))
    return words, None


def _tokens(words: str) -> list[str]:
    """Words and numbers as written; "coreTemp1" is three of them."""
    words = re.sub(r"\bkW\b", "kw", words)
    split = re.sub(r"(?<=[a-zäöüß])(?=[A-ZÄÖÜ])", " ", words)
    split = re.sub(r"\b(\d)(?:st|nd|rd|th|er|ere|e|ª|º)\b", r"\1", split, flags=re.IGNORECASE)
    return re.findall(r"[^\W\d_]{2,}\.(?!\w)|[^\W\d_]+|\d+|[#Øø⌀∑\"'µ/]", split)


def _trailing_unit(tokens: list[str]) -> tuple[list[str], str, str]:
    """A unit at the end, after 'in' or on its own; single letters are kept as doubtful. "g in" begins with one."""
    if len(tokens) >= 2 and tokens[0].lower() in {"g", "kg", "oz", "lb", "lbs"}:
        return tokens[1:], _UNITS[tokens[0].lower()], ""
    for index in range(len(tokens) - 1, 0, -1):
        word = tokens[index].lower()
        if word in _UNITS and not (word == "min" and not _timed(tokens[:index])):
            if tokens[index - 1].lower() in {"in", "en"}:
                return tokens[: index - 1] + tokens[index + 1 :], _UNITS[word], ""
            number_follows = all(token.isdecimal() for token in tokens[index + 1 :])
            if number_follows:
                return tokens[:index] + tokens[index + 1 :], _UNITS[word], tokens[index] if word in _BARE else ""
        elif not word.isdecimal():
            break
    return tokens, "", ""


def _timed(tokens: list[str]) -> bool:
    """Whether words before "min" make it minutes rather than a minimum."""
    return any(things_of(plain(token)) & _TIMED for token in tokens)


def _read(tokens: list[str], unit: str, bare: str, scale: tuple[int, int] | None, heading: str) -> Said:
    written = {plain(token): token.rstrip(".") for token in reversed(tokens)}
    line = " " + " ".join(_shortened(plain(token)) for token in tokens if token not in {'"', "'", "/"}) + " "
    for phrase, meaning in _PHRASES:
        line = line.replace(f" {phrase} ", f" {meaning} ")
    order: list[str] = []
    things: set[str] = set()
    numbers: list[int] = []
    rest: list[str] = []
    words = line.split()
    for index, word in enumerate(words):
        follows_number = index + 1 < len(words) and words[index + 1].isdecimal()
        if word.isdecimal():
            numbers.append(int(word[:6]))
            continue
        stands_for = frozenset({"stage"}) if word in {"s", "stg"} and follows_number else _thing(word)
        if not stands_for and (word not in FILLERS or (len(word) == 1 and word.isalpha())):
            rest.append(written.get(word, written.get(f"{word}.", word)))
        for thing in sorted(stands_for):
            if thing not in things:
                order.append(thing)
                things.add(thing)
    for ordinal, number in (("first", 1), ("second", 2), ("third", 3)):
        if ordinal in things:
            things.discard(ordinal)
            numbers.append(number)
    return Said(frozenset(things), tuple(order), tuple(numbers), tuple(rest), unit, bare, scale, heading)


def _shortened(word: str) -> str:
    """A word cut short with a point ("Saft.", "Br.") as the word it begins, where that is one thing only."""
    if not word.endswith("."):
        return word
    stem = word.rstrip(".")
    if things_of(stem) or stem in FILLERS:
        return stem
    begun = [known for known in _WORDS if known.startswith(stem)]
    shared = frozenset.intersection(*(_WORDS[known] for known in begun)) if begun else frozenset()
    return min(begun, key=len) if shared else stem


def _thing(word: str) -> frozenset[str]:
    if word in {"#", "n°", "nº"}:
        return frozenset({"id"})
    if word in {"ø", "⌀", "∑"}:
        return frozenset({"mean"})
    return things_of(word)
