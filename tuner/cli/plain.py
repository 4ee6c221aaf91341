"""Turns what services answer into plain JSON values."""

from __future__ import annotations

import dataclasses
import enum
from collections.abc import Mapping
from datetime import datetime
from typing import Any

from pydantic import BaseModel

from tuner.domain import Brief, Oven, Program, TestCook

_DOCUMENTS = (Brief, Oven, Program, TestCook)
"""Written back as they were read: what nobody gave is not filled in."""


def plain(value: Any) -> Any:
    """`value` as nothing but dicts, lists, text, numbers, true, false and null.

    Domain documents keep the JSON they came with; bytes and functions have no place in an answer.

    Raises
    ------
    TypeError
        If something has no JSON form.
    """
    if value is None or isinstance(value, bool | int | float | str):
        return value.value if isinstance(value, enum.Enum) else value
    if isinstance(value, datetime):
        return value.isoformat().replace("+00:00", "Z")
    if isinstance(value, BaseModel):
        return value.model_dump(mode="json", exclude_unset=isinstance(value, _DOCUMENTS))
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return {field.name: plain(getattr(value, field.name)) for field in dataclasses.fields(value)}
    if isinstance(value, Mapping):
        return {str(key): plain(entry) for key, entry in value.items()}
    if isinstance(value, list | tuple | set | frozenset):
        return [plain(entry) for entry in value]
    raise TypeError(f"{type(value).__name__} has no JSON form")
