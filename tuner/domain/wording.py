"""Turns pydantic's findings into sentences for a chef: what is wrong (field, value), the rule, what to do."""

from __future__ import annotations

import difflib
from types import NoneType, UnionType
from typing import Annotated, Any, Union, get_args, get_origin

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
    "string_unicode": "text, without half surrogate pairs",
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
    """Say where a value stands: `('stages', 1, 'share_pct')` is 'stage 2, share_pct', `('lots', 0)` is 'lots, entry 1'."""
    words: list[str] = []
    for index, step in enumerate(location):
        if not isinstance(step, int):
            words.append(step)
        elif index == len(location) - 1 or not words or unit_of(words[-1]):
            words.append(f"entry {step + 1}")
        else:
            words.append(f"{words.pop().removesuffix('s')} {step + 1}")
    return ", ".join(words) or "the document"


def _shown(value: Any) -> str:
    try:
        text = repr(value) if isinstance(value, str) else str(value)
    except (ValueError, RecursionError):  # thousands of digits, or thousands of nested lists
        return f"a {type(value).__name__} too large to show"
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
        return _wrong_kind(found, [_NUMBER[kind]], unit)
    if kind in _BOUND:
        key, words = _BOUND[kind]
        return f"{found}{unit}. It must be {words} {context[key]:g}{unit}. Check the value and its unit, and type it again."
    if kind == "literal_error":
        return f"{found}. It must be one of {context['expected']}. Choose one of these."
    if kind == "value_error":
        return f"{found}, which {context['error']}." if not isinstance(error["input"], dict) else f"{context['error']}."
    if kind == "json_invalid":
        return f"is not JSON ({context['error']}). Check commas, brackets and quotes there."
    if kind == "string_too_short":
        return f"{found}, which is too short. It must not be empty. Write it out, or leave the field out where it may be."
    if kind == "string_too_long":
        return f"{found}, which is too long. It must have at most {context['max_length']} characters. Shorten it."
    if kind == "too_short":
        return f"has too few entries. At least {context.get('min_length', 1)} must be given. Add what is missing."
    if kind == "too_long":
        return f"has too many entries. At most {context.get('max_length')} are allowed. Remove some."
    return f"{found}. {error['msg'].rstrip('.')}. Check the value and type it again."


def _wrong_kind(found: str, kinds: list[str], unit: str) -> str:
    wanted = " or ".join(dict.fromkeys(kinds))
    return f"{found}. It must be {wanted}. Give {wanted}{' in' + unit if unit and 'number' in wanted else ''}."


def in_plain_words(error: ValidationError, model: type[BaseModel]) -> ValidationError:
    """The same findings at the same places, each worded for a person.

    Where a field takes one of several kinds, the findings of all its kinds become one.

    Parameters
    ----------
    error
        What pydantic found.
    model
        The model that was being read; its fields are suggested for misspelt ones.
    """
    lines: list[InitErrorDetails] = []
    for location, found in _by_place(error, model).items():
        first = found[0]
        if len(found) > 1 and all(one["type"] in _NUMBER for one in found):
            unit = f" {unit_of(str(location[-1]))}".rstrip()
            sentence = _wrong_kind(f"is {_shown(first['input'])}", [_NUMBER[one["type"]] for one in found], unit)
        else:
            sentence = _sentence({**first, "loc": location}, model)
        # A finding about a whole document or one of its parts names its own field.
        about_whole = first["type"] == "value_error" and isinstance(first["input"], dict)
        before = f"{place_of(location)}{', ' if about_whole else ' '}" if location or not about_whole else ""
        kind = first["type"].replace("-", "_")
        problem = PydanticCustomError(kind, "{problem}", {"problem": before + sentence})
        lines.append(InitErrorDetails(type=problem, loc=location, input=first["input"]))
    return ValidationError.from_exception_data(error.title, lines)


def _by_place(error: ValidationError, model: type[BaseModel]) -> dict[tuple[int | str, ...], list[ErrorDetails]]:
    """Findings by where they are, without the names of kinds tried; of one value tried as several kinds, the deepest."""
    grouped: dict[tuple[int | str, ...], list[ErrorDetails]] = {}
    tried: set[tuple[int | str, ...]] = set()
    for found in error.errors(include_url=False):
        location, kinds_at = _without_kinds(found["loc"], model)
        tried.update(kinds_at)
        grouped.setdefault(location, []).append(found)
    return {
        location: found
        for location, found in grouped.items()
        if not (location in tried and any(other[: len(location)] == location and other != location for other in grouped))
    }


def _without_kinds(
    location: tuple[int | str, ...], model: type[BaseModel]
) -> tuple[tuple[int | str, ...], list[tuple[int | str, ...]]]:
    """Location without the names pydantic adds where a field takes several kinds, and the places where it did so."""
    kept: list[int | str] = []
    tried: list[tuple[int | str, ...]] = []
    here: Any = model
    for step in location:
        kinds = _kinds(here)
        if len(kinds) > 1:
            tried.append(tuple(kept))
            here = next((kind for kind in kinds if _names(str(step), kind)), None)
            continue
        kept.append(step)
        here = _inside(kinds[0] if kinds else None, step)
    return tuple(kept), tried


def _kinds(annotation: Any) -> list[Any]:
    """Kinds that an annotation allows, None left out."""
    origin = get_origin(annotation)
    if origin is Annotated:
        return _kinds(get_args(annotation)[0])
    if origin in {Union, UnionType}:
        return [kind for part in get_args(annotation) if part is not NoneType for kind in _kinds(part)]
    return [annotation]


def _names(step: str, kind: Any) -> bool:
    """Whether a step of a location is pydantic's name of a kind: `float`, `tuple[...]`, `function-after[_storable(), str]`."""
    name = getattr(get_origin(kind) or kind, "__name__", "")
    return step == name or step.startswith(f"{name}[") or step.endswith(f" {name}]")


def _inside(kind: Any, step: int | str) -> Any:
    """Annotation of what stands at `step` inside a value of some kind."""
    if isinstance(kind, type) and issubclass(kind, BaseModel):
        field = kind.model_fields.get(str(step))
        return field.annotation if field else None
    arguments = get_args(kind)
    return (arguments[0] if get_origin(kind) is tuple else arguments[-1]) if arguments else None


def problems_of(error: ValidationError) -> list[str]:
    """One sentence for each finding of an error raised by one of our models."""
    return [found["msg"] for found in error.errors(include_url=False, include_context=False, include_input=False)]
