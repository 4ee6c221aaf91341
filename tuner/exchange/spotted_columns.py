"""A column with the field it most likely holds."""

from __future__ import annotations

from dataclasses import dataclass

from tuner.exchange.heading_words import Said

ATTRIBUTE_FIELDS = ("browning", "texture", "moisture", "other_score")


@dataclass(frozen=True, slots=True)
class Spotted:
    """A column with the field it most likely holds.

    Attributes
    ----------
    column
        Its place in the table, from 0.
    said
        What its heading says, groups included.
    field
        Name of the field; `ignore` where nothing fits.
    number, label
        Stage, place or taster, where it has one.
    weight
        How plainly the heading says so.
    others
        Fields that would fit as well, best first.
    """

    column: int
    said: Said
    field: str
    number: int | None
    label: str | None
    weight: float
    others: tuple[tuple[str, float], ...] = ()

    @property
    def other_names(self) -> tuple[str, ...]:
        """Names of the fields that would fit as well."""
        return tuple(name for name, _ in self.others)
