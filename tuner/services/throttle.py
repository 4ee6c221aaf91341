"""Slowing down whoever tries passwords: after a few wrong ones a name must wait."""

from __future__ import annotations

from datetime import datetime, timedelta
from threading import Lock

from tuner.domain import NotAllowed

FREE_TRIES = 5
WAIT = timedelta(minutes=5)


class Throttle:
    """Wrong passwords by name, in this process."""

    def __init__(self) -> None:
        self._lock = Lock()
        self._wrong: dict[str, tuple[int, datetime]] = {}

    def check(self, name: str, now: datetime) -> None:
        """Refuse a name that was tried too often.

        Raises
        ------
        NotAllowed
            If the name has to wait.
        """
        with self._lock:
            count, last = self._wrong.get(name, (0, now))
        if count >= FREE_TRIES and now - last < WAIT:
            raise NotAllowed(
                f"The password of {name!r} was wrong {count} times. After {FREE_TRIES} wrong ones a name waits "
                f"{WAIT.seconds // 60} minutes. Try again then, or ask an administrator for a new password."
            )

    def note(self, name: str, *, right: bool, now: datetime) -> None:
        """Count a wrong password; a right one clears the name."""
        with self._lock:
            if right:
                self._wrong.pop(name, None)
            else:
                self._wrong[name] = (self._wrong.get(name, (0, now))[0] + 1, now)
