"""Short texts that come beside documents: names, reasons, client-made ids. Checked once, here."""

from __future__ import annotations

import uuid

from tuner.domain import InvalidDocument

LONGEST_ID = 100
LONGEST_NAME = 200
LONGEST_REASON = 2000


def checked_text(field: str, text: str, longest: int) -> str:
    """A text without blanks around it.

    Raises
    ------
    InvalidDocument
        If nothing is left, it is too long, or holds what no database keeps.
    """
    given = text.strip()
    if not 1 <= len(given) <= longest:
        shown = given if len(given) <= 40 else f"{given[:37]}..."
        raise InvalidDocument([f"{field} is {shown!r}, {len(given)} characters. It must have 1 to {longest}. Write it again."])
    if "\x00" in given or any("\ud800" <= letter <= "\udfff" for letter in given):
        raise InvalidDocument([f"{field} holds a character that is not text. Plain text is kept. Type it again."])
    return given


def given_or_made_id(client_id: str | None) -> str:
    """The client's id for a write, or a new one where the client made none.

    Raises
    ------
    InvalidDocument
        If it is empty, too long, or not text.
    """
    return str(uuid.uuid4()) if client_id is None else checked_text("client_id", client_id, LONGEST_ID)


def checked_reason(reason: str) -> str:
    """The reason of an action, kept with it.

    Raises
    ------
    InvalidDocument
        If it is missing, too long, or not text.
    """
    return checked_text("reason", reason, LONGEST_REASON)
