"""The link of a cook sheet and what opens it.

A link carries the sheet's id and a signature: HMAC-SHA256, under a secret of that sheet alone, over its id and expiry. It opens
this sheet and no other, ends on its own, and dies at once when the sheet is withdrawn. The secret never leaves the store.
"""

from __future__ import annotations

import hashlib
import hmac
from datetime import datetime

from tuner.domain import NotFound
from tuner.store import KeptRecord, Reading, UnitOfWork

SHEET, OPENED, WITHDRAWN, COOKED, PHOTO = (
    "cook_sheet",
    "cook_sheet_opened",
    "cook_sheet_withdrawn",
    "cook_sheet_cook",
    "cook_sheet_photo",
)
"""Kinds of the records of a sheet: issued, opened, withdrawn, a cook and a photo that came back."""


def signature_of(kept: KeptRecord) -> str:
    """HMAC-SHA256 over id and expiry under the sheet's own secret, in hexadecimal."""
    text = f"{kept.id}|{kept.content['expires_at']}".encode()
    return hmac.new(bytes.fromhex(kept.content["secret"]), text, hashlib.sha256).hexdigest()


def sheet_record(reading: Reading | UnitOfWork, sheet_id: str) -> KeptRecord:
    """The row of a cook sheet.

    Raises
    ------
    NotFound
        If there is none of that id, or none this customer may see.
    """
    kept = reading.records.one(sheet_id)
    if kept.kind != SHEET:
        raise NotFound(f"No cook sheet has the id {sheet_id!r}. Check the link.")
    return kept


def signed_sheet(reading: Reading | UnitOfWork, sheet_id: str, signature: str) -> KeptRecord:
    """The row of a cook sheet whose signature was shown.

    Raises
    ------
    NotFound
        If there is no such sheet or the signature is not its own.
    """
    try:
        kept = sheet_record(reading, sheet_id)
    except NotFound:
        kept = None
    if kept is None or not hmac.compare_digest(signature_of(kept).encode(), signature.encode("utf-8", "replace")):
        raise NotFound("This link opens no cook sheet. Copy it whole, or ask for it again.")
    return kept


def withdrawal(reading: Reading | UnitOfWork, kept: KeptRecord) -> KeptRecord | None:
    """The row that withdraws a sheet, None while it holds."""
    return next(iter(reading.records.of_kind(WITHDRAWN, about=kept.id)), None)


def expiry(kept: KeptRecord) -> datetime:
    """When the link ends."""
    return datetime.fromisoformat(kept.content["expires_at"])
