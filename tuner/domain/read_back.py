"""The read-back word: a short made-up word that is another one after every single wrong digit in a keyed program.

The digits of all numbers, in fixed places, make a checksum modulo a prime p: sum of digit x weight, the weights distinct
powers of a primitive root. One wrong digit changes the sum by (d' - d) x weight, which is not 0 modulo p, because |d' - d| < 10
< p and no weight is 0: so the sum, and with it the word, is always another one. Two digits that changed places change it too,
because their weights differ. A word says nothing about which program it belongs to.
"""

from __future__ import annotations

from collections.abc import Sequence

from tuner.domain.errors import InvalidDocument

PRIME = 4079
_ROOT = 11
"""A primitive root modulo `PRIME`: its powers run through all 4078 numbers that are not 0 (tested)."""
_CONSONANTS = "bdfgjklmnprstvwz"
_VOWELS = "aeou"
_UNWANTED = frozenset(["pedo", "puta", "kaka", "popo", "pupu", "bobo", "teta", "dodo", "gaga", "mofo", "kuku"])
DIGITS = 6
"""Places of a number: four before the point, two behind it."""


def read_back_word(numbers: Sequence[float]) -> str:
    """Word for numbers as they are keyed in.

    Parameters
    ----------
    numbers
        In the order of the card: air temperature and duration, then share, air speed and microwave of every stage the oven
        holds, unused stages as zeros. In the units of the site, with at most two digits behind the point.

    Raises
    ------
    InvalidDocument
        If a number is negative, 10 000 or more, has more than two digits behind the point, or there are too many.
    """
    digits = "".join(_places(number) for number in numbers)
    if len(digits) >= PRIME - 1:
        raise InvalidDocument([f"{len(numbers)} numbers are more than a read-back word can guard. Use fewer stages."])
    total, weight = 0, 1
    for digit in digits:
        total = (total + int(digit) * weight) % PRIME
        weight = weight * _ROOT % PRIME
    return _WORDS[total]


def _places(number: float) -> str:
    hundredths = round(number * 100)
    if not 0 <= hundredths < 10**DIGITS or abs(hundredths - number * 100) > 1e-6:
        raise InvalidDocument(
            [f"{number:g} can't be keyed in. Numbers on a card lie from 0 to 9999.99. Take a step of the oven."]
        )
    return f"{hundredths:0{DIGITS}d}"


def _made_words() -> tuple[str, ...]:
    syllables = [consonant + vowel for consonant in _CONSONANTS for vowel in _VOWELS]
    words = [first + second for first in syllables for second in syllables]
    return tuple(word for word in words if word not in _UNWANTED)[:PRIME]


_WORDS = _made_words()
