"""People with an account: what they may do, and what their signature means."""

from __future__ import annotations

from typing import Literal, get_args

from pydantic import Field

from tuner.domain.model import Flag, Model, Text

Role = Literal[
    "developer",
    "food-safety approver",
    "customer approver",
    "reviewer",
    "site lead",
    "site cook",
    "administrator",
]

ROLES: tuple[Role, ...] = get_args(Role)
"""Every role, in the order of lists."""

MEANINGS: dict[Role, str] = {
    "developer": "I developed this recipe. What is recorded of it is complete and true, failed cooks included.",
    "food-safety approver": "I did not develop this recipe. I checked its critical limit and its proof, and approve both.",
    "customer approver": "I did not develop this recipe. For the customer I accept the dish as it is described here.",
}
"""What a signature in a role says; the other roles sign nothing."""


class Account(Model):
    """An account, without its secrets.

    Attributes
    ----------
    id
        Stays the same for ever; the name stands in one place of the store only.
    customer
        None for the house, which sees every customer's work.
    active
        False once the person has left.
    key_id
        Short name of the public key that checks this person's signatures.
    """

    id: Text = Field(min_length=1, max_length=100)
    name: Text = Field(min_length=1, max_length=200)
    customer: Text | None = Field(default=None, max_length=200)
    roles: tuple[Role, ...] = Field(min_length=1)
    active: Flag = True
    key_id: Text
    public_key: Text
