"""Turns pydantic's findings into sentences for a chef: what is wrong (field, value), the rule, what to do."""

from __future__ import annotations

import difflib
from typing import Any, get_args

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails, InitErrorDetails, PydanticCustomError

_NUMBER = {
    "float_type": "a number",
    "float_parsing": "a number",
    "int_type": "a whole number",
    "int_from_float": "a whole number",
    "int_parsing": "a whole number",
    "finite_number": "a finite number",
    "string_type": "text",
    "bool_type": "true or false",
    "tuple_type": "a list",
    "list_type": "a list",
    "dict_type": "an object with named fields",
    "mapping_type": "an object with named fields",
    "model_type": "an object with named fields",
    "model_attributes_type": "an object with named fields",
    "timezone_aware": "a time with its zone, like 2026-03-02T10:15:00Z",
    "datetime_type": "a time with its zone, like 2026-03-02T10:15:00Z",
    "datetime_from_date_parsing": "a time with its zone, like 2026-03-02T10:15:00Z",
    "datetime_parsing": "a time with its zone, like 2026-03-02T10:15:00Z",
}
_BOUND = {
    "greater_than_equal": ("ge", "at least"),
    "greater_than": ("gt", "more than"),
    "less_than_equal": ("le", "at most"),
    "less_than": ("lt", "less than"),
}
_UNITS = {
    "_g": "g",
    "_mm": "mm",
    "_c": "°C",
    "_s": "s",
    "_pct": "%",
    "_w": "W",
    "_m_s": "m/s",
    "_m": "m",
    "_w_m2k": "W/m²K",
}


def unit_of(field: str) -> str:
    """Unit that the name of a field carries, as a person writes it; empty where it has none."""
    for ending in sorted(_UNITS, key=len, reverse=True):
        if field.endswith(ending):
            return _UNITS[ending]
    return ""


def place_of(location: tuple[int | str, ...]) -> str:
    """Say where a value stands: `('stages', 1, 'share_pct')` is 'stage 2, share_pct'."""
    words: list[str] = []
    for step in location:
        if isinstance(step, int):
            group = words.pop() if words else "entry"
            words.append(f"{group.removesuffix('s')} {step + 1}")
        else:
            words.append(step)
    return ", ".join(words) or "the document"


def _shown(value: Any) -> str:
    text = repr(value) if isinstance(value, str) else str(value)
    return text if len(text) <= 60 else text[:57] + "..."


def _known_fields(model: type[BaseModel], location: tuple[int | str, ...]) -> list[str]:
    """Names the model at `location` knows, following optional and repeated models."""
    here: type[BaseModel] | None = model
    for step in location:
        if isinstance(step, int) or here is None:
            continue
        field = here.model_fields.get(step)
        here = _model_in(field.annotation) if field else None
    return sorted(here.model_fields) if here else []


def _model_in(annotation: Any) -> type[BaseModel] | None:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    return next((found for part in get_args(annotation) if (found := _model_in(part))), None)


def _sentence(error: ErrorDetails, model: type[BaseModel]) -> str:
    kind, context = error["type"], error.get("ctx") or {}
    location = error["loc"]
    field = str(location[-1]) if location else ""
    unit = unit_of(field) if field else ""
    unit = f" {unit}" if unit else ""
    found = f"is {_shown(error['input'])}"
    if kind == "missing":
        return f"is missing. This field is required. Add {field!r}."
    if kind == "extra_forbidden":
        known = _known_fields(model, location[:-1])
        near = difflib.get_close_matches(field, known, n=1)
        hint = f"Did you mean {near[0]!r}?" if near else f"Known fields: {', '.join(known)}."
        return f"is not a field that is known here. Unknown fields are refused, so that no typing error is lost. {hint}"
    if kind in _NUMBER:
        return f"{found}. It must be {_NUMBER[kind]}. Give {_NUMBER[kind]}{',' + unit if unit else ''}."
    if kind in _BOUND:
        key, words = _BOUND[kind]
        return f"{found}{unit}. It must be {words} {context[key]:g}{unit}. Check the value and its unit, and type it again."
    if kind == "literal_error":
        return f"{found}. It must be one of {context['expected']}. Choose one of these."
    if kind == "value_error":
        return f"{found}: {context['error']}." if not isinstance(error["input"], dict) else f"{context['error']}."
    if kind == "json_invalid":
        return f"is not JSON ({context['error']}). Check commas, brackets and quotes there."
    if kind in {"too_short", "string_too_short"}:
        return f"has too few entries. At least {context.get('min_length', 1)} must be given. Add what is missing."
    if kind in {"too_long", "string_too_long"}:
        return f"has too many entries. At most {context.get('max_length')} are allowed. Remove some."
    return f"{found}. {error['msg'].rstrip('.')}. Check the value and type it again."


def in_plain_words(error: ValidationError, model: type[BaseModel]) -> ValidationError:
    """The same findings at the same places, each worded for a person.

    Parameters
    ----------
    error
        What pydantic found.
    model
        The model that was being read; its fields are suggested for misspelt ones.
    """
    lines: list[InitErrorDetails] = []
    for found in error.errors(include_url=False):
        place = place_of(found["loc"])
        text = f"{place} {_sentence(found, model)}".replace("{", "(").replace("}", ")")
        kind = found["type"].replace("-", "_")
        lines.append(InitErrorDetails(type=PydanticCustomError(kind, text), loc=found["loc"], input=found["input"]))
    return ValidationError.from_exception_data(error.title, lines)


def problems_of(error: ValidationError) -> list[str]:
    """One sentence for each finding of an error raised by one of our models."""
    return [found["msg"] for found in error.errors(include_url=False, include_context=False, include_input=False)]
