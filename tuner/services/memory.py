"""Answers remembered while the tool runs: bounded, shared by threads, each computed once however many ask at the same time."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable
from threading import Lock
from typing import Generic, TypeVar

Answer = TypeVar("Answer")


class Memory(Generic[Answer]):
    """Remembers the last `size` answers by the hash of what they were computed from.

    An answer never depends on what is remembered: only its time does. Nothing is locked while an answer is computed but its
    own key.
    """

    def __init__(self, size: int) -> None:
        self._size = size
        self._kept: OrderedDict[str, Answer] = OrderedDict()
        self._making: dict[str, Lock] = {}
        self._lock = Lock()

    def get(self, key: str, make: Callable[[], Answer]) -> Answer:
        """The answer kept under `key`; if there is none it is made now, and others who ask for it meanwhile wait for it."""
        with self._lock:
            if key in self._kept:
                self._kept.move_to_end(key)
                return self._kept[key]
            mine = self._making.setdefault(key, Lock())
        with mine:
            with self._lock:
                if key in self._kept:
                    return self._kept[key]
            try:
                answer = make()
                self._keep(key, answer)
            finally:
                with self._lock:
                    self._making.pop(key, None)
        return answer

    def _keep(self, key: str, answer: Answer) -> None:
        with self._lock:
            self._kept[key] = answer
            while len(self._kept) > self._size:
                self._kept.popitem(last=False)
