"""The exact text in which documents are kept and hashed: JSON with sorted keys, no spaces, numbers as Python writes them.

A database may reorder or rewrite a JSON column, and a hash over the result would no longer agree; text comes back as it went
in, on every database.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping, Sequence

from tuner.domain.model import Model

Plain = Mapping[str, "Plain"] | Sequence["Plain"] | str | float | int | bool | None
"""What JSON can hold."""


def canonical_text(value: Plain) -> str:
    """JSON text of plain values; equal values give equal text.

    Raises
    ------
    ValueError
        If a number is not finite.
    """
    return json.dumps(value, sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False)


def document_text(document: Model) -> str:
    """The text in which a document is kept: what was given, nothing added."""
    return canonical_text(document.model_dump(mode="json", exclude_unset=True))


def text_hash(text: str) -> str:
    """SHA-256 of a text, in hexadecimal."""
    return hashlib.sha256(text.encode("utf-8")).hexdigest()


def content_hash(content: Mapping[str, Plain]) -> str:
    """SHA-256 over the canonical text of several parts."""
    return text_hash(canonical_text(content))
