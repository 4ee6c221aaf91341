"""Which rows of cook logs went into a development before, so that the same row read with other answers adds no second cook."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from tuner.domain import TestCook
from tuner.services.actor import Actor
from tuner.services.loading import Loaded
from tuner.store import UnitOfWork, content_hash

if TYPE_CHECKING:
    from tuner.exchange import ImportedCook

_NOT_COMPARED = frozenset({"client_id", "history", "confirmed", "note", "photo", "purpose"})


@dataclass
class TakenRows:
    """Rows that went in before: `ids` from a row's or a number's mark to the id of its cook; `cooks` by that id."""

    shelf: str
    ids: dict[str, str]
    cooks: Mapping[str, TestCook]
    _new: dict[str, str] = field(default_factory=dict)

    def known_as(self, found: ImportedCook) -> str | None:
        """Id of the cook that this row became before; None where it is new.

        A row counts as the same by its cells, whatever was answered since; one whose cells were added to counts as the same
        by its number, as long as it contradicts nothing that is kept.
        """
        own = found.cook.client_id or ""
        if own in self.cooks:
            return own
        by_row = self.ids.get(found.row_mark, "")
        if by_row in self.cooks:
            return by_row
        by_number = self.ids.get(found.number_mark, "") if found.number_mark else ""
        kept = self.cooks.get(by_number)
        return by_number if kept is not None and agree(kept, found.cook) else None

    def take(self, found: ImportedCook, client_id: str) -> None:
        """Note that a row is this cook now."""
        for mark in (found.row_mark, found.number_mark):
            if mark and self.ids.get(mark) != client_id:
                self._new[mark] = client_id
                self.ids[mark] = client_id

    def keep(self, work: UnitOfWork, who: Actor) -> None:
        """Write down what came in anew."""
        if not self._new:
            return
        newest = work.mappings.newest(self.shelf)
        document = {"taken": dict(sorted(self.ids.items()))}
        client_id = content_hash({"mapping": document, "after": newest.stamp.sequence if newest else 0})
        work.mappings.remember(self.shelf, document, client_id=client_id, customer=who.customer)


def taken_rows(work: UnitOfWork, loaded: Loaded) -> TakenRows:
    """What went into a development from logs before."""
    shelf = f"taken rows of {loaded.development.id}"
    newest = work.mappings.newest(shelf)
    ids: dict[str, Any] = dict(newest.mapping).get("taken", {}) if newest is not None else {}
    cooks = {row.stamp.client_id: row.cook for row in loaded.rows}
    return TakenRows(shelf, {mark: str(client_id) for mark, client_id in ids.items()}, cooks)


def agree(kept: TestCook, read: TestCook) -> bool:
    """Whether two readings of one cook contradict each other nowhere: what only one of them tells is no contradiction."""
    first, second = (cook.model_dump(mode="json", exclude_none=True) for cook in (kept, read))
    shared = first.keys() & second.keys() - _NOT_COMPARED
    if "program" not in shared or not shared & {"mass_g", "core_temperature_c", "mass_out_g", "cooked_at"}:
        return False
    return all(_alike(first[name], second[name]) for name in shared if name != "scores")


def _alike(one: Any, other: Any) -> bool:
    if isinstance(one, int | float) and isinstance(other, int | float):
        return abs(one - other) <= 1e-6 * max(1.0, abs(one))
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(_alike(a, b) for a, b in zip(one, other, strict=True))
    if isinstance(one, dict) and isinstance(other, dict):
        return one.keys() == other.keys() and all(_alike(one[name], other[name]) for name in one)
    return bool(one == other)
