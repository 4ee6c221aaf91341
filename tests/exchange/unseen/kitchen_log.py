"""One invented cook log: its bytes, and what a careful person in that kitchen would read from it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from typing import Any

OUNCE_G = 28.349523125
POUND_G = 453.59237

Facts = dict[str, Any]
"""What the log says of one cook, under the names of `facts`."""


def fahrenheit(*values: float) -> Any:
    """°C of °F; one value, or a list of several."""
    celsius = [(value - 32) / 1.8 for value in values]
    return celsius if len(celsius) > 1 else celsius[0]


def facts(
    *,
    air: float | None = None,
    s: float | None = None,
    st: str | None = None,
    m: float | None = None,
    out: float | None = None,
    start: float | None = None,
    core: Iterable[float] | None = None,
    rest: float | None = None,
    cov: bool | None = None,
    done: bool | None = None,
    sc: dict[str, str] | None = None,
    at: str | None = None,
    check: str | None = None,
    who: str | None = None,
    lot: str | None = None,
    load: int | None = None,
    note: str | None = None,
    purpose: str | None = None,
    serial: str | None = None,
    keyed: str | None = None,
    other: int | None = None,
) -> Facts:
    """Facts of one cook.

    Parameters
    ----------
    air, s, st
        Air temperature [°C], duration [s], stages as "share/air speed/microwave" in %, parted by spaces.
    m, out, start, core, rest, cov
        Mass in and out [g], start temperature [°C], readings [°C], rest [s], covered.
    done
        Completed; False for an interrupted cook.
    sc
        Marks by taster as "browning/texture/moisture", "-" for one not given; tasters without a name as "?1", "?2".
    at, check
        Local day, or day and time, of the cook and of the thermometer check.
    keyed
        Stages of the program keyed in, where it differs.
    other
        How many further marks there are.
    note
        Words that must come back in the note.
    """
    scores = None
    if sc is not None:
        scores = {taster: [None if mark == "-" else float(mark) for mark in marks.split("/")] for taster, marks in sc.items()}
    given = {
        "air": air, "duration": s, "stages": _stages(st), "keyed": _stages(keyed), "other": other, "mass_in": m, "mass_out": out, "start": start,
        "core": None if core is None else list(core), "rest": rest, "covered": cov, "completed": done, "scores": scores,
        "when": at, "check": check, "who": who, "lot": lot, "load": load, "note": note, "purpose": purpose, "serial": serial,
    }  # fmt: skip
    return {name: value for name, value in given.items() if value is not None}


def _stages(text: str | None) -> list[list[float]] | None:
    return None if text is None else [[float(part) for part in stage.split("/")] for stage in text.split()]


@dataclass(frozen=True)
class KitchenLog:
    """One log.

    Attributes
    ----------
    name
        What is odd about it.
    filename, data
        The file.
    truth
        What each cook holds, in order.
    must_ask
        Topics that the log leaves open: taking them without a question is a guess, even a lucky one.
    may_ask
        Topics that may be asked about or taken.
    free
        What the person would type where a question is free.
    refused
        Texts that stand in rows which are no cook that could be taken; such a row has to be listed.
    """

    name: str
    filename: str
    data: bytes
    truth: tuple[Facts, ...]
    must_ask: frozenset[str] = frozenset()
    may_ask: frozenset[str] = frozenset()
    free: tuple[str, ...] = ()
    refused: int = 0


@dataclass
class Shelf:
    """Collects the logs of one module."""

    logs: list[KitchenLog] = field(default_factory=list)

    def text(
        self,
        name: str,
        text: str,
        truth: list[Facts],
        *,
        encoding: str = "utf-8",
        filename: str = "log.csv",
        must: str = "",
        may: str = "",
        free: tuple[str, ...] = (),
        refused: int = 0,
    ) -> None:
        """Add a log kept as text; a leading line break is not part of it."""
        data = text.removeprefix("\n").encode(encoding)
        self.add(name, filename, data, truth, must=must, may=may, free=free, refused=refused)

    def add(
        self,
        name: str,
        filename: str,
        data: bytes,
        truth: list[Facts],
        *,
        must: str = "",
        may: str = "",
        free: tuple[str, ...] = (),
        refused: int = 0,
    ) -> None:
        """Add a log; `must` and `may` are topics parted by spaces."""
        self.logs.append(
            KitchenLog(name, filename, data, tuple(truth), frozenset(must.split()), frozenset(may.split()), free, refused)
        )

    def book(
        self,
        name: str,
        write: Callable[[Any], bytes | None],
        truth: list[Facts],
        *,
        filename: str = "log.xlsx",
        must: str = "",
        may: str = "",
        free: tuple[str, ...] = (),
        refused: int = 0,
    ) -> None:
        """Add a workbook that `write` fills; what it returns, if anything, replaces the saved bytes."""
        import io

        from openpyxl import Workbook

        book = Workbook()
        data = write(book)
        if data is None:
            out = io.BytesIO()
            book.save(out)
            data = out.getvalue()
        self.add(name, filename, data, truth, must=must, may=may, free=free, refused=refused)
