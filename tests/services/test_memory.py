"""Remembered answers: bounded, computed once however many ask."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from threading import Barrier, Event

import pytest

from tuner.services.memory import Memory


def test_an_answer_is_computed_once_for_many_who_ask_at_the_same_time():
    memory: Memory[int] = Memory(4)
    begun, go_on, made = Barrier(9), Event(), []

    def make() -> int:
        made.append(1)
        go_on.wait(10)
        return 7

    def ask(_: int) -> int:
        begun.wait(10)
        return memory.get("key", make)

    with ThreadPoolExecutor(8) as pool:
        asked = [pool.submit(ask, index) for index in range(8)]
        begun.wait(10)
        go_on.set()
        assert [one.result() for one in asked] == [7] * 8
    assert made == [1]


def test_what_is_being_computed_does_not_hold_up_other_keys():
    memory: Memory[str] = Memory(4)
    inside, go_on = Event(), Event()

    def slow() -> str:
        inside.set()
        go_on.wait(10)
        return "slow"

    with ThreadPoolExecutor(1) as pool:
        waiting = pool.submit(memory.get, "slow", slow)
        inside.wait(10)
        assert memory.get("quick", lambda: "quick") == "quick"
        go_on.set()
        assert waiting.result() == "slow"


def test_only_the_last_answers_are_remembered():
    memory: Memory[int] = Memory(2)
    made: list[str] = []

    def ask(key: str) -> None:
        memory.get(key, lambda: made.append(key) or len(made))

    for key in ("a", "b", "a", "c", "a", "b"):
        ask(key)
    assert made == ["a", "b", "c", "b"]


def test_an_error_is_not_remembered():
    memory: Memory[int] = Memory(2)

    def fail() -> int:
        raise ValueError("no")

    with pytest.raises(ValueError, match="no"):
        memory.get("key", fail)
    assert memory.get("key", lambda: 3) == 3
