"""The base of all models: frozen, strict, and clear about what is wrong.

Numbers are strict (no text, no true/false), never NaN or infinite; text is storable everywhere (no NUL character, no half
surrogate pair); unknown fields are refused. `model_validate` raises `pydantic.ValidationError` whose messages name the
value, the rule and what to do.
"""

from __future__ import annotations

from datetime import datetime
from typing import Annotated, Any, Self

from pydantic import AfterValidator, AwareDatetime, BaseModel, BeforeValidator, ConfigDict, Strict, ValidationError

from tuner.domain.wording import in_plain_words


def _storable(text: str) -> str:
    if "\x00" in text:
        raise ValueError("holds a NUL character, which no database keeps; remove it")
    try:
        text.encode("utf-8")
    except UnicodeEncodeError as error:
        raise ValueError("holds half a surrogate pair, which is not text; type it again") from error
    return text


Number = Annotated[float, Strict()]
Whole = Annotated[int, Strict()]
Flag = Annotated[bool, Strict()]
Text = Annotated[str, Strict(), AfterValidator(_storable)]


def _written_time(value: object) -> object:
    """Refuse bare numbers, also as text, which would silently be read as seconds since 1970."""
    if not isinstance(value, str | datetime) or (isinstance(value, str) and "-" not in value[1:]):
        raise ValueError("is not a time. Write it with its zone, like 2026-03-02T10:15:00Z")
    return value


Instant = Annotated[AwareDatetime, BeforeValidator(_written_time)]


class Model(BaseModel):
    """Immutable document: valid, or not constructible."""

    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False, revalidate_instances="never")

    @classmethod
    def model_validate(cls, obj: Any, **options: Any) -> Self:
        """Read `obj`; problems are told as value, rule and what to do.

        Raises
        ------
        pydantic.ValidationError
            With one entry for each problem, in plain words.
        """
        try:
            return super().model_validate(obj, **options)
        except ValidationError as error:
            raise in_plain_words(error, cls) from None

    @classmethod
    def model_validate_json(cls, json_data: str | bytes | bytearray, **options: Any) -> Self:
        """Read JSON text; see `model_validate`.

        Raises
        ------
        pydantic.ValidationError
            With one entry for each problem, in plain words.
        """
        try:
            return super().model_validate_json(json_data, **options)
        except ValidationError as error:
            raise in_plain_words(error, cls) from None
