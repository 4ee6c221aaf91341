"""The read-back word: another one after every single wrong digit."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tuner.domain import InvalidDocument
from tuner.domain.read_back import _ROOT, DIGITS, PRIME, _made_words, read_back_word


def test_the_weights_run_through_every_number_but_zero():
    found, value = set(), 1
    for _ in range(PRIME - 1):
        found.add(value)
        value = value * _ROOT % PRIME
    assert found == set(range(1, PRIME))
    assert all(PRIME % factor for factor in range(2, 64))


def test_every_checksum_has_a_word_of_its_own():
    words = _made_words()
    assert len(words) == len(set(words)) == PRIME
    assert all(len(word) == 4 and word.isalpha() and word.isascii() for word in words)


NUMBERS = st.lists(st.integers(0, 999999).map(lambda hundredths: hundredths / 100), min_size=1, max_size=32)


@settings(deadline=None, max_examples=60)
@given(NUMBERS)
def test_every_single_wrong_digit_gives_another_word(numbers: list[float]):
    word = read_back_word(numbers)
    for place, number in enumerate(numbers):
        digits = f"{round(number * 100):0{DIGITS}d}"
        for position in range(DIGITS):
            for other in "0123456789":
                if other == digits[position]:
                    continue
                wrong = int(digits[:position] + other + digits[position + 1 :]) / 100
                assert read_back_word([*numbers[:place], wrong, *numbers[place + 1 :]]) != word


@settings(deadline=None, max_examples=60)
@given(NUMBERS, st.data())
def test_two_numbers_that_changed_places_give_another_word(numbers: list[float], data: st.DataObject):
    """Two neighbouring digits swapped: their weights differ."""
    place = data.draw(st.integers(0, len(numbers) - 1))
    digits = f"{round(numbers[place] * 100):0{DIGITS}d}"
    position = data.draw(st.integers(0, DIGITS - 2))
    swapped = digits[:position] + digits[position + 1] + digits[position] + digits[position + 2 :]
    changed = [*numbers[:place], int(swapped) / 100, *numbers[place + 1 :]]
    assert (read_back_word(changed) == read_back_word(numbers)) == (swapped == digits)


@pytest.mark.parametrize("number", [-1, 10000, 0.001, 1234.567])
def test_numbers_no_keypad_takes_are_refused(number: float):
    with pytest.raises(InvalidDocument, match="can't be keyed in"):
        read_back_word([number])


def test_more_numbers_than_the_word_can_guard_are_refused():
    with pytest.raises(InvalidDocument, match="more than a read-back word can guard"):
        read_back_word([1.0] * (PRIME // DIGITS + 1))
