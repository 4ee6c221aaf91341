"""Who acts, and for whom."""

from __future__ import annotations

from dataclasses import dataclass

from tuner.services.texts import LONGEST_NAME, checked_text

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
        What the person does now; a limit below the default of a food class is taken from the `food-safety approver` alone.
    account_id
        Account the person signed in to, None where nobody signed in. Use cases that need an account look it up again.

    Raises
    ------
    InvalidDocument
        If a name is empty, too long, or not text.
    """

    name: str
    customer: str | None = None
    role: str = DEVELOPER
    account_id: str | None = None

    def __post_init__(self) -> None:
        checked_text("name", self.name, LONGEST_NAME)
        checked_text("role", self.role, LONGEST_NAME)
        if self.customer is not None:
            checked_text("customer", self.customer, LONGEST_NAME)

    @property
    def is_approver(self) -> bool:
        """Whether the person answers for food safety."""
        return self.role == APPROVER
