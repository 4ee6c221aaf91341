"""Everything that is kept as one JSON document, and back: the same state gives the same bytes."""

from __future__ import annotations

import json
from typing import Any

from pydantic import ValidationError

from tuner.domain import InvalidDocument, Snapshot
from tuner.domain.wording import problems_of
from tuner.exchange.bounds import MAX_JSON_BYTES, check_size


def write_json(snapshot: Snapshot) -> bytes:
    """The document: UTF-8, keys in the order of the models, one line feed at the end; no clock, no file names.

    Raises
    ------
    InvalidDocument
        If a remembered mapping holds something that is not text, number, list or object.
    """
    content = snapshot.model_dump(mode="json", exclude_unset=True)
    try:
        text = json.dumps(content, ensure_ascii=False, allow_nan=False, indent=1)
        return (text + "\n").encode("utf-8")
    except (ValueError, TypeError) as error:
        raise InvalidDocument(
            [f"The document can't be written as JSON ({error}). Remove that value from the mapping."]
        ) from error


def read_json(data: bytes) -> Snapshot:
    """Read what `write_json` wrote.

    Raises
    ------
    InvalidDocument
        If it is too large, is not JSON, holds a key twice or a number that is none, or is no snapshot: every problem with
        its place, the rule and what to do.
    """
    check_size(data, MAX_JSON_BYTES, "The export")
    content = _parsed(data)
    if isinstance(content, dict) and "format" not in content:
        raise InvalidDocument(["The document has no 'format'. Every export has it. Give a file that `export` wrote."])
    try:
        snapshot = Snapshot.model_validate(content)
    except ValidationError as error:
        raise InvalidDocument(problems_of(error)) from error
    write_json(snapshot)  # half a surrogate pair inside a mapping could be read but never written again
    return snapshot


def _parsed(data: bytes) -> Any:
    try:
        text = data.decode("utf-8-sig")
        return json.loads(text, object_pairs_hook=_each_key_once, parse_constant=_no_constant)
    except UnicodeDecodeError as error:
        raise InvalidDocument(
            [f"Byte {error.start + 1} is not UTF-8 text. An export is UTF-8. Export again and send the file unchanged."]
        ) from error
    except RecursionError as error:
        raise InvalidDocument(
            ["The document is nested too deeply to be an export. Give a file that `export` wrote."]
        ) from error
    except json.JSONDecodeError as error:
        raise InvalidDocument(
            [f"Line {error.lineno}, column {error.colno} is not JSON ({error.msg}). Give the file as it was exported."]
        ) from error
    except ValueError as error:
        raise InvalidDocument([f"The document is not a legal export: {error}."]) from error


def _each_key_once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    content = dict(pairs)
    if len(content) != len(pairs):
        keys = [key for key, _ in pairs]
        twice = next(key for key in keys if keys.count(key) > 1)
        raise ValueError(f"the key {twice!r} stands twice in one object. Each key may stand once. Remove one of the two")
    return content


def _no_constant(name: str) -> Any:
    raise ValueError(f"{name} is not a number. Numbers are finite. Leave the field out where nothing was measured")
