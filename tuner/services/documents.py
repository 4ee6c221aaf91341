"""Changing a frozen document: read anew, so that what comes out is as valid as what came in."""

from __future__ import annotations

from typing import Any, TypeVar

from pydantic import ValidationError

from tuner.domain import InvalidDocument
from tuner.domain.model import Model
from tuner.domain.wording import problems_of

ModelT = TypeVar("ModelT", bound=Model)


def changed(document: ModelT, **fields: Any) -> ModelT:
    """The document with other values in some fields.

    Raises
    ------
    InvalidDocument
        If the result is not legal.
    """
    try:
        return type(document).model_validate({**document.model_dump(exclude_unset=True), **fields})
    except ValidationError as error:
        raise InvalidDocument(problems_of(error)) from error
