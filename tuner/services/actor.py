"""Who acts, and for whom."""

from __future__ import annotations

from dataclasses import dataclass

DEVELOPER = "developer"
APPROVER = "food-safety approver"


@dataclass(frozen=True, slots=True)
class Actor:
    """One person at work.

    Attributes
    ----------
    name
        As the person is called; kept in one place only, so that it can be forgotten there.
    customer
        None for the house, which sees every customer's work; a customer's own people see only theirs.
    role
        What the person may do; a limit below the default of a food class is taken from the `food-safety approver` alone.
    """

    name: str
    customer: str | None = None
    role: str = DEVELOPER

    @property
    def is_approver(self) -> bool:
        """Whether the person answers for food safety."""
        return self.role == APPROVER
