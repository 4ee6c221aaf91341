"""Evidence for an auditor as sections of facts and tables, before it is put on paper."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime


@dataclass(frozen=True, slots=True)
class Section:
    """A heading with facts (name, text) and, where there is one, a table; widths are shares of the page."""

    heading: str
    facts: tuple[tuple[str, str], ...] = ()
    columns: tuple[tuple[str, float], ...] = ()
    rows: tuple[tuple[str, ...], ...] = ()
    note: str = ""


@dataclass(frozen=True, slots=True)
class EvidencePack:
    """Everything an auditor asks about one release; `made_at`: its last change, so that one release gives one pack."""

    title: str
    made_at: datetime
    sections: tuple[Section, ...]
