"""A bounded memo of past answers, keyed by the content of the arguments."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Hashable
from threading import Lock
from typing import Generic, TypeVar

Answer = TypeVar("Answer")


class Memo(Generic[Answer]):
    """Remembers the last `size` answers. An answer never depends on what is remembered: only its time does."""

    def __init__(self, size: int) -> None:
        self._size = size
        self._kept: OrderedDict[Hashable, Answer] = OrderedDict()
        self._lock = Lock()

    def get(self, key: Hashable, make: Callable[[], Answer]) -> Answer:
        """The answer kept under `key`, made now if it is not there."""
        with self._lock:
            if key in self._kept:
                self._kept.move_to_end(key)
                return self._kept[key]
        answer = make()
        with self._lock:
            self._kept[key] = answer
            while len(self._kept) > self._size:
                self._kept.popitem(last=False)
        return answer
